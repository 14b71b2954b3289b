// Whose fabrics? The picture's own colours, or fabrics from the shelf.
import type { Settings, ShelfFabric, Work, WorkCloth } from '../../api.ts';
import { PutOnShelf, ShelfPick } from '../fabric/shelf.tsx';
import { Snip } from '../parts/snip.tsx';
import { TickBox } from '../parts/tick-box.tsx';
import { attempt, set, settingsNow } from '../store/actions.ts';
import { at, server } from '../store/server.ts';
import { now } from '../store/state.ts';

export function WhoseFabrics({ work, settings }: { readonly work: Work; readonly settings: Settings }) {
  const { cloths } = settings;
  const add = (more: readonly WorkCloth[]): void => {
    const { cloths: all } = settingsNow(work, now().wanted);
    set({ cloths: [...all, ...more] });
  };
  const take = async (f: ShelfFabric): Promise<void> => {
    if (cloths.some((c) => c.name === f.name)) {
      set({ cloths: cloths.filter((c) => c.name !== f.name) });
      return;
    }
    const cloth = await attempt(`taking ${f.name}`, () => server.takeCloth(work.id, f.id));
    if (cloth) add([cloth]);
  };
  return (
    <>
      <p class="hint">
        With none chosen, the fabrics take the picture’s colors. Choose from your shelf, or put more on it.
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
                Remove<span class="visually-hidden"> {c.name}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      <ShelfPick label="From my shelf" used={cloths.map((c) => c.name)} onPick={(f) => void take(f)} />
      <PutOnShelf onTyped={(name, colour) => add([{ name, colour }])} />
      <TickBox checked={settings.again} onTick={(again) => set({ again })} disabled={cloths.length === 0}>
        One fabric may serve for several shades
      </TickBox>
    </>
  );
}
