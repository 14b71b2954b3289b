// How much work a block is and whom it suits. Takes a block that can be sewn, gives counts, a level and hours by house rules.
import type { Block, Join, Section } from '../block.ts';
import type { Skill, Work } from '../data.ts';
import { distance, narrowestWidth, type Point } from '../geometry/polygon.ts';
import { inches } from '../units.ts';

/** Seam ends nearer than this across a join are one point to match; wider apart they are two near misses. mm, house rule. */
const ONE_POINT = 0.25;

/** House rules: minutes a piece, a join and a matched point, and an hour for cutting out and clearing up. */
const MINUTES: Readonly<Record<Skill, readonly [piece: number, join: number]>> = {
  beginner: [9, 20],
  intermediate: [6, 15],
  advanced: [4, 10],
};
const POINT_MINUTES = 3;
const BASE_MINUTES = 60;

/** House rules: what a level bears; advanced bears the rest. */
const LIMITS: Readonly<
  Record<'beginner' | 'intermediate', readonly [pieces: number, narrowest: number, inSection: number, points: number]>
> = {
  beginner: [30, inches(3 / 4), 7, 6],
  intermediate: [80, inches(1 / 2), 10, 15],
};

export function measureEffort(block: Block): Work {
  const all = block.sections.flatMap((s) => s.pieces);
  const lines = [...all.flatMap((p) => (p.seam ? [p.seam] : [])), ...block.joins.map((j) => j.seam)];
  const byId = new Map(block.sections.map((s) => [s.id, s]));
  const points = block.joins.reduce((t, j) => t + matchedPoints(j, byId).length, 0);
  const narrowest = Math.min(...all.map((p) => narrowestWidth(p.outline)));
  const mostInSection = Math.max(...block.sections.map((s) => s.pieces.length));
  const over = (level: 'beginner' | 'intermediate'): string[] => {
    const [pieces, width, inSection, match] = LIMITS[level];
    return [
      ...(all.length > pieces ? [`${all.length} pieces`] : []),
      // Corners lie on a grid of 1 µm; a width that was asked for may come out a few of them under.
      ...(narrowest < width - 0.02 ? ['narrow pieces'] : []),
      ...(mostInSection > inSection ? [`${mostInSection} pieces in a section`] : []),
      ...(points > match ? [`${points} points to match`] : []),
    ];
  };
  const level: Skill = !over('beginner').length
    ? 'beginner'
    : !over('intermediate').length
      ? 'intermediate'
      : 'advanced';
  const hours = (skill: Skill): number => {
    const [piece, join] = MINUTES[skill];
    const minutes = all.length * piece + block.joins.length * join + points * POINT_MINUTES + BASE_MINUTES;
    return Math.round(minutes / 30) / 2;
  };
  return {
    pieces: all.length,
    sections: block.sections.length,
    seams: lines.length,
    metres: Math.round(lines.reduce((t, [a, b]) => t + distance(a, b), 0) / 10) / 100,
    joins: block.joins.length,
    points,
    narrowest,
    mostInSection,
    level,
    because: level === 'beginner' ? [] : over(level === 'intermediate' ? 'beginner' : 'intermediate'),
    hours: { beginner: hours('beginner'), intermediate: hours('intermediate'), advanced: hours('advanced') },
  };
}

/** Places strictly inside a join where a seam ends on both of its sides, in mm on the face. */
export function matchedPoints(join: Join, sections: ReadonlyMap<string, Section>): Point[] {
  const [a, b] = join.seam;
  const length = distance(a, b);
  const ends = (ids: readonly string[]): number[] => {
    const found = ids.flatMap((id) => {
      const s = sections.get(id);
      return [...(s?.outline ?? []), ...(s?.pieces.flatMap((p) => p.outline) ?? [])].flatMap((q) => {
        const along = ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / length;
        const off = ((b[0] - a[0]) * (q[1] - a[1]) - (b[1] - a[1]) * (q[0] - a[0])) / length;
        return Math.abs(off) < 0.02 && along > ONE_POINT && along < length - ONE_POINT ? [along] : [];
      });
    });
    return found.sort((x, y) => x - y).filter((v, i, list) => i === 0 || v - list[i - 1]! > ONE_POINT);
  };
  const right = ends(join.right);
  return ends(join.left)
    .filter((v) => right.some((w) => Math.abs(v - w) <= ONE_POINT))
    .map((v): Point => [a[0] + (v / length) * (b[0] - a[0]), a[1] + (v / length) * (b[1] - a[1])]);
}
