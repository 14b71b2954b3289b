// The label borders as chains of points (see ../borders.ts), as they were handed in.
import { Bytes, Doubles, Ints } from './memory';

export class Borders {
  static count: i32 = 0;
  static x: usize = 0;
  static y: usize = 0;
  static first: usize = 0;
  static past: usize = 0;
  static closed: usize = 0;
}

export function borderX(i: i32): f64 {
  return changetype<Doubles>(Borders.x)[i];
}
export function borderY(i: i32): f64 {
  return changetype<Doubles>(Borders.y)[i];
}

/** The line found last: nx·x + ny·y = d. */
export class Line {
  static nx: f64 = 0;
  static ny: f64 = 0;
  static d: f64 = 0;
}

/** A line through a border point and another some way along its chain, into Line; false where the two coincide. */
export function chordThrough(i: i32, away: i32): bool {
  const first = changetype<Ints>(Borders.first)[i];
  const n = changetype<Ints>(Borders.past)[i] - first;
  let j = i + away;
  if (changetype<Bytes>(Borders.closed)[i]) j = first + ((((j - first) % n) + n) % n);
  else j = max(first, min(first + n - 1, j));
  const x = borderX(i);
  const y = borderY(i);
  const dx = borderX(j) - x;
  const dy = borderY(j) - y;
  const length = Math.sqrt(dx * dx + dy * dy);
  if (length < 1e-6) return false;
  Line.nx = -dy / length;
  Line.ny = dx / length;
  Line.d = Line.nx * x + Line.ny * y;
  return true;
}
