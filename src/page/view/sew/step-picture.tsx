// A step as a picture: what is sewn by then, the newest piece in its full colour with its seam bold. From the front, or from the
// paper side, which is the other way round.
import type { Block } from '../../../block.ts';
import { boundsOf } from '../../../geometry/polygon.ts';
import { turnLeftRight } from '../../../template/printed-side.ts';
import { ring } from '../block/piece-list.tsx';
import { inkOn } from '../store/colours.ts';
import { factsOf } from '../store/facts.ts';
import type { SewingStep } from './sewing-steps.ts';

export type Side = 'front' | 'paper';

const turned = new WeakMap<Block, Block>();
function seenFrom(block: Block, side: Side): Block {
  if (side === 'front') return block;
  const known = turned.get(block) ?? turnLeftRight(block);
  turned.set(block, known);
  return known;
}

export function StepPicture(props: { readonly block: Block; readonly step: SewingStep; readonly side: Side }) {
  const { step, side } = props;
  const block = seenFrom(props.block, side);
  const facts = factsOf(block);
  const ids = step.kind === 'join' ? [...step.join.left, ...step.join.right] : [step.section.id];
  const sections = block.sections.filter((s) => ids.includes(s.id));
  const b = boundsOf(sections.flatMap((s) => s.outline));
  const room = Math.max(b.maxX - b.minX, b.maxY - b.minY);
  const edge = room * 0.04;
  const newest = step.kind === 'piece' ? step.index + 1 : undefined;
  const shown = facts.filter((f) => ids.includes(f.section.id) && (newest === undefined || f.piece.number <= newest));
  const later = newest === undefined ? [] : facts.filter((f) => ids.includes(f.section.id) && f.piece.number > newest);
  const join = step.kind === 'join' ? block.joins.find((j) => j.number === step.join.number) : undefined;
  const seam = join?.seam ?? shown.find((f) => f.piece.number === newest)?.piece.seam;
  return (
    <svg
      class={`step-picture ${side}`}
      viewBox={`${b.minX - edge} ${b.minY - edge} ${b.maxX - b.minX + 2 * edge} ${b.maxY - b.minY + 2 * edge}`}
      role="img"
      aria-label={side === 'front' ? 'Seen from the front' : 'Seen from the paper side'}
    >
      {sections.map((s) => (
        <path key={s.id} class="paper-shape" d={ring(s.outline)} />
      ))}
      {shown.map((f) => (
        <path
          key={f.name}
          d={ring(f.piece.outline)}
          class={newest !== undefined && f.piece.number < newest ? 'sewn' : 'newest'}
          fill={side === 'paper' ? 'none' : f.fabric.colour}
        />
      ))}
      {later.map((f) => (
        <path key={f.name} class="not-yet" d={ring(f.piece.outline)} />
      ))}
      {step.kind !== 'join' &&
        [...shown, ...later].map((f) => (
          <text
            key={f.name}
            class={f.piece.number === newest ? 'piece-number strong' : 'piece-number'}
            x={f.middle[0]}
            y={f.middle[1]}
            font-size={Math.min(room / 11, Math.max(room / 26, f.width * 0.5))}
            {...(side === 'paper' || later.includes(f) ? { 'data-on': 'paper' } : { fill: inkOn(f.fabric.colour) })}
          >
            {f.piece.number}
          </text>
        ))}
      {join &&
        sections.map((s) => {
          const at = boundsOf(s.outline);
          return (
            <g key={s.id}>
              <path class="section-edge" d={ring(s.outline)} />
              <text
                class="section-letter"
                x={(at.minX + at.maxX) / 2}
                y={(at.minY + at.maxY) / 2}
                font-size={room / 14}
              >
                {s.id}
              </text>
            </g>
          );
        })}
      {seam && <path class="bold-seam" stroke-width={room / 70} d={`M${seam.map((q) => q.join(' ')).join('L')}`} />}
    </svg>
  );
}
