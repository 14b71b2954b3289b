// Connected regions of a grid of labels.

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
      if (x > 0 && region[i - 1]! < 0 && labels[i - 1] === label) {
        region[i - 1] = id;
        stack[end++] = i - 1;
      }
      if (x < w - 1 && region[i + 1]! < 0 && labels[i + 1] === label) {
        region[i + 1] = id;
        stack[end++] = i + 1;
      }
      if (i >= w && region[i - w]! < 0 && labels[i - w] === label) {
        region[i - w] = id;
        stack[end++] = i - w;
      }
      if (i < w * (h - 1) && region[i + w]! < 0 && labels[i + w] === label) {
        region[i + w] = id;
        stack[end++] = i + w;
      }
    }
    list.push({ label, cells: stack.slice(0, end) });
  }
  return { region, list };
}
