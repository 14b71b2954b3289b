// Which blocks of a series do not go with the others: many more pieces, a larger or smaller animal, eyes at another height,
// another fabric at the outer edge. House rules; the middle of the series is the measure.
import { areaOf, distance } from '../geometry/polygon.ts';
import type { SeriesBlock } from './run-series.ts';

export interface OddOne {
  readonly name: string;
  readonly why: string;
}

/** a third more or fewer pieces than the middle one */
const PIECES = 1 / 3;
/** half as much again, or a third less, of the face for the animal */
const SCALE = 1.5;
/** of the block's height */
const EYES = 0.12;
/** fewer blocks have no middle */
const LEAST = 3;

export function findOddOnes(blocks: readonly SeriesBlock[]): OddOne[] {
  if (blocks.length < LEAST) return [];
  const odd: OddOne[] = [];
  const say = (b: SeriesBlock, why: string): void => void odd.push({ name: b.block.name, why });
  const pieces = middle(blocks.map((b) => b.made.pieces));
  const grounds = blocks.map(groundFabric);
  const usual = mostFrequent(grounds.map((g) => g.fabric));
  const scale = middle(grounds.map((g) => 1 - g.share));
  const eyes = middle(blocks.flatMap((b) => (b.made.eyes === undefined ? [] : [b.made.eyes])));
  blocks.forEach((b, i) => {
    const { fabric, share } = grounds[i]!;
    if (Math.abs(b.made.pieces - pieces) > PIECES * pieces)
      say(b, `it has ${b.made.pieces} pieces, the others about ${pieces}`);
    const own = 1 - share;
    if (scale > 0 && (own > SCALE * scale || own < scale / SCALE))
      say(
        b,
        `its animal takes ${percent(own)} of the face, the others' about ${percent(scale)}: crop it ${own > scale ? 'wider' : 'nearer'}`,
      );
    if (b.made.eyes !== undefined && Math.abs(b.made.eyes - eyes) > EYES)
      say(
        b,
        `its eyes lie at ${percent(b.made.eyes)} of the height, the others' at about ${percent(eyes)}: crop it again`,
      );
    // where no fabric is at the edge of most blocks there is none to go with
    if (fabric !== usual && grounds.filter((g) => g.fabric === usual).length > blocks.length / 2) {
      const name = (id: string): string => blocks.flatMap((c) => c.block.fabrics).find((f) => f.id === id)?.name ?? id;
      say(b, `its outer edge is mostly ${name(fabric)}, the others' ${name(usual)}`);
    }
  });
  return odd;
}

const percent = (v: number): string => `${Math.round(v * 100)} %`;

function middle(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}

function mostFrequent(values: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const v of values) counts.set(v, (counts.get(v) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0]![0];
}

/** The fabric that most of the block's outer edge is of, and its share of the face. */
function groundFabric({ block }: SeriesBlock): { fabric: string; share: number } {
  const [w, h] = block.size;
  const along = new Map<string, number>();
  const areas = new Map<string, number>();
  for (const p of block.sections.flatMap((s) => s.pieces)) {
    areas.set(p.fabric, (areas.get(p.fabric) ?? 0) + areaOf(p.outline));
    p.outline.forEach((a, i) => {
      const b = p.outline[(i + 1) % p.outline.length]!;
      const outer = ([0, 1] as const).some((k) => {
        const far = k ? h : w;
        return (
          (Math.abs(a[k]) < 0.01 && Math.abs(b[k]) < 0.01) ||
          (Math.abs(a[k] - far) < 0.01 && Math.abs(b[k] - far) < 0.01)
        );
      });
      if (outer) along.set(p.fabric, (along.get(p.fabric) ?? 0) + distance(a, b));
    });
  }
  const fabric = [...along].sort((a, b) => b[1] - a[1])[0]?.[0] ?? block.fabrics[0]!.id;
  return { fabric, share: (areas.get(fabric) ?? 0) / (w * h) };
}
