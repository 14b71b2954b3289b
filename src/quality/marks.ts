// Takes a face's features, or where none are named the landmarks of a picture (eyes, noses, beaks), and the block; judges how each is shown,
// and whether joins spare it.
import type { Block } from '../block.ts';
import type { Feature, Shading } from '../data.ts';
import { pieceOfCells } from '../geometry/cells.ts';
import type { SmallRegion } from '../geometry/landmarks.ts';
import { cross, distance, insideConvex, type Point } from '../geometry/polygon.ts';
import type { RuleFound } from './rule.ts';
import type { FlatPiece } from './seams.ts';

/** how much of a piece must lie in a landmark for the piece to show it */
const SHOWS = 0.5;

export function judgeMarks(
  marks: readonly SmallRegion[],
  { width, height }: Shading,
  block: Block,
  pieces: readonly FlatPiece[],
  scale: number,
): RuleFound[] {
  const [w, h] = block.size;
  const cellArea = (w / width) * (h / height);
  const middle = (i: number): Point => [
    (((i % width) + 0.5) * w) / width,
    ((Math.floor(i / width) + 0.5) * h) / height,
  ];
  let poorly = 0;
  let lost = 0;
  let crossed = 0;
  let near = 0;
  for (const { label, cells } of marks) {
    const places = Array.from(cells, middle);
    const own = pieces.filter((p) => p.fabric === label);
    const showing = own.filter(
      (p) => places.filter((q) => insideConvex(p.outline, q)).length * cellArea >= SHOWS * p.area,
    );
    const area = showing.reduce((n, p) => n + p.area, 0);
    const target = mean(places);
    const least = Math.min(...block.joins.flatMap((j) => places.map((q) => offSegment(j.seam[0], j.seam[1], q))));
    // a join along its edge is near, one with some of it on both sides is through it
    if (least < w / width && block.joins.some((j) => parts(j.seam, places))) crossed++;
    else if (least < 6.35 * scale) near++;
    if (area === 0) {
      lost++;
      continue;
    }
    const shown = showing
      .map((p) => [mean(p.outline), p.area / area] as const)
      .reduce<Point>((t, [q, part]) => [t[0] + q[0] * part, t[1] + q[1] * part], [0, 0]);
    const corners = showing.length > 1 ? 4 : showing[0]!.outline.length;
    const ratio = area / (cells.length * cellArea);
    if (corners < 4 || ratio < 0.7 || ratio > 1.3 || distance(shown, target) > 3.175 * scale) poorly++;
  }
  return [
    { rule: 2, name: 'eyes', holds: poorly + lost === 0, figures: { landmarks: marks.length, lost, poorly } },
    { rule: 3, name: 'joins spare eyes', holds: crossed + near === 0, figures: { crossed, near } },
  ];
}

/** The cells of eyes and noses, an eye without the pupil in it. */
export function featureRegions(features: readonly Feature[], width: number, height: number): SmallRegion[] {
  // of outlines over one another a cell belongs to the last
  const owner = pieceOfCells(
    features.map((f) => f.outline),
    width,
    height,
    [1, 1],
  );
  const regions = features.map(({ fabric }, k) => {
    const cells: number[] = [];
    owner.forEach((o, i) => {
      if (o === k) cells.push(i);
    });
    return { label: fabric, cells: Int32Array.from(cells) };
  });
  return regions.filter((r) => r.cells.length > 0);
}

/** share of a feature's cells that lies beyond a join that crosses it, at least */
const BEYOND = 0.1;

/** Whether a seam has some of these places on both sides. */
function parts([a, b]: readonly [Point, Point], places: readonly Point[]): boolean {
  const beside = places.filter((q) => {
    const t = (b[0] - a[0]) * (q[0] - a[0]) + (b[1] - a[1]) * (q[1] - a[1]);
    return t >= 0 && t <= (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
  });
  const left = beside.filter((q) => cross(a, b, q) > 0).length;
  return Math.min(left, beside.length - left) > BEYOND * places.length;
}

function mean(points: readonly Point[]): Point {
  const n = points.length;
  return [points.reduce((t, q) => t + q[0], 0) / n, points.reduce((t, q) => t + q[1], 0) / n];
}

function offSegment(a: Point, b: Point, q: Point): number {
  const square = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
  const t = Math.max(0, Math.min(1, ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / square));
  return distance(q, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
}
