// So that the finished size on the screen is true: a card of known width is held against the screen.

import { Slider } from '../parts/slider.tsx';
import { setLook } from '../store/actions.ts';
import { usePart } from '../store/state.ts';

/** mm: a bank or library card, ISO/IEC 7810 ID-1 */
const CARD: readonly [number, number] = [85.6, 53.98];

export function CardMeasure() {
  const pixelsPerMm = usePart((s) => s.look.pixelsPerMm);
  return (
    <details class="card-measure">
      <summary>Not as large as it should be? Measure with a card</summary>
      <p>Hold a bank or library card against this outline, and slide until the two are equally wide.</p>
      <svg
        class="card-outline"
        viewBox={`0 0 ${CARD[0]} ${CARD[1]}`}
        style={{ width: `${CARD[0] * pixelsPerMm}px`, height: `${CARD[1] * pixelsPerMm}px` }}
        aria-hidden="true"
      >
        <rect x="0.3" y="0.3" width={CARD[0] - 0.6} height={CARD[1] - 0.6} rx="3.18" />
      </svg>
      <Slider
        label="Width of the outline"
        min={2}
        max={10}
        step={0.02}
        value={pixelsPerMm}
        says={`${Math.round(CARD[0] * pixelsPerMm)} dots`}
        onSlide={(v) => setLook({ pixelsPerMm: v })}
      />
    </details>
  );
}
