// The line along which a piece is to be divided, drawn over the block with the pointer; its numbered points for the keyboard.
import { useRef } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import { distance, type Point } from '../../../geometry/polygon.ts';
import { byTwoFingers } from '../parts/zoom-gestures.ts';
import { factsOf } from '../store/facts.ts';
import { put, usePart } from '../store/state.ts';
import { placeOn } from './pointer-place.ts';
import { pointsOn } from './points-on.ts';

/** mm: a shorter line was no line but a tap */
const TAP = 1;

/** `width`: mm of the block that are shown */
export function DivideLine({ block, width }: { readonly block: Block; readonly width: number }) {
  const line = usePart((s) => s.line);
  const picked = usePart((s) => s.picked);
  const start = useRef<Point | undefined>(undefined);
  const piece = factsOf(block).find((f) => f.name === picked.at(-1));
  const svg = (e: PointerEvent): SVGSVGElement => (e.currentTarget as SVGElement).ownerSVGElement!;
  const down = (e: PointerEvent): void => {
    e.preventDefault();
    (e.currentTarget as SVGElement).setPointerCapture(e.pointerId);
    start.current = placeOn(svg(e), e);
  };
  const move = (e: PointerEvent): void => {
    if (byTwoFingers()) start.current = undefined;
    if (start.current) put({ line: [start.current, placeOn(svg(e), e)] });
  };
  const up = (e: PointerEvent): void => {
    const from = start.current;
    start.current = undefined;
    if (!from) return;
    const to = placeOn(svg(e), e);
    if (distance(from, to) < TAP) {
      // a tap picks the piece that is to be divided
      const name = document
        .elementsFromPoint(e.clientX, e.clientY)
        .map((el) => el.getAttribute('data-piece'))
        .find((n) => n !== null);
      if (name) put({ picked: [name], line: undefined });
    } else put({ line: [from, to] });
  };
  const [w, h] = block.size;
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: for the pointer; the keyboard has the numbered points
    <g class="divide" aria-hidden="true">
      {piece &&
        pointsOn(piece.piece.outline).map((p) => (
          <g key={p.number}>
            <circle class="divide-point" cx={p.at[0]} cy={p.at[1]} r={width / 90} stroke-width={width / 600} />
            <text
              class="divide-number"
              x={p.at[0]}
              y={p.at[1]}
              dy={-width / 50}
              font-size={width / 32}
              stroke-width={width / 220}
            >
              {p.number}
            </text>
          </g>
        ))}
      {line && (
        <>
          <path class="picked-ground" d={`M${line.map((q) => q.join(' ')).join('L')}`} />
          <path class="new-seam" d={`M${line.map((q) => q.join(' ')).join('L')}`} />
        </>
      )}
      <rect
        class="catch"
        width={w}
        height={h}
        onPointerDown={down}
        onPointerMove={move}
        onPointerUp={up}
        onPointerCancel={() => {
          start.current = undefined;
        }}
      />
    </g>
  );
}
