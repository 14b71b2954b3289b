// What a hand does on the block itself: a seam is dragged by its middle or its end, with the refusal while it goes; pieces are taken by
// a box or a loop around them.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Block } from '../../../block.ts';
import type { Point, Segment } from '../../../geometry/polygon.ts';
import { UserError } from '../../../problems/problem.ts';
import type { Change, Work } from '../../api.ts';
import { byTwoFingers } from '../parts/zoom-gestures.ts';
import { change } from '../store/actions.ts';
import { factsOf } from '../store/facts.ts';
import { afterChange } from '../store/foresee.ts';
import { now, put } from '../store/state.ts';
import { placeOn } from './pointer-place.ts';
import { type Grip, isInside, led, type SeamHold, seamNear } from './seam-near.ts';
import { movedSeam, seamOf } from './seam-of.ts';

export interface HeldSeam {
  readonly kind: 'seam';
  readonly line: Segment;
  /** the block as it would be; absent where it cannot be */
  readonly block?: Block;
  /** why it cannot be */
  readonly refusal?: string;
}
export type Held = HeldSeam | { readonly kind: 'loop'; readonly points: readonly Point[] };

/** pixels: less is a tap; how near a seam a mouse and a finger must come */
const TAP = 5;
const REACH = 7;
const FINGER = 14;
/** mm: less is no change */
const LEAST = 0.1;

interface Pressed {
  readonly at: Point;
  readonly x: number;
  readonly y: number;
  readonly hold: SeamHold | undefined;
  readonly reach: number;
  readonly adds: boolean;
}

export function useHold(work: Work, block: Block, on: boolean) {
  const [held, draw] = useState<Held>();
  /** the same at once: moves come quicker than drawings */
  const last = useRef<Held | undefined>(undefined);
  const setHeld = (next: Held | undefined): void => {
    last.current = next;
    draw(next);
  };
  const [hover, setHover] = useState<Segment>();
  const pressed = useRef<Pressed | undefined>(undefined);
  const leading = useRef<Change | undefined>(undefined);
  /** a drag ends with a click that picks nothing */
  const dragged = useRef(false);
  const drop = (): void => {
    pressed.current = undefined;
    leading.current = undefined;
    setHeld(undefined);
  };
  useEffect(() => {
    const key = (e: KeyboardEvent): void => {
      if (e.key === 'Escape' && pressed.current) drop();
    };
    addEventListener('keydown', key);
    return () => removeEventListener('keydown', key);
  }, []);
  const reachOf = (svg: SVGSVGElement, e: PointerEvent): number =>
    (e.pointerType === 'touch' ? FINGER : REACH) / (svg.getScreenCTM()?.a || 1);
  // what is chosen now, not what it was when this was drawn
  const takesSeams = (): boolean => ['pick', 'move'].includes(now().tool);

  const down = (e: PointerEvent): void => {
    dragged.current = false;
    if (!on || e.button !== 0 || now().tool === 'pan' || now().tool === 'divide') return;
    const svg = e.currentTarget as SVGSVGElement;
    const [at, reach] = [placeOn(svg, e), reachOf(svg, e)];
    const grip = (e.target as Element).getAttribute('data-grip') as Grip | null;
    const chosen = grip && now().seam !== undefined ? seamOf(block, now().seam!) : undefined;
    const hold = chosen ? { seam: chosen, grip: grip! } : takesSeams() ? seamNear(block, at, reach) : undefined;
    const adds = e.shiftKey || e.ctrlKey || e.metaKey || now().several;
    pressed.current = { at, x: e.clientX, y: e.clientY, hold, reach, adds };
  };

  const move = (e: PointerEvent): void => {
    const svg = e.currentTarget as SVGSVGElement;
    const from = pressed.current;
    if (!from) {
      if (on && takesSeams() && e.pointerType !== 'touch' && !e.buttons)
        setHover(seamNear(block, placeOn(svg, e), reachOf(svg, e))?.seam.seam);
      return;
    }
    if (byTwoFingers()) {
      drop();
      return;
    }
    if (!last.current && Math.hypot(e.clientX - from.x, e.clientY - from.y) < TAP) return;
    if (!dragged.current) svg.setPointerCapture(e.pointerId);
    dragged.current = true;
    const to = placeOn(svg, e);
    if (from.hold) setHeld(drag(from.hold, from, to));
    else if (now().tool === 'loop' && last.current?.kind === 'loop')
      // a quick hand makes more places than there are frames
      setHeld({ kind: 'loop', points: [...last.current.points, ...placesOf(svg, e)] });
    else if (now().tool === 'loop') setHeld({ kind: 'loop', points: [from.at, ...placesOf(svg, e)] });
    else setHeld({ kind: 'loop', points: [from.at, [to[0], from.at[1]], to, [from.at[0], to[1]]] });
  };

  const drag = (hold: SeamHold, { at, reach }: Pressed, to: Point): HeldSeam => {
    const { by, degrees } = led(block, hold, at, to, reach);
    const { target } = hold.seam;
    const c: Change =
      Math.abs(degrees) < 0.01 ? { kind: 'move', seam: target, by } : { kind: 'shift', seam: target, by, degrees };
    leading.current = c;
    const line = movedSeam(hold.seam, by, degrees);
    if (!work.limits) return { kind: 'seam', line };
    try {
      const after = afterChange(block, c, work.limits)!;
      return { kind: 'seam', line: seamOf(after, target)?.seam ?? line, block: after };
    } catch (e) {
      if (!(e instanceof UserError)) throw e;
      return { kind: 'seam', line, refusal: e.message };
    }
  };

  const up = (): void => {
    const from = pressed.current;
    const [end, c] = [last.current, leading.current];
    drop();
    setHover(undefined);
    if (!from || !end) return;
    if (end.kind === 'loop') {
      const inside = factsOf(block)
        .filter((f) => isInside(end.points, f.middle))
        .map((f) => f.name);
      const before = from.adds ? now().picked : [];
      put({ picked: [...new Set([...before, ...inside])], line: undefined });
    } else if (end.refusal) put({ refusal: `${end.refusal} The seam is where it was.` });
    else if (c && 'by' in c && (Math.abs(c.by) > LEAST || c.kind === 'shift')) void change(c);
  };

  return { held, hover, dragged, down, move, up, drop };
}

function placesOf(svg: SVGSVGElement, e: PointerEvent): readonly Point[] {
  const all = e.getCoalescedEvents?.() ?? [];
  return (all.length ? all : [e]).map((one) => placeOn(svg, one));
}
