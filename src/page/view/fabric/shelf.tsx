// The shelf: the fabrics that someone has, for all works. Pressed, one is used; typed, photographed or read from a list, they are put there.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { ShelfFabric } from '../../api.ts';
import { Snip } from '../parts/snip.tsx';
import { attempt, loadShelf } from '../store/actions.ts';
import { at, server } from '../store/server.ts';
import { now, put, usePart } from '../store/state.ts';

export function useShelf(): readonly ShelfFabric[] {
  const shelf = usePart((s) => s.shelf);
  useEffect(() => {
    if (!now().shelf) void loadShelf();
  }, []);
  return shelf ?? [];
}

export const snapshotOf = (f: ShelfFabric): string | undefined => (f.snapshot ? at.shelf(f.id) : undefined);

/** Several at once: snapshots, or a list of names and colors. Gives those that are new. */
async function shelve(files: readonly File[]): Promise<void> {
  for (const file of files) {
    const list = /\.(csv|txt|json|tsv)$/i.test(file.name);
    const shelf = await attempt(`looking at ${file.name}`, () =>
      list ? server.shelveList(file) : server.shelveSnapshot(file),
    );
    if (shelf) put({ shelf });
  }
}

export function ShelfPick(props: {
  readonly label: string;
  readonly used: readonly string[];
  readonly disabled?: boolean;
  readonly onPick: (f: ShelfFabric) => void;
}) {
  const shelf = useShelf();
  if (!shelf.length)
    return <p class="hint">Your shelf is empty. Fabrics that you put there are here for every project.</p>;
  return (
    <fieldset class="shelf-row">
      <legend>{props.label}</legend>
      {shelf.map((f) => (
        <button
          key={f.id}
          type="button"
          class="shelf-snip"
          title={f.name}
          aria-pressed={props.used.includes(f.name)}
          disabled={props.disabled ?? false}
          onClick={() => props.onPick(f)}
        >
          <Snip colour={f.colour} cloth={snapshotOf(f)} />
          <span>{f.name}</span>
        </button>
      ))}
    </fieldset>
  );
}

export function PutOnShelf({ onTyped }: { readonly onTyped?: (name: string, colour: string) => void }) {
  const chooser = useRef<HTMLInputElement>(null);
  const [name, setName] = useState('');
  const [colour, setColour] = useState('#8a6d4b');
  const type = async (e: Event): Promise<void> => {
    e.preventDefault();
    const typed = name.trim();
    if (!typed) return;
    const shelf = await attempt('putting it on the shelf', () => server.shelve([{ name: typed, colour }]));
    if (!shelf) return;
    put({ shelf });
    setName('');
    onTyped?.(typed, colour);
  };
  return (
    <>
      <form class="add-cloth" onSubmit={(e) => void type(e)}>
        <label class="field">
          <span>Name of a fabric</span>
          <input
            type="text"
            value={name}
            maxLength={60}
            autocomplete="off"
            onInput={(e) => setName(e.currentTarget.value)}
          />
        </label>
        <label class="field colour">
          <span>Color</span>
          <input type="color" value={colour} onInput={(e) => setColour(e.currentTarget.value)} />
        </label>
        <button type="submit" disabled={!name.trim()}>
          Add it
        </button>
      </form>
      <div class="button-row">
        <button type="button" onClick={() => chooser.current?.click()}>
          Add snapshots or a list
        </button>
        <input
          ref={chooser}
          class="visually-hidden"
          type="file"
          multiple
          tabIndex={-1}
          accept="image/*,.heic,.heif,.csv,.txt,.json"
          aria-label="Snapshots of fabric, or a list"
          onChange={(e) => {
            const files = [...(e.currentTarget.files ?? [])];
            e.currentTarget.value = '';
            void shelve(files);
          }}
        />
      </div>
      <p class="hint">
        Photograph each fabric in the same daylight, filling the snapshot. A list has one fabric per line: name, color
        (#a33b2e).
      </p>
    </>
  );
}

/** The whole shelf, on the first screen. */
export function ShelfSection() {
  const shelf = useShelf();
  const remove = async (f: ShelfFabric): Promise<void> => {
    const left = await attempt('taking it off the shelf', () => server.unshelve(f.id));
    if (left) put({ shelf: left });
  };
  return (
    <details class="shelf">
      <summary>
        <h2>My fabrics{shelf.length ? ` (${shelf.length})` : ''}</h2>
      </summary>
      {shelf.length > 0 && (
        <ul class="shelf-list">
          {shelf.map((f) => (
            <li key={f.id}>
              <Snip colour={f.colour} cloth={snapshotOf(f)} />
              <span>{f.name}</span>
              <button type="button" class="quiet" onClick={() => void remove(f)}>
                Remove<span class="visually-hidden"> {f.name}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      <PutOnShelf />
    </details>
  );
}
