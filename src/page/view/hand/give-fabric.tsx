// Another fabric for the pieces that are picked: one of the block's, one from the shelf, or any color at all.
import { useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import type { ShelfFabric, Work } from '../../api.ts';
import { ShelfPick } from '../fabric/shelf.tsx';
import { Snip } from '../parts/snip.tsx';
import { attempt, change, setLook } from '../store/actions.ts';
import { at, server } from '../store/server.ts';
import { usePart } from '../store/state.ts';

export function GiveFabric({ work, block }: { readonly work: Work; readonly block: Block }) {
  const picked = usePart((s) => s.picked);
  const [colour, setColour] = useState('#7a9a6d');
  const [name, setName] = useState('');
  const none = picked.length === 0;
  const fromShelf = async (f: ShelfFabric): Promise<void> => {
    const taken = f.snapshot
      ? await attempt(`taking ${f.name}`, () => server.takeCloth(work.id, f.id))
      : { name: f.name, colour: f.colour };
    if (!taken) return;
    const print = f.print ? { print: f.print } : {};
    const cloth = 'id' in taken && taken.id ? { cloth: taken.id } : {};
    const done = await change({ kind: 'paint', pieces: picked, name: f.name, colour: f.colour, ...print, ...cloth });
    if (done && f.snapshot) setLook({ cloth: true });
  };
  return (
    <>
      <fieldset class="fabric-row">
        <legend class="visually-hidden">Fabric for the picked pieces</legend>
        {block.fabrics.map((f) => {
          const cloth = work.shown[f.id];
          return (
            <button
              key={f.id}
              type="button"
              class="fabric-button"
              disabled={none}
              onClick={() => void change({ kind: 'fabric', pieces: picked, fabric: f.id })}
            >
              <Snip colour={f.colour} cloth={cloth && at.cloth(work.id, cloth)} />
              {f.name}
            </button>
          );
        })}
      </fieldset>
      <ShelfPick
        label="From my shelf"
        used={block.fabrics.map((f) => f.name)}
        disabled={none}
        onPick={(f) => void fromShelf(f)}
      />
      <form
        class="add-cloth"
        onSubmit={(e) => {
          e.preventDefault();
          const called = name.trim() || 'new color';
          void change({ kind: 'paint', pieces: picked, name: called, colour });
          setName('');
        }}
      >
        <label class="field colour">
          <span>Any color</span>
          <input type="color" value={colour} onInput={(e) => setColour(e.currentTarget.value)} />
        </label>
        <label class="field">
          <span>Called</span>
          <input
            type="text"
            value={name}
            maxLength={60}
            placeholder="new color"
            autocomplete="off"
            onInput={(e) => setName(e.currentTarget.value)}
          />
        </label>
        <button type="submit" disabled={none}>
          Use it
        </button>
      </form>
    </>
  );
}
