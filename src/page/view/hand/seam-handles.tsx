// Handles on a seam: its middle moves it, its ends swing it. Arrow keys do the same.
import { useRef, useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import type { Point } from '../../../geometry/polygon.ts';
import { change } from '../store/actions.ts';
import { usePart } from '../store/state.ts';
import { placeOn } from './pointer-place.ts';
import { type MovableSeam, movedSeam, seamOf } from './seam-of.ts';

/** mm and degrees of a step of the keys; with Shift of a finer one */
const STEP = 25.4 / 16;
const FINE = 25.4 / 64;
const DEGREES = 1;
const FINE_DEGREES = 0.25;
/** mm, degrees: less is a tap */
const TAP = 0.1;

/** `width`: mm of the block that are shown */
export function SeamHandles({ block, width }: { readonly block: Block; readonly width: number }) {
  const target = usePart((s) => s.seam);
  const seam = target === undefined ? undefined : seamOf(block, target);
  return seam ? <Handles key={target} seam={seam} width={width} /> : null;
}

function Handles({ seam, width }: { readonly seam: MovableSeam; readonly width: number }) {
  const [by, setBy] = useState(0);
  const [degrees, setDegrees] = useState(0);
  const held = useRef<{ readonly kind: 'move' | 'swing'; readonly from: Point } | undefined>(undefined);
  const svg = (e: PointerEvent): SVGSVGElement => (e.currentTarget as SVGElement).ownerSVGElement!;
  const [a, b] = movedSeam(seam, by, degrees);
  const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

  const down = (kind: 'move' | 'swing') => (e: PointerEvent) => {
    (e.currentTarget as SVGElement).setPointerCapture(e.pointerId);
    held.current = { kind, from: placeOn(svg(e), e) };
  };
  const move = (e: PointerEvent): void => {
    if (!held.current) return;
    const q = placeOn(svg(e), e);
    const { kind, from } = held.current;
    if (kind === 'move') setBy((q[0] - from[0]) * seam.outward[0] + (q[1] - from[1]) * seam.outward[1]);
    else {
      const angle = (p: Point): number => Math.atan2(p[1] - seam.middle[1], p[0] - seam.middle[0]);
      const turned = ((angle(q) - angle(from)) * 180) / Math.PI;
      setDegrees(turned > 180 ? turned - 360 : turned < -180 ? turned + 360 : turned);
    }
  };
  const up = (): void => {
    const kind = held.current?.kind;
    held.current = undefined;
    if (kind === 'move' && Math.abs(by) > TAP) void change({ kind: 'move', seam: seam.target, by });
    if (kind === 'swing' && Math.abs(degrees) > TAP) void change({ kind: 'swing', seam: seam.target, degrees });
    setBy(0);
    setDegrees(0);
  };
  const keys = (kind: 'move' | 'swing') => (e: KeyboardEvent) => {
    const way = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1 }[e.key];
    if (!way) return;
    e.preventDefault();
    if (kind === 'move') void change({ kind, seam: seam.target, by: way * (e.shiftKey ? FINE : STEP) });
    else void change({ kind, seam: seam.target, degrees: way * (e.shiftKey ? FINE_DEGREES : DEGREES) });
  };
  const what = /^\d/.test(seam.target) ? `join ${seam.target}` : `the seam of ${seam.target}`;
  const handle = (kind: 'move' | 'swing', at: Point, label: string) => (
    // biome-ignore lint/a11y/useSemanticElements: there is no button element inside a drawing
    <circle
      key={label}
      class="seam-handle"
      role="button"
      tabindex={0}
      aria-label={`${label} ${what}; arrow keys, with Shift finer`}
      cx={at[0]}
      cy={at[1]}
      r={kind === 'move' ? width / 30 : width / 40}
      stroke-width={width / 300}
      onPointerDown={down(kind)}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
      onKeyDown={keys(kind)}
    />
  );
  return (
    <g class="seam-handles">
      <path class="picked-ground" d={`M${a.join(' ')}L${b.join(' ')}`} />
      <path class="new-seam" d={`M${a.join(' ')}L${b.join(' ')}`} />
      {handle('swing', b, 'Swing')}
      {handle('move', middle, 'Move')}
    </g>
  );
}
