// The rules of sections and the joins between them: no near misses, no crowding, along changes of fabric, few and sound sections.
import type { Block } from '../block.ts';
import type { Point } from '../geometry/polygon.ts';
import { stretchOf } from './judge-pieces.ts';
import { MATCHED, ROUNDING, type RuleFound, rule, share, sum } from './rule.ts';
import type { FlatPiece, SharedEdge } from './seams.ts';

export function nearMisses(ends: readonly (readonly [number[], number[]])[], scale: number): RuleFound {
  const misses = sum(ends, ([left, right]) =>
    sum(
      left,
      (a) => right.filter((b) => Math.abs(a - b) > MATCHED && Math.abs(a - b) < 9.525 * scale - ROUNDING).length,
    ),
  );
  return rule(5, 'near misses', { misses }, (f) => f.misses === 0);
}

export function crowding(
  pieces: readonly FlatPiece[],
  ends: readonly (readonly [number[], number[]])[],
  scale: number,
): RuleFound {
  let mostEnds = 0;
  let tight = 0;
  for (const [left, right] of ends) {
    const points = left.filter((a) => right.some((b) => Math.abs(a - b) <= MATCHED));
    for (const a of points)
      mostEnds = Math.max(
        mostEnds,
        sum([...left, ...right], (b) => (Math.abs(a - b) <= MATCHED ? 1 : 0)),
      );
    points.forEach((a, i) => {
      if (i > 0 && a - points[i - 1]! < 12.7 * scale) tight++;
    });
  }
  let mostPieces = 0;
  for (const p of pieces)
    for (const c of p.outline)
      mostPieces = Math.max(
        mostPieces,
        sum(pieces, (q) =>
          q.outline.some((d) => Math.abs(c[0] - d[0]) < MATCHED && Math.abs(c[1] - d[1]) < MATCHED) ? 1 : 0,
        ),
      );
  return rule(
    6,
    'crowding',
    { seamEnds: mostEnds, pieces: mostPieces, tight },
    (f) => f.seamEnds <= 4 && f.pieces <= 6 && f.tight === 0,
  );
}

export function changes(
  joins: readonly (readonly [Point, Point])[],
  pieces: readonly FlatPiece[],
  edges: readonly SharedEdge[],
): RuleFound {
  const across = edges.filter((e) => pieces[e.pieces[0]]!.section !== pieces[e.pieces[1]]!.section);
  const change = across.filter((e) => pieces[e.pieces[0]]!.fabric !== pieces[e.pieces[1]]!.fabric);
  const onChange = share(
    sum(change, (e) => e.length),
    sum(across, (e) => e.length),
  );
  return rule(
    9,
    'joins on a change of fabric',
    { onChange, joins: joins.length },
    (f) => f.joins === 0 || f.onChange >= 0.5,
  );
}

export function sections(block: Block, most: number): RuleFound {
  const counts = block.sections.map((s) => s.pieces.length);
  return rule(
    11,
    'sections',
    {
      most: Math.max(...counts),
      small: share(counts.filter((n) => n <= 2).length, counts.length),
      single: counts.filter((n) => n === 1).length,
      stretch: Math.max(...block.sections.map((s) => stretchOf(s.outline))),
    },
    (f) => f.most <= most && f.small <= 0.2 && f.stretch <= 5,
  );
}
