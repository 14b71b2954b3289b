// Takes a finished block and the posterised picture it was fitted to; gives the table that says whether it is a good block,
// rule by rule. House rules for a 12 in block; lengths scale with the block.
import type { Block } from '../block.ts';
import { oklabOfHex } from '../colour/oklab.ts';
import type { Shading } from '../data.ts';
import { FACE_REACH, findFace, findLandmarks } from '../geometry/landmarks.ts';
import type { Point } from '../geometry/polygon.ts';
import { changes, crowding, nearMisses, sections } from './judge-joins.ts';
import { crumbs, outerEdge, slivers, specks, values } from './judge-pieces.ts';
import { featureRegions, judgeMarks } from './marks.ts';
import { judgeOutline } from './outline.ts';
import { MATCHED, type RuleFound, rule } from './rule.ts';
import { endsOnJoin, flatten, sharedEdges } from './seams.ts';
import { countStairs } from './stairs.ts';

export interface Quality {
  readonly rules: readonly RuleFound[];
  /** a rule that marks a block as poor does not hold: the outline, eyes, joins through them, near misses, crowding */
  readonly poor: boolean;
  /** points where seams meet across a join */
  readonly pointsToMatch: number;
}

export interface QualityOptions {
  /** narrowest finished width, mm */
  readonly smallest: number;
  /** most pieces in a section */
  readonly mostPieces: number;
}

const POOR = [1, 2, 3, 5, 6];

export function measureQuality(block: Block, shading: Shading, options: QualityOptions): Quality {
  const scale = Math.min(...block.size) / 304.8;
  const pieces = flatten(block);
  const edges = sharedEdges(pieces);
  const joins = block.joins.map((j) => j.seam);
  const ends = joins.map((seam) => endsOnJoin(seam, pieces));
  const colours = shading.fabrics.map((f) => oklabOfHex(f.colour));
  const { labels, width, height } = shading;
  const least = 1.5 * ((options.smallest * width) / block.size[0]) ** 2;
  const marks = shading.features
    ? featureRegions(shading.features, width, height)
    : findLandmarks(labels, width, height, colours, least);
  const face = findFace(marks, width, height, FACE_REACH * Math.min(width, height));
  const inFace = ([x, y]: Point): boolean =>
    face?.[
      Math.min(height - 1, Math.floor((y / block.size[1]) * height)) * width +
        Math.min(width - 1, Math.floor((x / block.size[0]) * width))
    ] === 1;
  const matched = ends.reduce(
    (n, [left, right]) => n + left.filter((a) => right.some((b) => Math.abs(a - b) <= MATCHED)).length,
    0,
  );
  const rules = [
    ...judgeOutline(shading, block.size, pieces),
    ...judgeMarks(marks, shading, block, pieces, scale),
    slivers(pieces, options.smallest, scale, inFace),
    nearMisses(ends, scale),
    crowding(pieces, ends, scale),
    crumbs(block, pieces, edges, scale),
    specks(block, pieces, scale),
    changes(joins, pieces, edges),
    outerEdge(block, pieces, scale),
    sections(block, options.mostPieces),
    values(block, pieces, edges),
    rule(13, 'stairs', { stairs: countStairs(pieces, edges, scale, block.size[0] / width) }, (f) => f.stairs === 0),
  ];
  return { rules, poor: rules.some((r) => !r.holds && POOR.includes(r.rule)), pointsToMatch: matched };
}
