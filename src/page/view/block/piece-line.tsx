// What is said of the piece under the pointer or the keyboard; of the one that is picked while nothing is.

import type { Block } from '../../../block.ts';
import { formatLength, type System } from '../../../units.ts';
import type { Work } from '../../api.ts';
import { Snip } from '../parts/snip.tsx';
import { wholeMeasures } from '../parts/whole-measures.ts';
import { workAddress } from '../store/address.ts';
import { factsOf, ordinal } from '../store/facts.ts';
import { at as address } from '../store/server.ts';
import { usePart } from '../store/state.ts';

export function PieceLine(props: { readonly work: Work; readonly block: Block; readonly units: System }) {
  const name = usePart((s) => s.at ?? s.picked.at(-1));
  const task = usePart((s) => (s.address.screen === 'work' ? s.address.task : undefined));
  const picked = usePart((s) => s.picked.length);
  const f = factsOf(props.block).find((p) => p.name === name);
  if (!f)
    return (
      <div class="piece-line idle">
        <p>Press a piece to see its number, its fabric and how wide it is.</p>
      </div>
    );
  const cloth = props.work.shown[f.fabric.id];
  return (
    <div class="piece-line">
      <Snip colour={f.fabric.colour} cloth={cloth && address.cloth(props.work.id, cloth)} />
      <p>
        <strong>{f.name}</strong> {f.fabric.name} ({f.fabric.code}), {wholeMeasures(formatLength(f.width, props.units))}{' '}
        wide
        <br />
        {f.section.pieces.length === 1
          ? `the only piece of section ${f.section.id}: cut to this shape`
          : `sewn ${ordinal(f.piece.number)} of ${f.section.pieces.length} in section ${f.section.id}`}
        {f.seam === undefined ? '' : `, seam ${wholeMeasures(formatLength(f.seam, props.units))}`}
      </p>
      {picked > 0 && task === 'picture' && (
        <a class="button" href={workAddress(props.work.id, 'hand')}>
          Change it
        </a>
      )}
    </div>
  );
}
