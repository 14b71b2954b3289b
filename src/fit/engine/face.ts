// The cells of the face, where edges may be shorter.

import { Mirror } from './mirror';
import { Tree } from './state';

/** A byte a cell, 1 inside; none where `at` is 0. */
export class Face {
  static at: usize = 0;
  static width: i32 = 0;
  static height: i32 = 0;
}

export function inFace(x: f64, y: f64): bool {
  if (Face.at === 0) return false;
  if (Mirror.axis > 0 && x > Mirror.axis) x = 2 * Mirror.axis - x;
  const column = min(Face.width - 1, <i32>((x / Tree.width) * <f64>Face.width));
  const row = min(Face.height - 1, <i32>((y / Tree.height) * <f64>Face.height));
  return load<u8>(Face.at + <usize>(row * Face.width + column)) === 1;
}
