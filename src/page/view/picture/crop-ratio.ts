// Frames on the picture, in shares of it, kept inside it and, for the block's frame, in the block's shape.
import type { Box } from '../../api.ts';

const LEAST = 0.05;
/** Where there is less room than the least, the room is all there is. */
const within = (v: number, least: number, most: number): number => Math.max(Math.min(least, most), Math.min(most, v));
const round = (v: number): number => Math.round(v * 10000) / 10000;

/** The frame moved by shares, kept inside. */
export const movedBox = ([x, y, w, h]: Box, dx: number, dy: number): Box => [
  round(within(x + dx, 0, 1 - w)),
  round(within(y + dy, 0, 1 - h)),
  w,
  h,
];

/** A corner of the frame moved: `right` and `low` say which. `ratio` is the width in shares over the height in shares. */
export function sizedBox(
  [x, y, w, h]: Box,
  right: boolean,
  low: boolean,
  dx: number,
  dy: number,
  ratio: number | undefined,
): Box {
  const [fixedX, fixedY] = [right ? x : x + w, low ? y : y + h];
  const [roomX, roomY] = [right ? 1 - fixedX : fixedX, low ? 1 - fixedY : fixedY];
  let width = within(w + (right ? dx : -dx), LEAST, roomX);
  let height = within(h + (low ? dy : -dy), LEAST, roomY);
  if (ratio !== undefined) {
    // the larger of the two wishes counts, as far as there is room
    width = within(
      Math.abs(dx) >= Math.abs(dy) * ratio ? width : height * ratio,
      LEAST,
      Math.min(roomX, roomY * ratio),
    );
    height = width / ratio;
  }
  return [round(right ? fixedX : fixedX - width), round(low ? fixedY : fixedY - height), round(width), round(height)];
}

/** The largest frame of a shape about the middle of another. */
export function shapedBox([x, y, w, h]: Box, ratio: number): Box {
  const width = Math.min(w, h * ratio);
  const height = width / ratio;
  return [round(x + (w - width) / 2), round(y + (h - height) / 2), round(width), round(height)];
}
