// Changes by hand, carried over to another fit of the same picture: a piece that lies where one lay that was given another fabric is
// given it again; a fabric that was named or coloured by hand is so again. What has no counterpart is left.
import type { Block } from '../../block.ts';
import { colourDifference } from '../../colour/difference.ts';
import { areaOf, centroid, clipHalf, type Polygon } from '../../geometry/polygon.ts';
import { changeFabric, renameFabric } from '../../section/change-block.ts';
import { factsOf } from './facts.ts';
import type { Carried, ToCarry } from './jobs.ts';

/** share of both pieces that lies in the other, for them to be the same */
const SAME = 0.7;
/** CIEDE2000: fabrics further apart than this are others */
const ALIKE = 12;

interface Named {
  readonly name: string;
  readonly outline: Polygon;
  readonly fabric: string;
}

/** undefined where nothing could be carried over. */
export function carryOver({ fitted, changed, block, settings }: ToCarry): Carried | undefined {
  const was = new Map(fitted.fabrics.map((f) => [f.id, f]));
  const counterpart = new Map(changed.fabrics.map((f) => [f.id, alikeIn(block, was.get(f.id)?.colour ?? f.colour)]));
  let next = block;
  const fabrics: string[] = [];
  for (const f of changed.fabrics) {
    const [old, own] = [was.get(f.id), counterpart.get(f.id)];
    if (!old || !own || (old.name === f.name && old.colour === f.colour)) continue;
    next = renameFabric(next, own, {
      ...(old.name !== f.name && { name: f.name }),
      ...(old.colour !== f.colour && { colour: f.colour }),
    });
    fabrics.push(f.name);
  }
  const [before, after] = [piecesOf(fitted), piecesOf(block)];
  const pieces: string[] = [];
  for (const p of piecesOf(changed)) {
    const under = before.find((q) => covers(q.outline, p.outline));
    const own = counterpart.get(p.fabric);
    if (!own || !under || under.fabric === p.fabric) continue;
    const now = after.find((q) => alike(q.outline, p.outline));
    if (!now || now.fabric === own) continue;
    next = changeFabric(next, [now.name], own);
    pieces.push(now.name);
  }
  if (!pieces.length && !fabrics.length) return undefined;
  return { block: next, pieces, fabrics, ...factsOf(next, settings) };
}

const piecesOf = (block: Block): Named[] =>
  block.sections.flatMap((s) =>
    s.pieces.map((p) => ({ name: `${s.id}${p.number}`, outline: p.outline, fabric: p.fabric })),
  );

function alikeIn(block: Block, colour: string): string | undefined {
  const [nearest] = [...block.fabrics].sort(
    (a, b) => colourDifference(a.colour, colour) - colourDifference(b.colour, colour),
  );
  return nearest && colourDifference(nearest.colour, colour) < ALIKE ? nearest.id : undefined;
}

/** Both are convex. */
function overlap(a: Polygon, b: Polygon): number {
  const middle = centroid(b);
  let rest = a;
  b.forEach((p, i) => {
    const q = b[(i + 1) % b.length]!;
    const side = Math.sign((q[0] - p[0]) * (middle[1] - p[1]) - (q[1] - p[1]) * (middle[0] - p[0])) as 1 | -1;
    if (rest.length >= 3) rest = clipHalf(rest, p, q, side);
  });
  return rest.length < 3 ? 0 : areaOf(rest);
}
const covers = (large: Polygon, small: Polygon): boolean => overlap(large, small) > SAME * areaOf(small);
const alike = (a: Polygon, b: Polygon): boolean => covers(a, b) && covers(b, a);
