// What can be changed by hand: of the pieces that are picked, of their shape, of the sections, of a whole shade.
import type { Work } from '../../api.ts';
import { Question } from '../parts/question.tsx';
import { TickBox } from '../parts/tick-box.tsx';
import { put, usePart } from '../store/state.ts';
import { DividePiece } from './divide-piece.tsx';
import { GiveFabric } from './give-fabric.tsx';
import { MergePieces } from './merge-pieces.tsx';
import { MoveSeam } from './move-seam.tsx';
import { SectionChanges } from './section-changes.tsx';
import { WholeShades } from './whole-shades.tsx';

export function HandPanel({ work }: { readonly work: Work }) {
  const picked = usePart((s) => s.picked);
  const several = usePart((s) => s.several);
  const { block } = work;
  if (!block) return null;
  return (
    <section class="questions" aria-label="Changes">
      <div class="picked-line">
        <p role="status">
          {picked.length === 0
            ? 'Press a piece to change it, or drag a box around several. Drag a seam to move it.'
            : picked.length === 1
              ? `Picked: ${picked[0]}`
              : `${picked.length} pieces picked: ${picked.join(', ')}`}
        </p>
        {picked.length > 0 && (
          <button type="button" onClick={() => put({ picked: [], line: undefined })}>
            Clear selection
          </button>
        )}
        <TickBox checked={several} onTick={(on) => put({ several: on })}>
          Pick several (or hold Shift)
        </TickBox>
      </div>
      <Question asks="Another fabric for these pieces">
        <GiveFabric work={work} block={block} />
      </Question>
      <Question asks="Another shape">
        <MergePieces block={block} />
        <DividePiece block={block} />
        <MoveSeam block={block} work={work} />
      </Question>
      <Question asks="Combine or split sections" open={false}>
        <SectionChanges block={block} />
      </Question>
      <Question asks="Change a fabric everywhere">
        <WholeShades work={work} block={block} />
      </Question>
    </section>
  );
}
