// Is the figure found in drawings, and in variations of them? Shared over joint area with masks in figure-truth.json: the
// figure's outlines, "x y x y …" as shares of the square picture. `-- figures [--only WORD] [--vary WORD] [--every N]`.
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { readPicture } from '../../src/picture/read-picture.ts';
import { readDrawing } from '../../src/shade/drawing/read-drawing.ts';
import { seeFigure } from '../../src/shade/drawing/see-figure.ts';
import { overlap } from '../../src/shade/subject-mask.ts';
import { drawingsOf } from './drawings.ts';
import { VARIATIONS } from './vary-drawing.ts';

/** Cells of the block, and of the mask, along a side; narrowest piece in cells of the block (1/2 in of 12 in). */
const CELLS = 192;
const SIDE = 2 * CELLS;
const NARROW = 8;
/** Pixels along the side of what is looked at. */
const PIXELS = 768;
/** From this on a figure is found. */
const FOUND = 0.9;

type Rings = readonly (readonly (readonly [number, number])[])[];

/** "x y x y …" -> corners. */
const readRing = (text: string): [number, number][] => {
  const v = text.split(' ').map(Number);
  return Array.from({ length: v.length / 2 }, (_, i) => [v[2 * i]!, v[2 * i + 1]!]);
};

/** Cells whose middle lies in an odd number of rings. */
export function fillRings(rings: Rings, n: number): Uint8Array {
  const mask = new Uint8Array(n * n);
  for (let y = 0; y < n; y++) {
    const v = (y + 0.5) / n;
    const cuts: number[] = [];
    for (const ring of rings)
      ring.forEach(([ax, ay], i) => {
        const [bx, by] = ring[(i + 1) % ring.length]!;
        if (ay <= v !== by <= v) cuts.push(ax + ((v - ay) / (by - ay)) * (bx - ax));
      });
    cuts.sort((a, b) => a - b);
    for (let q = 0; q + 1 < cuts.length; q += 2)
      for (let x = Math.max(0, Math.ceil(cuts[q]! * n - 0.5)); x < Math.min(n, cuts[q + 1]! * n - 0.5); x++)
        mask[y * n + x] = 1;
  }
  return mask;
}

export async function benchFigures(args: readonly string[]): Promise<void> {
  const truth = JSON.parse(readFileSync(join(import.meta.dirname, 'figure-truth.json'), 'utf8')) as Record<
    string,
    string[]
  >;
  const option = (name: string): string | undefined => (args.includes(name) ? args[args.indexOf(name) + 1] : undefined);
  const every = Number(option('--every') ?? 1);
  const scores = new Map<string, number[]>();
  for (const [n, file] of drawingsOf('lines').entries()) {
    const name = basename(file);
    if (!truth[name] || n % every || !name.includes(option('--only') ?? '')) continue;
    const picture = await readPicture(readFileSync(file), name, { aspect: 1, maxSide: PIXELS });
    const real = fillRings(truth[name].map(readRing), SIDE);
    const missed: string[] = [];
    for (const [kind, vary] of Object.entries(VARIATIONS)) {
      if (!kind.includes(option('--vary') ?? '')) continue;
      const varied = vary(picture, real, 7 + n);
      const drawn = await readDrawing(varied.picture, CELLS, CELLS);
      const figure = await seeFigure(drawn, NARROW);
      const score = figure ? overlap(figure.mask, varied.figure) : 0;
      scores.set(kind, [...(scores.get(kind) ?? []), score]);
      if (score < FOUND) missed.push(`${kind} ${score.toFixed(2)}`);
    }
    console.log(`${name.padEnd(38)} ${missed.join(', ') || 'found in all'}`);
  }
  const share = (list: readonly number[]): string =>
    `${list.filter((s) => s >= FOUND).length} of ${list.length} (${Math.round((100 * list.filter((s) => s >= FOUND).length) / Math.max(1, list.length))} %)`;
  for (const [kind, list] of scores) console.log(`${kind.padEnd(20)} ${share(list)}`);
  console.log(`varied ${share([...scores].filter(([kind]) => kind !== 'clean').flatMap(([, list]) => list))}`);
}
