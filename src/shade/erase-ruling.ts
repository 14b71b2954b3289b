// Takes the ruling of notebook paper, or the squares of graph paper, out of a drawing: long thin lines at even distances.
// Takes a Picture and how dark each pixel is against its paper; gives the picture with paper where the lines were.
import type { Picture } from '../data.ts';

/** Darkness from which a line may be one of the paper's: they are printed pale. */
const PALE = 0.045;
/** Slants that are looked at, to either side, in radians, and how many. */
const SLANT = 0.05;
const SLANTS = 41;
/** Share of the paper's width that a line has at least, and how many of them at even distances make a ruling. */
const LONG = 0.6;
const FEWEST = 4;
/** Widest line and nearest two, as shares of the picture's longer side. */
const WIDE = 0.008;
const NEAREST = 0.015;
/** How far a distance may stray from the usual one, as a share of it, one missing line counted as two distances. */
const STRAY = 0.12;
/** Columns over which a line is followed from its straight course, and pixels by which it may bend from one to the next. */
const STEP = 12;
const BEND = 1;

/** A picture's rows or columns, as if the lines ran from left to right. */
interface Turned {
  readonly w: number;
  readonly h: number;
  at(x: number, y: number): number;
}

/** For each row at its left end how much of the slanted line from there is ink, 0..1; every `step`th column is looked at.
 *  `inked` is w x h, rows as `turned` has them. */
function profile(inked: Uint8Array, w: number, h: number, slant: number, step: number): Float32Array {
  const sums = new Float32Array(h);
  const seen = new Float32Array(h);
  for (let x = 0; x < w; x += step) addColumn(inked, w, x, Math.round((x - w / 2) * slant), sums, seen);
  return sums.map((v, y) => (seen[y]! > w / step / 2 ? v / seen[y]! : 0));
}

/** Adds to each row's sum what column `x` shows `shift` rows below it, and to `seen` that it was looked at. */
function addColumn(
  inked: Uint8Array,
  w: number,
  x: number,
  shift: number,
  sums: Float32Array,
  seen: Float32Array,
): void {
  const end = Math.min(sums.length, sums.length - shift);
  for (let y = Math.max(0, -shift), i = (y + shift) * w + x; y < end; y++, i += w) {
    sums[y]! += inked[i]!;
    seen[y]!++;
  }
}

/** Rows of a profile at which lines of a ruling lie, with how wide they are; none where they are not evenly apart. */
function rulesIn(rows: Float32Array, longer: number): { y: number; width: number }[] {
  const most = Math.max(3, WIDE * longer);
  const found: { y: number; width: number }[] = [];
  for (let y = 0; y < rows.length; y++) {
    if (rows[y]! < LONG) continue;
    let end = y;
    while (end + 1 < rows.length && rows[end + 1]! >= LONG / 2) end++;
    let start = y;
    while (start > 0 && rows[start - 1]! >= LONG / 2) start--;
    if (end - start + 1 <= most) found.push({ y: (start + end) / 2, width: end - start + 1 });
    y = end;
  }
  const gaps = found.slice(1).map((f, i) => f.y - found[i]!.y);
  const usual = [...gaps].sort((a, b) => a - b)[gaps.length >> 1] ?? 0;
  if (found.length < FEWEST || usual < NEAREST * longer) return [];
  const even = gaps.filter((g) => {
    const times = Math.max(1, Math.round(g / usual));
    return Math.abs(g - times * usual) < STRAY * usual;
  });
  return even.length >= 0.8 * gaps.length ? found : [];
}

/** Paints over the lines that run from left to right; gives how many there were. */
function eraseAlong(pixels: Uint8Array, dark: Float32Array, turned: Turned): number {
  const { w, h, at } = turned;
  const inked = new Uint8Array(w * h);
  for (let y = 0, i = 0; y < h; y++) for (let x = 0; x < w; x++, i++) inked[i] = dark[at(x, y)]! > PALE ? 1 : 0;
  let slant = 0;
  let best = -1;
  for (let s = 0; s < SLANTS; s++) {
    const tried = SLANT * ((2 * s) / (SLANTS - 1) - 1);
    const sharp = profile(inked, w, h, tried, 8).reduce((t, v) => t + v ** 4, 0);
    if (sharp > best) {
      best = sharp;
      slant = tried;
    }
  }
  const rules = rulesIn(profile(inked, w, h, slant, 1), Math.max(w, h));
  for (const { y, width } of rules) {
    const half = Math.ceil(width / 2) + 1;
    let bend = 0;
    for (let from = 0; from < w; from += STEP) {
      const to = Math.min(w, from + STEP);
      const row = (x: number, b: number): number => Math.round(y + (x - w / 2) * slant) + b;
      // where the line runs here: it may bend a little from one step to the next
      let most = -1;
      const was = bend;
      for (let b = was - BEND; b <= was + BEND; b++) {
        let sum = b === was ? 0.01 : 0;
        for (let x = from; x < to; x++) {
          const r = row(x, b);
          if (r >= 0 && r < h) sum += Math.min(0.2, dark[at(x, r)]!);
        }
        if (sum > most) {
          most = sum;
          bend = b;
        }
      }
      for (let x = from; x < to; x++) {
        const r = row(x, bend);
        const [top, bottom] = [r - half, r + half];
        if (top < 1 || bottom > h - 2) continue;
        // ink that goes on above or below is a stroke that crosses the line
        const crossed = [top - 1, top, bottom, bottom + 1].some((q) => dark[at(x, q)]! > 2 * PALE);
        if (crossed) continue;
        const [a, b] = [3 * at(x, top), 3 * at(x, bottom)];
        for (let q = top + 1; q < bottom; q++)
          for (let c = 0; c < 3; c++)
            pixels[3 * at(x, q) + c] = Math.round(
              pixels[a + c]! + ((pixels[b + c]! - pixels[a + c]!) * (q - top)) / (bottom - top),
            );
      }
    }
  }
  return rules.length;
}

/** The picture without its ruling, and how many lines it had; the picture itself where it has none. */
export function eraseRuling(picture: Picture, dark: Float32Array): { picture: Picture; lines: number } {
  const { width: w, height: h } = picture;
  const pixels = Uint8Array.from(picture.pixels);
  const across = eraseAlong(pixels, dark, { w, h, at: (x, y) => y * w + x });
  const down = eraseAlong(pixels, dark, { w: h, h: w, at: (x, y) => x * w + y });
  return across + down ? { picture: { ...picture, pixels }, lines: across + down } : { picture, lines: 0 };
}
