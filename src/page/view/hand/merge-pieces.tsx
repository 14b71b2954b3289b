// Two pieces that share an edge made one.
import type { Block } from '../../../block.ts';
import { change } from '../store/actions.ts';
import { usePart } from '../store/state.ts';

export function MergePieces(_: { readonly block: Block }) {
  const picked = usePart((s) => s.picked);
  const [first, second] = picked;
  const two = picked.length === 2 && first !== undefined && second !== undefined;
  return (
    <div class="change">
      <button type="button" disabled={!two} onClick={() => two && void change({ kind: 'merge', first, second })}>
        {two ? `Make ${first} and ${second} one piece` : 'Make two pieces one'}
      </button>
      {!two && <p class="hint">Pick the two that are to become one; the first gives its fabric.</p>}
    </div>
  );
}
