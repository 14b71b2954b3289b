// Takes a grid of labels and their colours; gives the small regions that stand out (eyes, noses, beaks) and the face round
// them. Shared by the fit, which keeps them, and by those who judge a block.
import { type Lab, labDistance } from '../colour/oklab.ts';

export interface SmallRegion {
  readonly label: number;
  readonly cells: Int32Array;
}

/** OKLab distance from what surrounds it, averaged along the border, from which a region stands out (house rule) */
const STANDS_OUT = 0.12;
/** share of the block up to which a region is a detail (house rule) */
const LARGEST_SHARE = 0.04;
/** more details than this are a texture: none of them is a landmark */
const MOST_LANDMARKS = 16;

/** how far from the middle of an eye or a nose, beyond its radius, the face reaches (house rule), as a share of the block */
export const FACE_REACH = 0.125;

/** @param least cells under which a region is too small to be pieced */
export function findLandmarks(
  labels: Uint8Array,
  width: number,
  height: number,
  colours: readonly Lab[],
  least: number,
): SmallRegion[] {
  const seen = new Uint8Array(labels.length);
  const stack = new Int32Array(labels.length);
  const found: SmallRegion[] = [];
  for (let start = 0; start < labels.length; start++) {
    if (seen[start]) continue;
    const label = labels[start]!;
    const cells: number[] = [];
    let [top, contrast, border] = [0, 0, 0];
    stack[top++] = start;
    seen[start] = 1;
    while (top > 0) {
      const i = stack[--top]!;
      cells.push(i);
      const x = i % width;
      for (const j of [x > 0 ? i - 1 : -1, x < width - 1 ? i + 1 : -1, i - width, i + width]) {
        if (j < 0 || j >= width * height) continue;
        if (labels[j] !== label) {
          contrast += labDistance(colours[labels[j]!]!, colours[label]!);
          border++;
        } else if (!seen[j]) {
          seen[j] = 1;
          stack[top++] = j;
        }
      }
    }
    if (cells.length < least || cells.length > LARGEST_SHARE * labels.length) continue;
    if (border > 0 && contrast / border >= STANDS_OUT) found.push({ label, cells: Int32Array.from(cells) });
  }
  return found.length <= MOST_LANDMARKS ? found : [];
}

/** The face: 1 for the cells within `reach` cells of a landmark. */
export function findFace(
  landmarks: readonly SmallRegion[],
  width: number,
  height: number,
  reach: number,
): Uint8Array | undefined {
  if (landmarks.length === 0 || reach <= 0) return undefined;
  const face = new Uint8Array(width * height);
  for (const { cells } of landmarks) {
    let [x, y] = [0, 0];
    for (const i of cells) {
      x += (i % width) / cells.length;
      y += Math.floor(i / width) / cells.length;
    }
    const radius = reach + Math.sqrt(cells.length / Math.PI);
    for (let v = Math.max(0, Math.ceil(y - radius)); v <= Math.min(height - 1, y + radius); v++)
      for (let u = Math.max(0, Math.ceil(x - radius)); u <= Math.min(width - 1, x + radius); u++)
        if ((u - x) ** 2 + (v - y) ** 2 <= radius * radius) face[v * width + u] = 1;
  }
  return face;
}
