// Connected regions of a grid of labels, and what a disc can cover of them.

export interface Regions {
  /** for each cell its region */
  readonly region: Int32Array;
  readonly list: { readonly label: number; readonly cells: Int32Array }[];
}

/** 4-connected regions of one label, in the order of their first cells. */
export function findRegions(labels: ArrayLike<number>, w: number, h: number): Regions {
  const region = new Int32Array(w * h).fill(-1);
  const stack = new Int32Array(w * h);
  const list: { label: number; cells: Int32Array }[] = [];
  for (let s = 0; s < w * h; s++) {
    if (region[s]! >= 0) continue;
    const id = list.length;
    const label = labels[s]!;
    let end = 0;
    let next = 0;
    stack[end++] = s;
    region[s] = id;
    while (next < end) {
      const i = stack[next++]!;
      const x = i % w;
      const visit = (j: number): void => {
        if (region[j]! < 0 && labels[j] === label) {
          region[j] = id;
          stack[end++] = j;
        }
      };
      if (x > 0) visit(i - 1);
      if (x < w - 1) visit(i + 1);
      if (i >= w) visit(i - w);
      if (i < w * (h - 1)) visit(i + w);
    }
    list.push({ label, cells: stack.slice(0, end) });
  }
  return { region, list };
}

/** Offsets of a disc of the given diameter, in cells. An even diameter gets a disc about a cell's corner. */
export function discOffsets(diameter: number): [number, number][] {
  const d = Math.max(1, Math.round(diameter));
  const c = (d - 1) / 2;
  const r = diameter / 2;
  const out: [number, number][] = [];
  for (let y = 0; y < d; y++)
    for (let x = 0; x < d; x++)
      if (Math.hypot(x - c, y - c) <= Math.max(r, 0.5)) out.push([x - Math.floor(c), y - Math.floor(c)]);
  return out;
}

/** 1 where some disc that lies in the cell's own label (the frame counts as inside) covers the cell: an opening of every
 *  label at once. */
export function coveredByDisc(labels: ArrayLike<number>, w: number, h: number, diameter: number): Uint8Array {
  const offsets = discOffsets(diameter);
  const covered = new Uint8Array(w * h);
  const reach = Math.ceil(diameter);
  for (let y = -reach; y < h + reach; y++)
    for (let x = -reach; x < w + reach; x++) {
      let label = -1;
      let whole = true;
      for (const [dx, dy] of offsets) {
        const X = x + dx;
        const Y = y + dy;
        if (X < 0 || Y < 0 || X >= w || Y >= h) continue;
        const l = labels[Y * w + X]!;
        if (label < 0) label = l;
        else if (l !== label) {
          whole = false;
          break;
        }
      }
      if (!whole || label < 0) continue;
      for (const [dx, dy] of offsets) {
        const X = x + dx;
        const Y = y + dy;
        if (X >= 0 && Y >= 0 && X < w && Y < h) covered[Y * w + X] = 1;
      }
    }
  return covered;
}
