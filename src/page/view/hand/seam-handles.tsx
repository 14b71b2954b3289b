// Handles on the seam that was chosen: its middle moves it, its end tilts it. Dragged, they are held like any seam (use-hold.ts); arrow
// keys do the same.
import type { Block } from '../../../block.ts';
import type { Point } from '../../../geometry/polygon.ts';
import { change } from '../store/actions.ts';
import { usePart } from '../store/state.ts';
import { seamOf } from './seam-of.ts';

/** mm and degrees of a step of the keys; with Shift of a finer one */
const STEP = 25.4 / 16;
const FINE = 25.4 / 64;
const DEGREES = 1;
const FINE_DEGREES = 0.25;

/** `width`: mm of the block that are shown */
export function SeamHandles({ block, width }: { readonly block: Block; readonly width: number }) {
  const target = usePart((s) => s.seam);
  const seam = target === undefined ? undefined : seamOf(block, target);
  if (!seam) return null;
  const [a, b] = seam.seam;
  const keys = (kind: 'move' | 'swing') => (e: KeyboardEvent) => {
    const way = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1 }[e.key];
    if (!way) return;
    e.preventDefault();
    if (kind === 'move') void change({ kind: 'move', seam: seam.target, by: way * (e.shiftKey ? FINE : STEP) });
    else void change({ kind: 'swing', seam: seam.target, degrees: way * (e.shiftKey ? FINE_DEGREES : DEGREES) });
  };
  const what = /^\d/.test(seam.target) ? `join ${seam.target}` : `the seam of ${seam.target}`;
  const handle = (kind: 'move' | 'swing', at: Point, label: string) => (
    // biome-ignore lint/a11y/useSemanticElements: there is no button element inside a drawing
    <circle
      class="seam-handle"
      role="button"
      tabindex={0}
      aria-label={`${label} ${what}; arrow keys, with Shift finer`}
      data-grip={kind === 'move' ? 'middle' : 'end'}
      cx={at[0]}
      cy={at[1]}
      r={kind === 'move' ? width / 36 : width / 46}
      stroke-width={width / 300}
      onKeyDown={keys(kind)}
    />
  );
  return (
    <g class="seam-handles">
      <path class="picked-ground" d={`M${a.join(' ')}L${b.join(' ')}`} />
      <path class="new-seam" d={`M${a.join(' ')}L${b.join(' ')}`} />
      {handle('swing', b, 'Tilt')}
      {handle('move', seam.middle, 'Move')}
    </g>
  );
}
