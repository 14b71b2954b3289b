// What a hand holds, drawn over the block: the seam under it, the seam that it leads, the loop around pieces.
import type { Segment } from '../../../geometry/polygon.ts';
import type { Held } from './use-hold.ts';

const line = (s: Segment): string => `M${s[0].join(' ')}L${s[1].join(' ')}`;

export function HeldOnBlock({ held, hover }: { readonly held: Held | undefined; readonly hover: Segment | undefined }) {
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: for the eye; nothing in it takes the focus
    <g class="held" aria-hidden="true">
      {!held && hover && <path class="seam-under-hand" d={line(hover)} />}
      {held?.kind === 'seam' && (
        <>
          <path class="picked-ground" d={line(held.line)} />
          <path class={held.refusal ? 'refused-seam' : 'new-seam'} d={line(held.line)} />
        </>
      )}
      {held?.kind === 'loop' && <path class="loop" d={`M${held.points.map((p) => p.join(' ')).join('L')}Z`} />}
    </g>
  );
}
