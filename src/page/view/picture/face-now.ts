// Eyes and nose as they are on the picture now: found, guessed or given; and what a hand's changes of them set.
import type { Box, Settings, WorkFigure } from '../../api.ts';
import { insideBox } from './crop-ratio.ts';

export type Part = 'eye' | 'nose';

export interface FaceHandle {
  readonly part: Part;
  /** index among the parts of its kind; stays while it is moved */
  readonly at: number;
  /** middle and size, shares of the upright picture */
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
  readonly by: 'found' | 'guess' | 'given';
  /** whether a person gave its size too */
  readonly sized: boolean;
}

type Spot = Exclude<Settings['eyes'], 'auto'>[number];
type Face = Pick<Settings, 'eyes' | 'nose'>;
interface Placed {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

const MOST_EYES = 2;
/** share of the picture's width, until the size has been measured */
const UNMEASURED = 0.03;

const inside = (v: number): number => Math.round(Math.max(0, Math.min(1, v)) * 10000) / 10000;
const byPlace = <T extends { readonly x: number }>(list: readonly T[]): readonly T[] =>
  [...list].sort((a, b) => a.x - b.x);

export function handlesOf({ eyes, nose }: Face, figure: WorkFigure | undefined): readonly FaceHandle[] {
  return [
    ...handlesOfPart('eye', eyes, figure?.eyes ?? [], figure?.guess?.eyes ?? []),
    ...handlesOfPart('nose', nose, listed(figure?.nose), listed(figure?.guess?.nose)),
  ];
}

const listed = <T>(one: T | undefined): readonly T[] => (one === undefined ? [] : [one]);

function handlesOfPart(
  part: Part,
  given: Settings['eyes'],
  found: readonly Placed[],
  guess: readonly Placed[],
): readonly FaceHandle[] {
  const at = (p: Placed, i: number): Omit<FaceHandle, 'by' | 'sized'> => ({
    ...{ part, at: i },
    ...{ x: p.x, y: p.y, w: p.w, h: p.h },
  });
  if (given === 'auto') {
    const by = found.length ? 'found' : 'guess';
    return (found.length ? found : guess).map((p, i) => ({ ...at(p, i), by, sized: false }));
  }
  // sizes are measured: those of the parts as they lie from left to right
  const order = byPlace(given);
  return given.map((s, i) => {
    const measured = found.length === given.length ? found[order.indexOf(s)] : undefined;
    const w = s.w ?? measured?.w ?? UNMEASURED;
    return { ...at({ x: s.x, y: s.y, w, h: s.h ?? measured?.h ?? w }, i), by: 'given', sized: s.w !== undefined };
  });
}

const spotOf = ({ x, y, w, h, sized }: FaceHandle): Spot => ({ x: inside(x), y: inside(y), ...(sized && { w, h }) });
const settingOf = (part: Part, spots: readonly Spot[]): Partial<Settings> =>
  part === 'eye' ? { eyes: spots } : { nose: spots };
const alike = (all: readonly FaceHandle[], part: Part): readonly FaceHandle[] => all.filter((h) => h.part === part);

/** One moved; the other eye stays where it is, and is given from now on. */
export const movedTo = (all: readonly FaceHandle[], one: FaceHandle, x: number, y: number): Partial<Settings> =>
  settingOf(
    one.part,
    alike(all, one.part).map((h) => spotOf(h.at === one.at ? { ...h, x, y } : h)),
  );

/** With the last of its kind gone there is none to be seen. */
export const removed = (all: readonly FaceHandle[], one: FaceHandle): Partial<Settings> =>
  settingOf(
    one.part,
    alike(all, one.part)
      .filter((h) => h.at !== one.at)
      .map(spotOf),
  );

/** One more; where there are as many as there can be, the nearest one goes. A guess that was not confirmed counts for nothing. */
export function placed(all: readonly FaceHandle[], part: Part, x: number, y: number): Partial<Settings> {
  const there = alike(all, part).filter((h) => h.by !== 'guess');
  const most = part === 'eye' ? MOST_EYES : 1;
  const away = (h: FaceHandle): number => Math.hypot(h.x - x, h.y - y);
  const nearest = there.length < most ? undefined : [...there].sort((a, b) => away(a) - away(b))[0];
  return settingOf(part, [...there.filter((h) => h !== nearest).map(spotOf), { x: inside(x), y: inside(y) }]);
}

/** The guess taken as it is. */
export function confirmed(all: readonly FaceHandle[]): Partial<Settings> {
  const guess = all.filter((h) => h.by === 'guess');
  const [eyes, nose] = [alike(guess, 'eye'), alike(guess, 'nose')];
  return { ...(eyes.length && { eyes: eyes.map(spotOf) }), ...(nose.length && { nose: nose.map(spotOf) }) };
}

export const FOUND_AGAIN: Partial<Settings> = { eyes: 'auto', nose: 'auto' };

/** How much of the picture is shown about a face, and at the least: shares of its width. */
const ABOUT_FACE = 3.5;
const LEAST_VIEW = 0.15;

/** A square part of the picture about eyes and nose, in shares of it; about the animal where there are none. */
export function viewOfFace(all: readonly FaceHandle[], subject: Box | undefined, aspect: number): Box {
  const [sx, sy, sw, sh] = subject ?? [0, 0, 1, 1];
  const from = [...all.map((h) => [h.x - h.w / 2, h.y - h.h / 2]), ...(all.length ? [] : [[sx, sy]])];
  const to = [...all.map((h) => [h.x + h.w / 2, h.y + h.h / 2]), ...(all.length ? [] : [[sx + sw, sy + sh]])];
  const [x0, y0, x1, y1] = [
    Math.min(...from.map((q) => q[0]!)),
    Math.min(...from.map((q) => q[1]!)),
    Math.max(...to.map((q) => q[0]!)),
    Math.max(...to.map((q) => q[1]!)),
  ];
  const span = Math.max(x1 - x0, (y1 - y0) / aspect);
  const side = Math.max(LEAST_VIEW, all.length ? ABOUT_FACE * span : span);
  return insideBox([(x0 + x1 - side) / 2, (y0 + y1 - side * aspect) / 2, side, side * aspect]);
}

/** "Left eye": as one sees it. */
export function nameOf(all: readonly FaceHandle[], one: FaceHandle): string {
  if (one.part === 'nose') return 'Nose';
  const eyes = byPlace(alike(all, 'eye'));
  return eyes.length < 2 ? 'Eye' : eyes.indexOf(one) === 0 ? 'Left eye' : 'Right eye';
}

/** How the face stands, in a sentence. `sought`: whether it was looked for. */
export function sayFace(all: readonly FaceHandle[], { eyes, nose }: Face, sought: boolean): string {
  const [e, n] = [alike(all, 'eye'), alike(all, 'nose')];
  if (all.some((h) => h.by === 'guess')) return 'We are not sure about the eyes and nose. Are they in the right place?';
  if (!e.length && eyes === 'auto')
    return `${sought ? 'No eyes were found. ' : ''}Place the eyes, and they will show in the block.`;
  const named = [e.length === 2 ? 'both eyes' : e.length ? 'one eye' : 'no eyes', n.length ? 'the nose' : 'no nose'];
  const how = eyes === 'auto' && nose === 'auto' ? 'Found' : 'In the block';
  return `${how}: ${named.join(' and ')}.`;
}
