// Finds the areas that the strokes of a drawing enclose, also where a stroke has a gap. Takes a mask of ink, gives for each
// cell its area; ink that is to be dissolved goes to the nearest area.

/** For each cell of paper its distance to ink; made elsewhere. Cells are taken from the middle of areas outwards (a
 *  watershed, Meyer 1994); where two meet they are one, unless they meet in a passage no wider than `gap` that is narrow
 *  for both: that is a gap in a stroke. Gives area numbers from 0, -1 on ink, and how many there are. */
export function partPaper(
  distance: Float32Array,
  w: number,
  h: number,
  gap: number,
): { area: Int32Array; count: number } {
  const n = w * h;
  const level = (i: number): number => Math.min(4095, Math.floor(distance[i]! * 4));
  const start = new Uint32Array(4098);
  for (let i = 0; i < n; i++) if (distance[i]! > 0) start[4096 - level(i)]!++;
  for (let l = 1; l < start.length; l++) start[l]! += start[l - 1]!;
  const order = new Uint32Array(start[start.length - 1]!);
  for (let i = n - 1; i >= 0; i--) if (distance[i]! > 0) order[--start[4096 - level(i)]!] = i;
  const parent: number[] = [];
  const deepest: number[] = [];
  const find = (a: number): number => {
    let r = a;
    while (parent[r] !== r) r = parent[r]!;
    while (parent[a] !== r) [a, parent[a]] = [parent[a]!, r];
    return r;
  };
  const area = new Int32Array(n).fill(-1);
  for (const i of order) {
    const x = i % w;
    const d = distance[i]!;
    let mine = -1;
    for (const j of [x > 0 ? i - 1 : -1, x < w - 1 ? i + 1 : -1, i - w, i + w < n ? i + w : -1]) {
      if (j < 0 || area[j]! < 0) continue;
      const other = find(area[j]!);
      if (mine < 0) mine = other;
      else if (other !== mine) {
        const shallow = Math.min(deepest[mine]!, deepest[other]!);
        if (d <= gap / 2 && d < 0.5 * shallow) {
          // a gap: the cell goes to the deeper side, the areas stay apart
          if (deepest[other]! > deepest[mine]!) mine = other;
          continue;
        }
        const [keep, drop] = deepest[mine]! >= deepest[other]! ? [mine, other] : [other, mine];
        parent[drop] = keep;
        mine = keep;
      }
    }
    if (mine < 0) {
      mine = parent.length;
      parent.push(mine);
      deepest.push(d);
    }
    area[i] = mine;
  }
  const numbers = new Map<number, number>();
  for (let i = 0; i < n; i++) {
    if (area[i]! < 0) continue;
    const r = find(area[i]!);
    let id = numbers.get(r);
    if (id === undefined) {
      id = numbers.size;
      numbers.set(r, id);
    }
    area[i] = id;
  }
  return { area, count: numbers.size };
}

/** Gives every cell of -1 the area of the nearest cell that has one, step by step; cells with `keep` stay. */
export function dissolveInk(area: Int32Array, w: number, h: number, keep: Uint8Array): void {
  let front: number[] = [];
  for (let i = 0; i < w * h; i++) if (area[i]! >= 0) front.push(i);
  while (front.length) {
    const next: number[] = [];
    for (const i of front) {
      const x = i % w;
      for (const j of [x > 0 ? i - 1 : -1, x < w - 1 ? i + 1 : -1, i - w, i + w < w * h ? i + w : -1])
        if (j >= 0 && area[j]! < 0 && !keep[j]) {
          area[j] = area[i]!;
          next.push(j);
        }
    }
    front = next;
  }
}

/** How long the border of each pair of areas is, each way; `area` -1 counts as nothing. */
export function bordersOf(area: Int32Array, w: number, h: number, count: number): Map<number, number>[] {
  const borders = Array.from({ length: count }, () => new Map<number, number>());
  const touch = (a: number, b: number): void => {
    if (a < 0 || b < 0 || a === b) return;
    borders[a]!.set(b, (borders[a]!.get(b) ?? 0) + 1);
    borders[b]!.set(a, (borders[b]!.get(a) ?? 0) + 1);
  };
  for (let i = 0; i < w * h; i++) {
    if (i % w < w - 1) touch(area[i]!, area[i + 1]!);
    if (i + w < w * h) touch(area[i]!, area[i + w]!);
  }
  return borders;
}

/** Joins areas of fewer than `least` cells to the neighbour with the longest border (not to the ground if there is another). */
export function joinSmallAreas(
  area: Int32Array,
  w: number,
  h: number,
  count: number,
  least: number,
  ground: number,
): void {
  for (let round = 0; round < count; round++) {
    const sizes = new Uint32Array(count);
    for (const a of area) if (a >= 0) sizes[a]!++;
    const borders = bordersOf(area, w, h, count);
    const to = new Int32Array(count).fill(-1);
    const busy = new Uint8Array(count);
    let any = false;
    const small = [...sizes.keys()].filter((a) => a !== ground && sizes[a]! > 0 && sizes[a]! < least);
    small.sort((a, b) => sizes[a]! - sizes[b]! || a - b);
    for (const a of small) {
      if (busy[a]) continue;
      let best = -1;
      for (const [b, length] of borders[a]!) {
        const worth = length * (b === ground ? 0.5 : 1);
        if (best < 0 || worth > borders[a]!.get(best)! * (best === ground ? 0.5 : 1)) best = b;
      }
      if (best < 0 || busy[best]) continue;
      to[a] = best;
      busy[a] = 1;
      busy[best] = 1;
      any = true;
    }
    if (!any) return;
    for (let i = 0; i < area.length; i++) if (area[i]! >= 0 && to[area[i]!]! >= 0) area[i] = to[area[i]!]!;
  }
}

/** Colours areas so that neighbours differ, with few colours (the most hemmed-in first: Brélaz 1979). `fixed[a]` >= 0 is an
 *  area's given colour. Colours 0 ... most - 1; where they do not suffice, the one with the least shared border is taken.
 *  Areas marked `notFirst` never get colour 0. */
export function colourAreas(
  borders: readonly Map<number, number>[],
  sizes: Uint32Array,
  fixed: Int32Array,
  most: number,
  notFirst?: Uint8Array,
): Int32Array {
  const colour = Int32Array.from(fixed);
  for (;;) {
    let pick = -1;
    let hemmed = -1;
    for (let a = 0; a < borders.length; a++) {
      if (colour[a]! >= 0 || !sizes[a]) continue;
      const around = new Set([...borders[a]!.keys()].map((b) => colour[b]!).filter((c) => c >= 0)).size;
      if (around > hemmed || (around === hemmed && sizes[a]! > sizes[pick]!)) {
        hemmed = around;
        pick = a;
      }
    }
    if (pick < 0) return colour;
    const shared = new Float64Array(most);
    for (const [b, length] of borders[pick]!) if (colour[b]! >= 0) shared[colour[b]!]! += length;
    let best = notFirst?.[pick] && most > 1 ? 1 : 0;
    for (let c = best + 1; c < most; c++) if (shared[c]! < shared[best]!) best = c;
    colour[pick] = best;
  }
}
