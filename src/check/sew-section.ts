// Sews one section in the mind: piece by piece, each by one straight seam. Takes the section's numbered loops and seams,
// gives the faults. Assumes that the loops cover the section once (tiling.ts).
import type { Fault } from '../data.ts';
import { Border, type CornerTable, contact, type Loop } from './corners.ts';
import { bend, between, type Micro, notConvexAt, OFF_LINE, offSegment, SEAM_END } from './exact.ts';
import { fault } from './fault.ts';

export interface SewnPiece {
  readonly name: string;
  readonly loop: Loop;
  readonly seam: readonly [Micro, Micro] | null;
}

/** Faults of sewing `pieces` in the order given. */
export function sewSection(table: CornerTable, pieces: readonly SewnPiece[], shortest: number): Fault[] {
  const faults: Fault[] = [];
  const sewn = new Border();
  const corners: number[] = [];
  pieces.forEach((piece, i) => {
    const own = piece.loop;
    const at = table.at(own[0]!);
    if (i === 0) {
      if (piece.seam)
        faults.push(fault('seam', at, `${piece.name} is laid first and has no seam, but the file gives it one.`));
    } else {
      const run = contact(new Border().add(own), sewn);
      const before = i === 1 ? pieces[0]!.name : `the ${i} pieces sewn before it`;
      if (!run)
        faults.push(
          fault('order', at, `${piece.name} would have to be set in: it touches ${before} in more than one place.`),
        );
      else if (!run.length) faults.push(fault('order', at, `${piece.name} does not touch ${before}.`));
      else {
        faults.push(...checkSeam(table, run, piece.seam, piece.name, shortest));
        const [a, b] = [table.at(run[0]!), table.at(run.at(-1)!)];
        // Positive order has a loop's own inside on the positive side of its edges.
        const across = firstAcross(table, a, b, own, 1);
        const earlier = firstAcross(table, a, b, corners, -1);
        if (across) faults.push(fault('seam', across, `${piece.name} lies on both sides of its seam.`));
        if (earlier)
          faults.push(fault('order', earlier, `${piece.name}: a piece sewn before it reaches across its seam.`));
      }
    }
    sewn.add(own);
    corners.push(...own);
    const union = sewn.loop();
    const dent = union
      ? notConvexAt(
          union.map((c) => table.at(c)),
          bend(table.slack),
        )
      : at;
    if (i > 0 && dent)
      faults.push(
        fault(
          'order',
          dent,
          `${piece.name}: its seam does not run right across what is sewn by then; a corner is left open there.`,
        ),
      );
  });
  return faults;
}

/** Faults of a seam against the run of corners along which the two sides touch. */
export function checkSeam(
  table: CornerTable,
  run: Loop,
  seam: readonly [Micro, Micro] | null,
  name: string,
  shortest: number,
): Fault[] {
  const faults: Fault[] = [];
  const [a, b] = [table.at(run[0]!), table.at(run.at(-1)!)];
  const kink = run.map((c) => table.at(c)).find((c) => Math.abs(offSegment(a, b, c).off) > bend(table.slack));
  if (kink) faults.push(fault('seam', kink, `${name}: the seam is not straight; it bends here.`));
  const middle: Micro = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  if (!seam) faults.push(fault('seam', middle, `${name}: the file gives no seam.`));
  else {
    const [p, q] = seam;
    const ends = Math.min(Math.max(between(a, p), between(b, q)), Math.max(between(a, q), between(b, p)));
    const aside = Math.max(...seam.map((end) => Math.abs(offSegment(a, b, end).off)));
    if (ends > SEAM_END || aside > 2 * OFF_LINE)
      faults.push(
        fault(
          'seam',
          middle,
          `${name}: the seam in the file is not the edge where the two sides meet; it is off by ${mmText(Math.max(ends, aside))} mm.`,
        ),
      );
  }
  const length = between(a, b);
  if (length < shortest - OFF_LINE)
    faults.push(
      fault(
        'short seam',
        middle,
        `${name}: the seam is ${mmText(length)} mm long, shorter than ${mmText(shortest)} mm.`,
      ),
    );
  return faults;
}

/** The first corner that lies on the wrong side of the line a-b; past its ends the line is less certain the farther out. */
export function firstAcross(table: CornerTable, a: Micro, b: Micro, corners: Loop, side: 1 | -1): Micro | undefined {
  for (const c of corners) {
    const { off, along, length } = offSegment(a, b, table.at(c));
    const past = Math.max(0, -along, along - length) / Math.max(length, 1);
    if (side * off < -bend(table.slack) * (1 + 2 * past)) return table.at(c);
  }
  return undefined;
}

export const mmText = (micro: number): string => (Math.round(micro / 10) / 100).toString();
