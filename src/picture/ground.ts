// Takes a working picture, says whether its frame shows one plain ground and where what stands on it lies.
import { type Lab, labDistance, oklabOfRgb, writeOklab } from '../colour/oklab.ts';

export interface Ground {
  readonly rgb: readonly [number, number, number];
  /** so even, all round, that it can go on outside the picture without a visible edge */
  readonly even: boolean;
  /** what stands out from the ground, in pixels: left, top, right, bottom (the last two not included) */
  readonly content: readonly [number, number, number, number];
  /** whether what stands on the ground is cut by the picture's left, top, right, bottom side (a mere touch is no cut) */
  readonly cut: readonly [boolean, boolean, boolean, boolean];
}

/** How far in OKLab paper and its noise may stray from the ground's colour. */
const NEAR = 0.07;
const SAME = 0.025;
/** Share of the frame that must show the ground. */
const MOST_OF_FRAME = 0.8;
/** Share of the frame that must be of one colour where the ground is to be continued. */
const EVEN_FRAME = 0.75;
/** Share of the content's extent along a side of the picture, over which the side cuts it. */
const TOUCH = 0.12;

/** Undefined where the frame shows no plain ground. `rgb` is width x height x 3. */
export function findGround(rgb: Uint8Array, width: number, height: number): Ground | undefined {
  const frame: number[] = [];
  for (let x = 0; x < width; x++) frame.push(x, (height - 1) * width + x);
  for (let y = 1; y < height - 1; y++) frame.push(y * width, y * width + width - 1);
  const middle = (c: number): number => {
    const values = frame.map((i) => rgb[3 * i + c]!).sort((a, b) => a - b);
    return values[values.length >> 1]!;
  };
  const ground: [number, number, number] = [middle(0), middle(1), middle(2)];
  const lab: Lab = oklabOfRgb(...ground);
  const own: [number, number, number] = [0, 0, 0];
  const away = (i: number): number => {
    writeOklab(rgb[3 * i]!, rgb[3 * i + 1]!, rgb[3 * i + 2]!, own, 0);
    return labDistance(own, lab);
  };
  let near = 0;
  let same = 0;
  for (const i of frame) {
    const d = away(i);
    if (d < NEAR) near++;
    if (d < SAME) same++;
  }
  if (near < MOST_OF_FRAME * frame.length) return undefined;
  const columns = new Uint32Array(width);
  const rows = new Uint32Array(height);
  const step = Math.max(1, Math.floor(Math.max(width, height) / 512));
  for (let y = 0; y < height; y += step)
    for (let x = 0; x < width; x += step)
      if (away(y * width + x) >= NEAR) {
        columns[x]!++;
        rows[y]!++;
      }
  const span = (counts: Uint32Array, least: number): [number, number] => {
    let from = 0;
    let to = counts.length;
    while (from < to && counts[from]! * step < least) from++;
    while (to > from && counts[to - 1]! * step < least) to--;
    return [from, Math.min(counts.length, to + step - 1)];
  };
  // a line or two of noise is no content
  const [left, right] = span(columns, Math.max(2, height / 250));
  const [top, bottom] = span(rows, Math.max(2, width / 250));
  if (right <= left || bottom <= top) return undefined;
  // a side cuts the content where they share more than a touch
  const off = (i: number): number => (away(i) >= NEAR ? 1 : 0);
  const touch = [0, 0, 0, 0];
  for (let y = 0; y < height; y++) {
    touch[0]! += off(y * width);
    touch[2]! += off(y * width + width - 1);
  }
  for (let x = 0; x < width; x++) {
    touch[1]! += off(x);
    touch[3]! += off((height - 1) * width + x);
  }
  const share = [bottom - top, right - left, bottom - top, right - left];
  const cut = touch.map((t, i) => t > TOUCH * share[i]!) as [boolean, boolean, boolean, boolean];
  return { rgb: ground, even: same >= EVEN_FRAME * frame.length, content: [left, top, right, bottom], cut };
}
