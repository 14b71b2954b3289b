// Eyes and nose on the picture, as round handles: dragged or moved by arrow keys, removed by two taps or Delete, a guess taken by one.
import { useRef } from 'preact/hooks';
import { set } from '../store/actions.ts';
import { arrowStep, followPointer } from './drag.ts';
import { confirmed, type FaceHandle, movedTo, nameOf, removed } from './face-now.ts';

/** ms between two taps that are one double tap */
const TWICE = 400;
/** share of the arrow keys' usual step: an eye is small */
const FINE = 0.25;
const percent = (v: number): string => `${v * 100}%`;
const within = (v: number): number => Math.max(0, Math.min(1, v));

export function FaceHandles({ handles }: { readonly handles: readonly FaceHandle[] }) {
  const dragged = useRef(false);
  const tapped = useRef({ name: '', at: 0 });

  /** Two small eyes lie under each other's targets: the press is meant for the nearer one. */
  const nearest = (e: MouseEvent): FaceHandle => {
    const { left, top, width, height } = stageOf(e).getBoundingClientRect();
    const away = (h: FaceHandle): number => Math.hypot(left + h.x * width - e.clientX, top + h.y * height - e.clientY);
    return [...handles].sort((a, b) => away(a) - away(b))[0]!;
  };
  const press = (e: PointerEvent): void => {
    const one = nearest(e);
    dragged.current = false;
    followPointer(e, stageOf(e), (dx, dy) => {
      if (!dx && !dy) return;
      dragged.current = true;
      set(movedTo(handles, one, within(one.x + dx), within(one.y + dy)));
    });
  };
  const tap = (e: MouseEvent, own: FaceHandle): void => {
    const drag = dragged.current;
    dragged.current = false;
    if (drag) return;
    // a keyboard's press has no place
    const one = e.detail ? nearest(e) : own;
    const name = keyOf(one);
    const twice = tapped.current.name === name && e.timeStamp - tapped.current.at < TWICE;
    tapped.current = { name: one.by === 'guess' ? '' : name, at: e.timeStamp };
    if (one.by === 'guess') set(confirmed(handles));
    else if (twice && e.detail) set(removed(handles, one));
  };
  const key = (e: KeyboardEvent, one: FaceHandle): void => {
    const by = arrowStep(e);
    if (!by && e.key !== 'Delete' && e.key !== 'Backspace') return;
    e.preventDefault();
    set(by ? movedTo(handles, one, within(one.x + FINE * by[0]), within(one.y + FINE * by[1])) : removed(handles, one));
  };
  return (
    <>
      {handles.map((h) => (
        <div
          key={keyOf(h)}
          class={`face-part ${h.part} ${h.by}`}
          style={{ left: percent(h.x), top: percent(h.y), width: percent(h.w), height: percent(h.h) }}
        >
          <button
            type="button"
            data-face={keyOf(h)}
            aria-label={`${nameOf(handles, h)}${SAID[h.by]}`}
            aria-describedby="face-keys"
            onPointerDown={press}
            onClick={(e) => tap(e, h)}
            onKeyDown={(e) => key(e, h)}
          >
            {h.by === 'guess' && <span aria-hidden="true">?</span>}
          </button>
        </div>
      ))}
    </>
  );
}

const SAID: Readonly<Record<FaceHandle['by'], string>> = {
  found: ', found automatically',
  guess: ', a guess: press to confirm',
  given: '',
};
const keyOf = ({ part, at }: FaceHandle): string => `${part}-${at}`;
const stageOf = (e: Event): Element => (e.currentTarget as Element).closest('.picture-stage')!;
