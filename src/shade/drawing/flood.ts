// Floods on a grid: what can be reached from some cells, the parts of a mask, and basins of a distance. All 4-connected.

/** Calls `visit` with each neighbour of a cell. */
export function eachBeside(i: number, w: number, n: number, visit: (j: number) => void): void {
  const x = i % w;
  if (x > 0) visit(i - 1);
  if (x < w - 1) visit(i + 1);
  if (i >= w) visit(i - w);
  if (i + w < n) visit(i + w);
}

/** 1 for every open cell that is reached from the seeds. */
export function reachFrom(open: (i: number) => boolean, seeds: readonly number[], w: number, h: number): Uint8Array {
  const reached = new Uint8Array(w * h);
  const stack: number[] = [];
  for (const s of seeds)
    if (!reached[s] && open(s)) {
      reached[s] = 1;
      stack.push(s);
    }
  const visit = (j: number): void => {
    if (!reached[j] && open(j)) {
      reached[j] = 1;
      stack.push(j);
    }
  };
  for (let i = stack.pop(); i !== undefined; i = stack.pop()) eachBeside(i, w, w * h, visit);
  return reached;
}

/** The parts of the cells for which `open` holds: for each cell its part or -1, and the cells of each part. */
export function partsOf(open: (i: number) => boolean, w: number, h: number): { part: Int32Array; list: number[][] } {
  const part = new Int32Array(w * h).fill(-1);
  const list: number[][] = [];
  for (let s = 0; s < w * h; s++) {
    if (part[s]! >= 0 || !open(s)) continue;
    const id = list.length;
    const cells = [s];
    part[s] = id;
    for (let q = 0; q < cells.length; q++)
      eachBeside(cells[q]!, w, w * h, (j) => {
        if (part[j]! < 0 && open(j)) {
          part[j] = id;
          cells.push(j);
        }
      });
    list.push(cells);
  }
  return { part, list };
}

/** Grows marked areas (numbers from 0, -1 none) over the cells that are far from ink first, so that two of them meet where the
 *  passage between them is narrowest (a watershed with markers, Meyer 1994). Cells of distance 0 are left at -1. */
export function growMarked(marks: Int32Array, distance: Float32Array, w: number, h: number): Int32Array {
  const level = (i: number): number => Math.min(1023, Math.floor(distance[i]! * 4));
  const buckets: number[][] = Array.from({ length: 1024 }, () => []);
  const area = Int32Array.from(marks);
  const queued = new Uint8Array(w * h);
  for (let i = 0; i < w * h; i++)
    if (area[i]! >= 0) {
      queued[i] = 1;
      buckets[level(i)]!.push(i);
    }
  for (let l = 1023; l >= 0; ) {
    const i = buckets[l]!.pop();
    if (i === undefined) {
      l--;
      continue;
    }
    eachBeside(i, w, w * h, (j) => {
      if (queued[j] || distance[j]! <= 0) return;
      queued[j] = 1;
      area[j] = area[i]!;
      // never above the level that is being emptied: a passage is as wide as its narrowest place
      buckets[Math.min(l, level(j))]!.push(j);
    });
  }
  return area;
}

/** The cells along the outer edge. */
export function rimOf(w: number, h: number): number[] {
  const rim: number[] = [];
  for (let x = 0; x < w; x++) rim.push(x, (h - 1) * w + x);
  for (let y = 1; y < h - 1; y++) rim.push(y * w, y * w + w - 1);
  return rim;
}

/** Grows a mask inside another by so many steps. */
export function growWithin(from: Uint8Array, whole: Uint8Array, w: number, h: number, steps: number): Uint8Array {
  const out = Uint8Array.from(from);
  let front: number[] = [];
  for (let i = 0; i < w * h; i++) if (out[i]) front.push(i);
  for (let s = 0; s < steps && front.length; s++) {
    const next: number[] = [];
    for (const i of front)
      eachBeside(i, w, w * h, (j) => {
        if (out[j] || !whole[j]) return;
        out[j] = 1;
        next.push(j);
      });
    front = next;
  }
  return out;
}
