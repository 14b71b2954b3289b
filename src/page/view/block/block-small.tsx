// A block in small, for looking only.
import type { Block } from '../../../block.ts';
import { factsOf } from '../store/facts.ts';
import { ring } from './piece-list.tsx';

export function BlockSmall(props: {
  readonly block: Block;
  readonly label?: string;
  readonly lit?: readonly string[];
}) {
  const { block, lit } = props;
  const [w, h] = block.size;
  return (
    // biome-ignore lint/a11y/noSvgWithoutTitle: named by its label, or for the eye alone
    <svg
      class="block-small"
      viewBox={`0 0 ${w} ${h}`}
      {...(props.label ? { role: 'img', 'aria-label': props.label } : { 'aria-hidden': 'true' })}
    >
      {factsOf(block).map((f) => (
        <path
          key={f.name}
          d={ring(f.piece.outline)}
          fill={f.fabric.colour}
          stroke={f.fabric.colour}
          class={lit && !lit.includes(f.section.id) ? 'dim' : undefined}
        />
      ))}
      {lit &&
        block.sections
          .filter((s) => lit.includes(s.id))
          .map((s) => <path key={s.id} class="outline-only" d={ring(s.outline)} />)}
    </svg>
  );
}
