// Another fabric for the pieces that are picked.

import type { Block } from '../../../block.ts';
import type { Work } from '../../api.ts';
import { Snip } from '../parts/snip.tsx';
import { change } from '../store/actions.ts';
import { at } from '../store/server.ts';
import { usePart } from '../store/state.ts';

export function GiveFabric({ work, block }: { readonly work: Work; readonly block: Block }) {
  const picked = usePart((s) => s.picked);
  return (
    <fieldset class="fabric-row">
      <legend class="visually-hidden">Fabric for the picked pieces</legend>
      {block.fabrics.map((f) => {
        const cloth = work.shown[f.id];
        return (
          <button
            key={f.id}
            type="button"
            class="fabric-button"
            disabled={picked.length === 0}
            onClick={() => void change({ kind: 'fabric', pieces: picked, fabric: f.id })}
          >
            <Snip colour={f.colour} cloth={cloth && at.cloth(work.id, cloth)} />
            {f.name}
          </button>
        );
      })}
    </fieldset>
  );
}
