// Every way of dividing a rectangle into n rooms by segments down and across, once each up to combinatorial equivalence.
// Built one room at a time into the upper right corner: it either stands beside the k topmost rooms of the right side or
// lies over the k rightmost rooms of the upper side. This is the generating tree of the Baxter numbers, (i, j) ->
// (1 … i, j + 1), (i + 1, 1 … j) (Hong et al. 2000, corner block list; Ackerman, Barequet & Pinter 2006).
// Every inner segment gets a coordinate of its own, so no two seam ends meet across a seam.

export interface Room {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}
export interface Floorplan {
  width: number;
  /** the upper side lies at -height, so that rooms need not be moved when one is laid on top */
  height: number;
  rooms: Room[];
}

/** All floorplans of n rooms. */
export function floorplans(n: number): Floorplan[] {
  let plans: Floorplan[] = [{ width: 1, height: 1, rooms: [{ x0: 0, y0: -1, x1: 1, y1: 0 }] }];
  for (let k = 1; k < n; k++) plans = plans.flatMap((p) => [...beside(p), ...above(p)]);
  return plans;
}

function beside({ width, height, rooms }: Floorplan): Floorplan[] {
  const right = rooms.filter((r) => r.x1 === width).sort((a, b) => a.y0 - b.y0);
  return right.map((_, k) => ({
    width: width + 1,
    height,
    rooms: [
      ...rooms.map((r) => (right.indexOf(r) > k ? { ...r, x1: width + 1 } : r)),
      { x0: width, y0: -height, x1: width + 1, y1: right[k]!.y1 },
    ],
  }));
}

function above({ width, height, rooms }: Floorplan): Floorplan[] {
  const top = rooms.filter((r) => r.y0 === -height).sort((a, b) => b.x0 - a.x0);
  return top.map((_, k) => ({
    width,
    height: height + 1,
    rooms: [
      ...rooms.map((r) => (top.indexOf(r) > k ? { ...r, y0: -height - 1 } : r)),
      { x0: top[k]!.x0, y0: -height - 1, x1: width, y1: -height },
    ],
  }));
}

/** The rooms as outlines in mm in a block of whole centimetres, one a unit. */
export function outlinesOf({ width, height, rooms }: Floorplan): {
  size: [number, number];
  outlines: [number, number][][];
} {
  const at = (x: number, y: number): [number, number] => [10 * x, 10 * (y + height)];
  return {
    size: [10 * width, 10 * height],
    outlines: rooms.map((r) => [at(r.x0, r.y0), at(r.x1, r.y0), at(r.x1, r.y1), at(r.x0, r.y1)]),
  };
}
