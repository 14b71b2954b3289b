// While an eye or the nose is being placed: a tap on the picture says where, or a mark that the arrow keys move and Enter sets down.
import { useEffect, useRef, useState } from 'preact/hooks';
import { arrowStep } from './drag.ts';
import type { Part } from './face-now.ts';

const percent = (v: number): string => `${v * 100}%`;
const within = (v: number): number => Math.max(0, Math.min(1, v));

export function PlacePart(props: {
  readonly part: Part;
  /** where the mark begins, in shares of the picture */
  readonly from: readonly [number, number];
  readonly onPlace: (x: number, y: number) => void;
  readonly onCancel: () => void;
}) {
  const [[x, y], setPlace] = useState(props.from);
  const layer = useRef<HTMLButtonElement>(null);
  useEffect(() => layer.current?.focus(), [props.part]);
  return (
    <button
      ref={layer}
      type="button"
      class="place-part"
      aria-label={`New ${props.part}: move it with the arrow keys, set it down with Enter`}
      aria-describedby="frame-keys"
      // its tap is no press of the frame underneath
      onPointerDown={(e) => e.stopPropagation()}
      onClick={(e) => {
        const { left, top, width, height } = e.currentTarget.getBoundingClientRect();
        // a keyboard's press has no place
        if (e.detail) props.onPlace(within((e.clientX - left) / width), within((e.clientY - top) / height));
        else props.onPlace(x, y);
      }}
      onKeyDown={(e) => {
        const by = arrowStep(e);
        if (by) setPlace([within(x + by[0]), within(y + by[1])]);
        else if (e.key === 'Escape') props.onCancel();
        else return;
        e.preventDefault();
      }}
    >
      <span class={`face-part new ${props.part}`} style={{ left: percent(x), top: percent(y) }} />
    </button>
  );
}
