// Parts of a mask that hang together also by their corners.

/** The cells of each 8-connected part, in the order of their first cells. */
export function partsOf8(mask: Uint8Array, w: number, h: number): number[][] {
  const seen = new Uint8Array(w * h);
  const parts: number[][] = [];
  for (let s = 0; s < w * h; s++) {
    if (!mask[s] || seen[s]) continue;
    const cells = [s];
    seen[s] = 1;
    for (let q = 0; q < cells.length; q++) {
      const i = cells[q]!;
      const x = i % w;
      for (let dy = -w; dy <= w; dy += w)
        for (let dx = x > 0 ? -1 : 0; dx <= (x < w - 1 ? 1 : 0); dx++) {
          const j = i + dy + dx;
          if (j < 0 || j >= w * h || seen[j] || !mask[j]) continue;
          seen[j] = 1;
          cells.push(j);
        }
    }
    parts.push(cells);
  }
  return parts;
}
