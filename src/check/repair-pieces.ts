// The smallest repair of bare pieces that cannot be sewn: seams carried on, pieces that turn inward divided. Takes outlines in mm
// that cover a rectangle, gives outlines that can be sewn and what was drawn in.
import type { Fault, Partition } from '../data.ts';
import { clipHalf, distance, meetLines, offLine, type Point } from '../geometry/polygon.ts';
import { canBeSewn, type Sewability } from './can-be-sewn.ts';
import { findLock } from './explain-pieces.ts';
import type { Outline } from './sewing-orders.ts';

export interface Repair {
  readonly outlines: readonly Outline[];
  /** for each outline the piece it was part of */
  readonly from: readonly number[];
  /** what was drawn in, one seam a step */
  readonly seams: readonly { readonly seam: readonly [Point, Point]; readonly text: string }[];
}

/** Most seams drawn in, and most pieces one of them may divide, before the repair gives up. */
const MOST_STEPS = 60;
const LONGEST = 6;

/** Makes pieces sewable by carrying seams on: of all seams that stop each other the one that divides fewest pieces and is shortest.
 *  Undefined where gaps or overlaps are in the way, or it does not come to an end. */
export function repairPieces(given: readonly Outline[], size: readonly [number, number]): Repair | undefined {
  let outlines: Outline[] = [...given];
  let from = given.map((_, i) => i);
  const seams: { seam: [Point, Point]; text: string }[] = [];
  for (let step = 0; step < MOST_STEPS; step++) {
    const verdict = canBeSewn(outlines, size);
    if (verdict.sewable) return { outlines, from, seams };
    if (verdict.misfits.length) return undefined;
    const dent = verdict.dented[0];
    if (dent) {
      const cut = divideDent(outlines[dent.piece]!, dent.at);
      if (!cut) return undefined;
      outlines = outlines.flatMap((o, i) => (i === dent.piece ? cut.parts : [o]));
      from = from.flatMap((f, i) => (i === dent.piece ? [f, f] : [f]));
      seams.push({ seam: cut.seam, text: 'a piece that turned inward is divided' });
      continue;
    }
    const best = carryOn(outlines, size, verdict);
    if (!best) return undefined;
    outlines = best.outlines;
    from = best.from.map((f) => from[f]!);
    seams.push({
      seam: best.seam,
      text: `a seam is carried on through ${best.crossed} ${best.crossed > 1 ? 'pieces' : 'piece'}`,
    });
  }
  return undefined;
}

/** Pieces that can be sewn, where they could not for these causes; undefined where no repair is found. */
export function mendPieces(
  partition: Partition,
  causes: readonly Fault[],
): { partition: Partition; repairs: Repair['seams'] } | undefined {
  if (!causes.length) return { partition, repairs: [] };
  const repair = repairPieces(
    partition.pieces.map((p) => p.outline),
    partition.size,
  );
  if (!repair) return undefined;
  const pieces = repair.outlines.map((outline, i) => ({
    outline,
    fabric: partition.pieces[repair.from[i]!]!.fabric,
  }));
  return { partition: { size: partition.size, pieces }, repairs: repair.seams };
}

interface Trial {
  readonly outlines: Outline[];
  readonly from: number[];
  readonly seam: [Point, Point];
  readonly crossed: number;
  readonly left: number;
}

const stuck = (v: Sewability): number =>
  v.locked.reduce((t, l) => t + l.pieces.length, 0) + (v.dented.length + v.misfits.length) * 1e6;

/** Tries every end of the first lock, through one piece, two, … and takes the shortest that frees something. */
function carryOn(
  outlines: readonly Outline[],
  size: readonly [number, number],
  verdict: Sewability,
): Trial | undefined {
  const set = verdict.locked[0]!.pieces;
  const before = stuck(verdict);
  let best: Trial | undefined;
  for (const end of findLock(outlines, set).ends) {
    let now: Trial = {
      outlines: [...outlines],
      from: outlines.map((_, i) => i),
      seam: [end.at, end.at],
      crossed: 0,
      left: before,
    };
    while (now.crossed < LONGEST && now.crossed < (best?.crossed ?? LONGEST)) {
      const on = crossNext(now, end.from, end.at);
      if (!on) break;
      now = { ...on, left: stuck(canBeSewn(on.outlines, size)) };
      if (now.left >= before) continue;
      const shorter = !best || now.crossed < best.crossed || distance(...now.seam) < distance(...best.seam);
      if (shorter) best = now;
      break;
    }
  }
  return best;
}

/** mm; far under any piece. */
const HAIR = 0.02;

/** Divides the piece that a seam from a through b enters where it has come to. */
function crossNext(now: Trial, a: Point, b: Point): Omit<Trial, 'left'> | undefined {
  const tip = now.seam[1];
  const far = distance(a, b);
  const [dx, dy] = [(b[0] - a[0]) / far, (b[1] - a[1]) / far];
  const ahead: Point = [tip[0] + dx * 10 * HAIR, tip[1] + dy * 10 * HAIR];
  const i = now.outlines.findIndex((o) =>
    [1, -1].some((turn) => o.every((p, k) => turn * offLine(p, o[(k + 1) % o.length]!, ahead) > 0)),
  );
  const piece = now.outlines[i];
  if (!piece) return undefined;
  const parts = [1, -1].map((side) =>
    onGrid(clipHalf(piece, tip, [tip[0] + dx * 100, tip[1] + dy * 100], side as 1 | -1)),
  );
  if (parts.some((p) => p.length < 3)) return undefined;
  const ends = piece.flatMap((p, k): Point[] => {
    const meet = meetLines(p, piece[(k + 1) % piece.length]!, tip, ahead);
    if (!meet) return [];
    const on = (meet[0] - tip[0]) * dx + (meet[1] - tip[1]) * dy;
    return on > HAIR && parts.every((q) => q.some((c) => distance(c, meet) < HAIR)) ? [meet] : [];
  });
  if (!ends[0]) return undefined;
  return {
    outlines: now.outlines.flatMap((o, k) => (k === i ? parts : [o])),
    from: now.from.flatMap((f, k) => (k === i ? [f, f] : [f])),
    seam: [now.seam[0], ends[0]],
    crossed: now.crossed + 1,
  };
}

const onGrid = (shape: readonly Point[]): Point[] =>
  shape
    .map((p): Point => [Math.round(p[0] * 1000) / 1000, Math.round(p[1] * 1000) / 1000])
    .filter((p, i, all) => distance(p, all[(i + 1) % all.length]!) > HAIR);

/** Divides a piece at a corner that turns inward, along the shorter of its two edges carried on. */
function divideDent(piece: Outline, near: Point): { parts: Outline[]; seam: [Point, Point] } | undefined {
  const n = piece.length;
  const area = piece.reduce((t, p, i) => t + p[0] * piece[(i + 1) % n]![1] - piece[(i + 1) % n]![0] * p[1], 0);
  let best: { parts: Outline[]; seam: [Point, Point] } | undefined;
  piece.forEach((v, i) => {
    const [p, q] = [piece[(i + n - 1) % n]!, piece[(i + 1) % n]!];
    if (Math.sign(area) * offLine(p, q, v) <= 0 || distance(p, v) === 0) return;
    // An inward corner lies on the inner side of the line between its neighbours.
    for (const other of [p, q]) {
      const dir: Point = [v[0] - other[0], v[1] - other[1]];
      const hits = piece.flatMap((c, k) => {
        const d = piece[(k + 1) % n]!;
        if (c === v || d === v) return [];
        const meet = meetLines(c, d, other, v);
        if (!meet) return [];
        const ahead = (meet[0] - v[0]) * dir[0] + (meet[1] - v[1]) * dir[1];
        const within = distance(c, meet) + distance(meet, d) < distance(c, d) + 1e-6;
        return ahead > 1e-6 && within ? [{ meet, k }] : [];
      });
      hits.sort((s, t) => distance(s.meet, v) - distance(t.meet, v));
      const hit = hits[0];
      if (!hit) continue;
      const walk = (from: number, to: number): Point[] => {
        const list: Point[] = [];
        for (let k = from; ; k = (k + 1) % n) {
          list.push(piece[k]!);
          if (k === to) return list;
        }
      };
      const parts = [onGrid([...walk(i, hit.k), hit.meet]), onGrid([...walk((hit.k + 1) % n, i), hit.meet])];
      if (parts.some((s) => s.length < 3)) continue;
      const shorter = !best || distance(v, hit.meet) < distance(...best.seam);
      // The corner that was pointed at is mended first.
      if (shorter && (distance(v, near) < 1 || !best)) best = { parts, seam: [v, hit.meet] };
    }
  });
  return best;
}
