// Whose fabrics? The picture's own colours, or the cloth on the shelf: named by hand or photographed.
import { useRef, useState } from 'preact/hooks';
import type { Settings, Work, WorkCloth } from '../../api.ts';
import { Snip } from '../parts/snip.tsx';
import { TickBox } from '../parts/tick-box.tsx';
import { attempt, set, settingsNow } from '../store/actions.ts';
import { at, server } from '../store/server.ts';
import { now } from '../store/state.ts';

export function WhoseFabrics({ work, settings }: { readonly work: Work; readonly settings: Settings }) {
  const { cloths } = settings;
  const chooser = useRef<HTMLInputElement>(null);
  const [name, setName] = useState('');
  const [colour, setColour] = useState('#8a6d4b');
  const add = (more: readonly WorkCloth[]): void => {
    const { cloths: all } = settingsNow(work, now().wanted);
    set({ cloths: [...all, ...more] });
  };
  const bring = async (files: readonly File[]): Promise<void> => {
    for (const file of files) {
      const cloth = await attempt(`looking at ${file.name}`, () => server.cloth(work.id, file));
      if (cloth) add([cloth]);
    }
  };
  return (
    <>
      <p class="hint">
        With none here, the fabrics take the picture’s colours. Photograph your own in the same daylight, one filling
        each snapshot, or write them down.
      </p>
      {cloths.length > 0 && (
        <ul class="cloths">
          {cloths.map((c, i) => (
            <li key={i}>
              <Snip colour={c.colour} cloth={c.id && at.cloth(work.id, c.id)} />
              <span class="cloth-name">{c.name}</span>
              <label class="inline">
                <span class="visually-hidden">Print of {c.name}</span>
                <select
                  value={c.print ?? ''}
                  onChange={(e) => {
                    const { print: _, ...rest } = c;
                    const print = e.currentTarget.value as '' | NonNullable<WorkCloth['print']>;
                    set({ cloths: cloths.map((k, n) => (n === i ? (print ? { ...rest, print } : rest) : k)) });
                  }}
                >
                  <option value="">any way up</option>
                  <option value="directional">directional</option>
                  <option value="large">large print</option>
                </select>
              </label>
              <button type="button" class="quiet" onClick={() => set({ cloths: cloths.filter((_, n) => n !== i) })}>
                Take away<span class="visually-hidden"> {c.name}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      <div class="button-row">
        <button type="button" onClick={() => chooser.current?.click()}>
          Add snapshots of cloth
        </button>
        <input
          ref={chooser}
          class="visually-hidden"
          type="file"
          multiple
          tabIndex={-1}
          accept="image/*,.heic,.heif"
          aria-label="Snapshots of cloth"
          onChange={(e) => {
            const files = [...(e.currentTarget.files ?? [])];
            e.currentTarget.value = '';
            void bring(files);
          }}
        />
      </div>
      <form
        class="add-cloth"
        onSubmit={(e) => {
          e.preventDefault();
          if (!name.trim()) return;
          add([{ name: name.trim(), colour }]);
          setName('');
        }}
      >
        <label class="field">
          <span>Name of a fabric</span>
          <input type="text" value={name} autocomplete="off" onInput={(e) => setName(e.currentTarget.value)} />
        </label>
        <label class="field colour">
          <span>Colour</span>
          <input type="color" value={colour} onInput={(e) => setColour(e.currentTarget.value)} />
        </label>
        <button type="submit" disabled={!name.trim()}>
          Add it
        </button>
      </form>
      <TickBox checked={settings.again} onTick={(again) => set({ again })} disabled={cloths.length === 0}>
        One fabric may serve for several shades
      </TickBox>
    </>
  );
}
