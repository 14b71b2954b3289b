// Takes a figure and its walls; gives its rooms: the areas that strokes part it into, masses of ink among them, with the strokes
// dissolved into what they bound, and how the rooms nest and touch.
import type { Figure } from './find-figure.ts';
import { eachBeside, partsOf } from './flood.ts';
import { openMask } from './open-mask.ts';

export interface Room {
  readonly area: number;
  /** a mass of ink, which stays as dark as it is */
  readonly solid: boolean;
  /** length of border with each room beside it, and with the ground */
  readonly beside: ReadonlyMap<number, number>;
  readonly ground: number;
  /** middle, in cells of the mask */
  readonly at: readonly [number, number];
}

export interface Rooms {
  /** for each cell its room, -1 on the ground */
  readonly room: Int32Array;
  readonly list: readonly Room[];
}

/** A room of fewer cells is one with its neighbour; as a multiple of the narrowest piece's square. */
const LEAST_ROOM = 1.3;
/** A mass is wider than this many usual strokes, and than this share of the narrowest piece. */
const MASS_STROKES = 1.9;
const MASS_NARROW = 0.75;
const MASS_SMALL = 0.5;

/** Masses of ink: 1 where it is too wide for a stroke. Those that are `small` need not be wide enough to be sewn as they are. */
export function findMasses(
  ink: Uint8Array,
  w: number,
  h: number,
  stroke: number,
  narrow: number,
  small = false,
): Promise<Uint8Array> {
  return openMask(ink, w, h, Math.max(3, (small ? MASS_SMALL : MASS_NARROW) * narrow, MASS_STROKES * stroke));
}

/** `absorbed`: cells of eyes and the like, which belong to what lies about them. `masses`: see findMasses. */
export function findRooms(
  { mask, walls }: Figure,
  masses: Uint8Array,
  absorbed: Uint8Array,
  w: number,
  h: number,
  narrow: number,
): Rooms {
  const n = w * h;
  const dark = (i: number): boolean => mask[i] === 1 && masses[i] === 1 && !absorbed[i];
  const bare = (i: number): boolean => mask[i] === 1 && (!walls[i] || absorbed[i] === 1);
  const paper = partsOf(bare, w, h);
  const ink = partsOf(dark, w, h);
  const room = new Int32Array(n).fill(-1);
  const solid: boolean[] = [];
  // what is smaller than a tenth of the least room is dissolved as the strokes are
  const crumb = 0.1 * LEAST_ROOM * narrow ** 2;
  for (const [{ list }, isDark] of [
    [paper, false],
    [ink, true],
  ] as const)
    for (const cells of list) {
      if (cells.length < crumb || (isDark && cells.length < 0.25 * LEAST_ROOM * narrow ** 2)) continue;
      for (const i of cells) room[i] = solid.length;
      solid.push(isDark);
    }
  if (!solid.length) {
    // a figure all of ink
    for (let i = 0; i < n; i++) if (mask[i]) room[i] = 0;
    return measure(room, [true], w, h);
  }
  dissolve(room, mask, w, h);
  for (let round = 0; round < 60; round++) {
    const found = measure(room, solid, w, h);
    const small = [...found.list.keys()]
      .filter((a) => found.list[a]!.area > 0 && found.list[a]!.area < LEAST_ROOM * narrow ** 2)
      .filter((a) => found.list[a]!.beside.size > 0)
      .sort((a, b) => found.list[a]!.area - found.list[b]!.area || a - b)[0];
    if (small === undefined) break;
    // one of its own kind before one of the other
    const worth = ([b, length]: [number, number]): number => length * (solid[b] === solid[small] ? 3 : 1);
    const to = [...found.list[small]!.beside].sort((p, q) => worth(q) - worth(p) || p[0] - q[0])[0]![0];
    for (let i = 0; i < n; i++) if (room[i] === small) room[i] = to;
  }
  return numbered(room, solid, w, h);
}

/** Gives every cell of the figure without a room that of the nearest one, step by step. */
function dissolve(room: Int32Array, mask: Uint8Array, w: number, h: number): void {
  let front: number[] = [];
  for (let i = 0; i < w * h; i++) if (room[i]! >= 0) front.push(i);
  while (front.length) {
    const next: number[] = [];
    for (const i of front)
      eachBeside(i, w, w * h, (j) => {
        if (room[j]! >= 0 || !mask[j]) return;
        room[j] = room[i]!;
        next.push(j);
      });
    front = next;
  }
  // parts of ink that no room reaches
  for (const cells of partsOf((i) => mask[i] === 1 && room[i]! < 0, w, h).list) for (const i of cells) room[i] = 0;
}

function numbered(room: Int32Array, solid: readonly boolean[], w: number, h: number): Rooms {
  const used = [...new Set(room)].filter((a) => a >= 0).sort((a, b) => a - b);
  const to = new Map(used.map((a, q) => [a, q]));
  return measure(
    room.map((a) => (a < 0 ? -1 : to.get(a)!)),
    used.map((a) => solid[a]!),
    w,
    h,
  );
}

function measure(room: Int32Array, solid: readonly boolean[], w: number, h: number): Rooms {
  const list = solid.map((s) => ({ area: 0, solid: s, beside: new Map<number, number>(), ground: 0, at: [0, 0] }));
  const touch = (a: number, b: number): void => {
    if (a === b) return;
    if (a < 0) list[b]!.ground++;
    else if (b < 0) list[a]!.ground++;
    else {
      list[a]!.beside.set(b, (list[a]!.beside.get(b) ?? 0) + 1);
      list[b]!.beside.set(a, (list[b]!.beside.get(a) ?? 0) + 1);
    }
  };
  for (let i = 0; i < w * h; i++) {
    const a = room[i]!;
    if (i % w < w - 1) touch(a, room[i + 1]!);
    if (i + w < w * h) touch(a, room[i + w]!);
    if (a < 0) continue;
    const r = list[a]!;
    r.area++;
    r.at[0]! += i % w;
    r.at[1]! += Math.floor(i / w);
  }
  return {
    room,
    list: list.map((r) => ({ ...r, at: [r.at[0]! / Math.max(1, r.area), r.at[1]! / Math.max(1, r.area)] as const })),
  };
}
