// Takes the rooms of a figure; gives each its fabric: what fills it in the drawing, else one of a family of one hue by how the
// rooms nest and touch.

import { colourDifference, lightness } from '../../colour/difference.ts';
import { hexOfOklab, type Lab, labDistance } from '../../colour/oklab.ts';
import type { Rooms } from './find-rooms.ts';

/** Parts of a drawing that have a fabric each: what `--colours` names. */
export type Role = 'ground' | 'body' | 'belly' | 'back' | 'ink';

export type RoleColours = Readonly<Partial<Record<Role, string>>>;

/** A fur brown, light (belly), middle (body) and dark (back), OKLab. CIE L* 77, 58 and 37: each 19 from the next, and 20 under
 *  paper of L* 97 (house rule). */
const BROWN: Record<'belly' | 'body' | 'back', Lab> = {
  belly: [0.805, 0.022, 0.06],
  body: [0.65, 0.04, 0.085],
  back: [0.46, 0.04, 0.06],
};
/** Chroma from which a pen has a colour that the figure takes. */
const PEN_COLOUR = 0.07;
/** The ground: as light as cloth is, in the paper's tint at most this strong. */
const GROUND_LIGHT = 0.972;
const GROUND_TINT = 0.015;
/** Ink is as dark as this at least. */
const INK_DARK = 0.32;
/** CIE L* between the ground and what lies along the outline, and CIEDE2000 between fabrics that touch. */
export const OUTLINE_GAP = 20;
const TOUCHING = 10;
/** Share of the figure up to which a room at the outline is an ear, a leg or a tail. */
const LIMB = 0.16;

export interface Palette {
  readonly ground: Lab;
  readonly body: Lab;
  readonly belly: Lab;
  readonly back: Lab;
  readonly ink: Lab;
}

/** The family of fabrics for a drawing on this paper in this pen. */
export function paletteOf(paper: Lab, pen: Lab): Palette {
  const tint = Math.hypot(paper[1], paper[2]);
  const fade = tint > GROUND_TINT ? GROUND_TINT / tint : 1;
  const ground: Lab = [GROUND_LIGHT, paper[1] * fade, paper[2] * fade];
  const chroma = Math.hypot(pen[1], pen[2]);
  const coloured = chroma > PEN_COLOUR;
  const turned = ([L, a, b]: Lab): Lab => {
    if (!coloured) return [L, a, b];
    const c = Math.hypot(a, b) / chroma;
    return [L, pen[1] * c, pen[2] * c];
  };
  const ink: Lab = [Math.min(pen[0], INK_DARK), coloured ? pen[1] * 0.5 : pen[1], coloured ? pen[2] * 0.5 : pen[2]];
  return { ground, body: turned(BROWN.body), belly: turned(BROWN.belly), back: turned(BROWN.back), ink };
}

/** For each room its role, by how rooms nest and touch. Rooms with a fabric of their own (`own` >= 0) are left out. */
export function rolesOf({ list }: Rooms, own: readonly number[]): ('body' | 'belly' | 'back' | 'ink')[] {
  const total = list.reduce((t, r) => t + r.area, 0);
  const roles: ('body' | 'belly' | 'back' | 'ink' | undefined)[] = list.map((r) => (r.solid ? 'ink' : undefined));
  const free = [...list.keys()].filter((a) => !list[a]!.solid && own[a]! < 0);
  const bySize = [...free].sort((a, b) => list[b]!.area - list[a]!.area || a - b);
  while (true) {
    // the room with the most border on those that have a role, else the largest
    let next = -1;
    let most = -1;
    for (const a of bySize) {
      if (roles[a]) continue;
      let settled = 0;
      for (const [b, length] of list[a]!.beside) if (roles[b] && roles[b] !== 'ink') settled += length;
      const rank = settled > 0 ? 1e9 + list[a]!.area : list[a]!.area;
      if (rank > most) {
        most = rank;
        next = a;
      }
    }
    if (next < 0) break;
    roles[next] = pickRole(next);
  }
  return roles.map((r) => r ?? 'body');

  function pickRole(a: number): 'body' | 'belly' | 'back' {
    const room = list[a]!;
    const round = [...room.beside.values()].reduce((t, v) => t + v, room.ground);
    const outer = room.ground > 0.12 * round;
    const order = (
      outer
        ? room.area < LIMB * total
          ? ['body', 'back', 'belly']
          : ['body', 'belly', 'back']
        : ['belly', 'back', 'body']
    ) as ('body' | 'belly' | 'back')[];
    let best = order[0]!;
    let least = Infinity;
    order.forEach((role, rank) => {
      let same = 0;
      for (const [b, length] of room.beside) if (roles[b] === role) same += length;
      const cost = same + 0.04 * rank * round;
      if (cost < least) {
        least = cost;
        best = role;
      }
    });
    return best;
  }
}

/** Moves a colour in lightness, away from `from` first, until it keeps its distance to the ground and to the others. */
export function standApart(colour: Lab, ground: Lab, others: readonly Lab[]): Lab {
  const groundL = lightness(hexOfOklab(ground));
  const fits = (c: Lab): boolean => {
    const hex = hexOfOklab(c);
    return (
      Math.abs(lightness(hex) - groundL) >= OUTLINE_GAP &&
      others.every((o) => labDistance(o, c) > 0.02 && colourDifference(hexOfOklab(o), hex) >= TOUCHING)
    );
  };
  if (fits(colour)) return colour;
  for (let step = 0.02; step < 0.8; step += 0.02)
    for (const L of ground[0] > 0.6 ? [colour[0] - step, colour[0] + step] : [colour[0] + step, colour[0] - step]) {
      const c: Lab = [L, colour[1], colour[2]];
      if (L > 0.05 && L < 0.98 && fits(c)) return c;
    }
  return colour;
}
