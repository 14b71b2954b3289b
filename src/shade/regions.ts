// What a disc can cover of the regions of a grid of labels.

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
  const across = Int32Array.from(offsets, ([dx]) => dx);
  const down = Int32Array.from(offsets, ([, dy]) => dy);
  const covered = new Uint8Array(w * h);
  const reach = Math.ceil(diameter);
  for (let y = -reach; y < h + reach; y++)
    for (let x = -reach; x < w + reach; x++) {
      let label = -1;
      let whole = true;
      for (let q = 0; q < across.length; q++) {
        const X = x + across[q]!;
        const Y = y + down[q]!;
        if (X < 0 || Y < 0 || X >= w || Y >= h) continue;
        const l = labels[Y * w + X]!;
        if (label < 0) label = l;
        else if (l !== label) {
          whole = false;
          break;
        }
      }
      if (!whole || label < 0) continue;
      for (let q = 0; q < across.length; q++) {
        const X = x + across[q]!;
        const Y = y + down[q]!;
        if (X >= 0 && Y >= 0 && X < w && Y < h) covered[Y * w + X] = 1;
      }
    }
  return covered;
}
