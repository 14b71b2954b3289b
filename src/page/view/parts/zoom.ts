// How near a picture or a block is looked at: how many times, and what is in the middle, in shares of the whole.
import type { Box } from '../../api.ts';

export interface Zoom {
  /** 1: all of it */
  readonly by: number;
  readonly x: number;
  readonly y: number;
}

export const WHOLE: Zoom = { by: 1, x: 0.5, y: 0.5 };
/** a press of a key or a button */
export const STEP = 1.4;
const NEAREST = 14;

const within = (v: number, least: number, most: number): number => Math.max(least, Math.min(most, v));

/** Never beyond the rim. */
function inside({ by, x, y }: Zoom): Zoom {
  const half = 0.5 / by;
  return by <= 1.001 ? WHOLE : { by, x: within(x, half, 1 - half), y: within(y, half, 1 - half) };
}

/** Nearer by a factor; the place (u, v), in shares of what is shown, stays where it is. */
export function zoomedAt(z: Zoom, factor: number, u = 0.5, v = 0.5): Zoom {
  const by = within(z.by * factor, 1, NEAREST);
  const at = (middle: number, share: number): number => middle + (share - 0.5) / z.by - (share - 0.5) / by;
  return inside({ by, x: at(z.x, u), y: at(z.y, v) });
}

/** Moved along with a hand that goes by shares of what is shown. */
export const panned = (z: Zoom, du: number, dv: number): Zoom =>
  inside({ by: z.by, x: z.x - du / z.by, y: z.y - dv / z.by });

/** The part of a box that is shown. */
export const partOf = ([x, y, w, h]: Box, z: Zoom): Box => [
  x + w * (z.x - 0.5 / z.by),
  y + h * (z.y - 0.5 / z.by),
  w / z.by,
  h / z.by,
];

/** So near that a part of a box fills the view. */
export function onto([x, y, w, h]: Box, [px, py, pw, ph]: Box, nearest = NEAREST): Zoom {
  const by = within(Math.min(w / pw, h / ph), 1, nearest);
  return inside({ by, x: (px + pw / 2 - x) / w, y: (py + ph / 2 - y) / h });
}
