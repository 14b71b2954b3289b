// Chooses the part of a picture that a block of a given aspect shows. On a plain ground the whole of what stands on it,
// with room around, even where that reaches past the picture (the ground goes on there); else the liveliest part.
import { UserError } from '../problems/problem.ts';
import { findGround } from './ground.ts';

export type Box = readonly [x: number, y: number, width: number, height: number];

export interface Crop {
  readonly box: Box;
  /** the colour to go on with outside the picture; present only on a plain ground */
  readonly ground?: readonly [number, number, number];
}

/** Room left around what stands on a plain ground, as a share of its longer side. */
const ROOM = 0.06;

/** The start of a span of length `want` with [from, to] in its middle, inside [0, size] where it can be. Content that one
 *  end of the picture cuts stays at that end: its cut edge must not float inside the block. */
function placeSpan(from: number, to: number, want: number, size: number, cutStart: boolean, cutEnd: boolean): number {
  if (cutStart && !cutEnd) return 0;
  if (cutEnd && !cutStart) return size - want;
  const start = (from + to - want) / 2;
  return want <= size ? Math.max(0, Math.min(size - want, start)) : start;
}

/** Where along the free axis a window shows most: contrast to the neighbours, with a lean to the middle, or above it in an
 *  upright picture, where heads are. */
function liveliest(rgb: Uint8Array, width: number, height: number, want: number, across: boolean): number {
  const size = across ? width : height;
  const energy = new Float64Array(size + 1);
  for (let y = 2; y < height - 2; y += 2)
    for (let x = 2; x < width - 2; x += 2) {
      const i = 3 * (y * width + x);
      let e = 0;
      for (let c = 0; c < 3; c++)
        e += Math.abs(rgb[i + c]! - rgb[i + c + 6]!) + Math.abs(rgb[i + c]! - rgb[i + c + 6 * width]!);
      energy[(across ? x : y) + 1]! += Math.min(e, 200);
    }
  for (let i = 1; i <= size; i++) energy[i]! += energy[i - 1]!;
  const total = energy[size]! || 1;
  let best = (size - want) / 2;
  let most = -Infinity;
  for (let k = 0; k <= 32; k++) {
    const start = ((size - want) * k) / 32;
    const share = (energy[Math.round(start + want)]! - energy[Math.round(start)]!) / total;
    const off = Math.abs((start + want / 2) / size - (across ? 0.5 : 0.4));
    const worth = share - (across ? 0.5 : 1) * off;
    if (worth > most + 1e-9) {
      most = worth;
      best = start;
    }
  }
  return best;
}

/** `aspect` = block width / height; the box is in pixels of this picture and may reach outside only with a ground. */
export function chooseCrop(rgb: Uint8Array, width: number, height: number, aspect: number): Crop {
  const most = Math.min(width, height * aspect);
  const found = findGround(rgb, width, height);
  const [left, top, right, bottom] = found?.content ?? [0, 0, width, height];
  const bare = Math.max(right - left, (bottom - top) * aspect);
  if (!found || (bare > most && !found.even)) {
    const box: Box = [0, 0, most, most / aspect];
    if (width / height > aspect) return { box: [liveliest(rgb, width, height, most, true), 0, box[2], box[3]] };
    return { box: [0, liveliest(rgb, width, height, box[3], false), box[2], box[3]] };
  }
  const { cut } = found;
  const room = ROOM * Math.max(right - left, bottom - top);
  const sides = (a: boolean, b: boolean): number => (a ? 0 : room) + (b ? 0 : room);
  const full = Math.max(right - left + sides(cut[0], cut[2]), (bottom - top + sides(cut[1], cut[3])) * aspect);
  // Room is taken from the picture only; its ground is continued only where what stands on it would be cut off.
  const w = bare <= most ? Math.min(full, most) : full;
  const h = w / aspect;
  const x = placeSpan(left, right, w, width, cut[0], cut[2]);
  const y = placeSpan(top, bottom, h, height, cut[1], cut[3]);
  return { box: [x, y, w, h], ground: found.rgb };
}

/** The largest box of the aspect in the middle of one that the person chose: fractions of the picture where every number
 *  is at most 1, else pixels of the upright picture. */
export function chosenCrop(
  crop: Box,
  pixels: readonly [number, number],
  scale: number,
  aspect: number,
): Box | undefined {
  const fractions = crop.every((v) => v <= 1);
  const [fx, fy] = fractions ? [pixels[0] * scale, pixels[1] * scale] : [scale, scale];
  const [x, y, w, h] = [crop[0] * fx, crop[1] * fy, crop[2] * fx, crop[3] * fy];
  if (x < -0.5 || y < -0.5 || w < 8 || h < 8 || x + w > pixels[0] * scale + 1 || y + h > pixels[1] * scale + 1)
    return undefined;
  if (w / h > aspect) return [x + (w - h * aspect) / 2, y, h * aspect, h];
  return [x, y + (h - w / aspect) / 2, w, w / aspect];
}

/** Room left around a subject, as a share of its longer side. */
const SUBJECT_ROOM = 0.09;

/** A subject's box in pixels of the upright picture, and whether the picture's left, top, right, bottom side cuts it. */
export interface SubjectBox {
  readonly box: Box;
  readonly cut: readonly [boolean, boolean, boolean, boolean];
}

/** The box of the aspect around a subject, with room on the sides that do not cut it, in pixels. It stays inside the picture,
 *  where it may then cut the subject, unless it may reach `beyond`: and even then not past a side that cuts the subject. */
export function cropAround(
  subject: SubjectBox,
  pixels: readonly [number, number],
  aspect: number,
  beyond: boolean,
): Box {
  const [width, height] = pixels;
  const { box, cut } = subject;
  const [left, top] = box;
  const [right, bottom] = [left + box[2], top + box[3]];
  const room = SUBJECT_ROOM * Math.max(box[2], box[3]);
  const [x0, x1] = [cut[0] ? 0 : left - room, cut[2] ? width : right + room];
  const [y0, y1] = [cut[1] ? 0 : top - room, cut[3] ? height : bottom + room];
  const whole = Math.max(x1 - x0, (y1 - y0) * aspect);
  const mostAcross = beyond && !(cut[0] && cut[2]) ? Infinity : width;
  const mostDown = beyond && !(cut[1] && cut[3]) ? Infinity : height;
  const w = Math.min(whole, mostAcross, mostDown * aspect);
  const h = w / aspect;
  const inside = (v: number, size: number, length: number): number =>
    beyond || length > size ? v : Math.max(0, Math.min(size - length, v));
  // where not all of it can be shown its upper part is: that is where the head is
  const down = h < y1 - y0 && !cut[1] ? y0 : placeSpan(y0, y1, h, height, cut[1], cut[3]);
  return [inside(placeSpan(x0, x1, w, width, cut[0], cut[2]), width, w), inside(down, height, h), w, h];
}

/** A box about the subject, given as shares of the picture or in its pixels, in pixels. Throws UserError where it leaves the picture. */
export function boxInPixels(
  box: Box,
  { pixels, name }: { readonly pixels: readonly [number, number]; readonly name: string },
): Box {
  const [sx, sy] = box.every((v) => v <= 1) ? pixels : [1, 1];
  const [x, y, w, h] = [box[0] * sx, box[1] * sy, box[2] * sx, box[3] * sy];
  if (w < 1 || h < 1 || x + w > pixels[0] + 1 || y + h > pixels[1] + 1)
    throw new UserError('outside-picture', { field: 'subject', box, file: name, pixels }, 2);
  return [x, y, w, h];
}
