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

/** The same frame inside the picture: smaller about its middle where it is larger than the picture, then moved in. One that was found
 *  may reach beyond; one that is drawn may not. */
export function insideBox([x, y, w, h]: Box): Box {
  const k = Math.min(1, 1 / w, 1 / h);
  const [width, height] = [w * k, h * k];
  return [
    round(within(x + (w - width) / 2, 0, 1 - width)),
    round(within(y + (h - height) / 2, 0, 1 - height)),
    round(width),
    round(height),
  ];
}

/** The picture and as much beyond it as a frame reaches that is turned clockwise about its middle, in shares of the picture. `aspect` is
 *  the picture's width over its height. */
export function viewAround([x, y, w, h]: Box, turn: number, aspect: number): Box {
  const corners = [
    [0, 0],
    [1, 0],
    [0, 1],
    [1, 1],
  ].map(([u, v]) => turnedPlace([x, y, w, h], turn, aspect, u!, v!));
  const [left, top, right, bottom] = [
    Math.min(0, ...corners.map((c) => c[0])),
    Math.min(0, ...corners.map((c) => c[1])),
    Math.max(1, ...corners.map((c) => c[0])),
    Math.max(1, ...corners.map((c) => c[1])),
  ];
  return [left, top, right - left, bottom - top];
}

/** Where a place in a turned frame (shares of the frame) is on the picture (shares of that). */
export function turnedPlace(
  [x, y, w, h]: Box,
  turn: number,
  aspect: number,
  u: number,
  v: number,
): readonly [number, number] {
  const [dx, dy] = turned((u - 0.5) * w, (v - 0.5) * h, turn, aspect);
  return [x + w / 2 + dx, y + h / 2 + dy];
}

/** A step on the picture, in shares of it, turned clockwise by degrees. */
export function turned(dx: number, dy: number, degrees: number, aspect: number): readonly [number, number] {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return [dx * c - (dy / aspect) * s, dx * aspect * s + dy * c];
}

/** The largest frame of a shape about the middle of another. */
export function shapedBox([x, y, w, h]: Box, ratio: number): Box {
  const width = Math.min(w, h * ratio);
  const height = width / ratio;
  return [round(x + (w - width) / 2), round(y + (h - height) / 2), round(width), round(height)];
}
