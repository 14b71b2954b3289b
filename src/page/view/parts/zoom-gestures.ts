// Nearer and farther by wheel and by two fingers; along by two fingers, the middle button, the space bar, or one finger where it has
// nothing else to do.
import { useEffect, useRef } from 'preact/hooks';
import { panned, type Zoom, zoomedAt } from './zoom.ts';

/** of a wheel's step */
const WHEEL = 0.0016;
/** pixels of a line, where a wheel counts in lines */
const LINE = 16;

interface Place {
  readonly x: number;
  readonly y: number;
}

/** whether two fingers are on a picture: what one of them began is over then */
let together = false;
export const byTwoFingers = (): boolean => together;

export interface ZoomOptions {
  readonly get: () => Zoom;
  readonly put: (zoom: Zoom) => void;
  /** whether one finger or the first button moves it along */
  readonly pans: (e: PointerEvent) => boolean;
}

/** For the element that shows the part and nothing else. */
export function useZoomGestures<E extends Element>(options: ZoomOptions) {
  const element = useRef<E>(null);
  const now = useRef(options);
  now.current = options;
  useEffect(() => (element.current ? attach(element.current, now) : undefined), [element.current]);
  return element;
}

function attach(el: Element, o: { readonly current: ZoomOptions }): () => void {
  const fingers = new Map<number, Place>();
  let panning: number | undefined;
  let space = false;
  const share = ({ x, y }: Place): readonly [number, number] => {
    const r = el.getBoundingClientRect();
    return [(x - r.left) / r.width, (y - r.top) / r.height];
  };
  const wheel = (e: WheelEvent): void => {
    e.preventDefault();
    const by = e.deltaY * (e.deltaMode ? LINE : 1) * (e.ctrlKey ? 4 : 1);
    o.current.put(zoomedAt(o.current.get(), Math.exp(-by * WHEEL), ...share({ x: e.clientX, y: e.clientY })));
  };
  const down = (e: PointerEvent): void => {
    fingers.set(e.pointerId, { x: e.clientX, y: e.clientY });
    together = fingers.size > 1;
    const along = e.button === 1 || space || (e.button === 0 && fingers.size === 1 && o.current.pans(e));
    if (!along) return;
    panning = e.pointerId;
    if (e.button === 1 || space) {
      e.preventDefault();
      e.stopPropagation();
    }
  };
  const move = (e: PointerEvent): void => {
    const before = fingers.get(e.pointerId);
    if (!before) return;
    const other = [...fingers].find(([id]) => id !== e.pointerId)?.[1];
    const place = { x: e.clientX, y: e.clientY };
    fingers.set(e.pointerId, place);
    const r = el.getBoundingClientRect();
    if (other) {
      const apart = (p: Place): number => Math.max(1, Math.hypot(p.x - other.x, p.y - other.y));
      const middle = { x: (place.x + other.x) / 2, y: (place.y + other.y) / 2 };
      const nearer = zoomedAt(o.current.get(), apart(place) / apart(before), ...share(middle));
      const [dx, dy] = [(place.x - before.x) / 2, (place.y - before.y) / 2];
      o.current.put(panned(nearer, dx / r.width, dy / r.height));
    } else if (panning === e.pointerId)
      o.current.put(panned(o.current.get(), (place.x - before.x) / r.width, (place.y - before.y) / r.height));
  };
  const up = (e: PointerEvent): void => {
    fingers.delete(e.pointerId);
    if (panning === e.pointerId) panning = undefined;
    // what the last finger does after the first has gone is no gesture of its own
    if (!fingers.size) setTimeout(() => (together = false));
  };
  const key = (e: KeyboardEvent): void => {
    const busy = e.target instanceof Element && e.target.closest('input, select, textarea, button, a, summary, [role]');
    if (e.key === ' ' && !busy) space = e.type === 'keydown';
  };
  el.addEventListener('wheel', wheel as EventListener, { passive: false });
  el.addEventListener('pointerdown', down as EventListener, true);
  addEventListener('pointermove', move);
  addEventListener('pointerup', up);
  addEventListener('pointercancel', up);
  addEventListener('keydown', key);
  addEventListener('keyup', key);
  return () => {
    el.removeEventListener('wheel', wheel as EventListener);
    el.removeEventListener('pointerdown', down as EventListener, true);
    removeEventListener('pointermove', move);
    removeEventListener('pointerup', up);
    removeEventListener('pointercancel', up);
    removeEventListener('keydown', key);
    removeEventListener('keyup', key);
  };
}
