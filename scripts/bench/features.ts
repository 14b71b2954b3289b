// What the fit makes of faces: heads that fill the block, labelled eyes and noses painted in (heads.ts). Says how many are shapes of
// their own in the finished block and how many are read by ../shared/tools/measure-figure.mjs, which shares no code with the project.
// --pieces 80   --effort full   --plain hands no features over   --every N   --sheet FILE.png (grid and block of each)
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import sharp from 'sharp';
import type { Block } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import type { Feature, Shading } from '../../src/data.ts';
import { type Effort, type FitFound, fitPartition } from '../../src/fit/fit-partition.ts';
import { areaOf, boundsOf, centroid, insideConvex, type Point } from '../../src/geometry/polygon.ts';
import { measureQuality } from '../../src/quality/measure-quality.ts';
import { numberPieces } from '../../src/section/number-pieces.ts';
import { templateArea } from '../../src/template/template-area.ts';
import { type Head, readHeads } from './heads.ts';
import { settingsFor } from './settings.ts';

const SHADES = 5;

interface Read {
  readonly reads: boolean;
  readonly why?: string;
}
interface Figure {
  readonly eyes: readonly Read[];
  readonly nose?: Read;
  readonly pair?: boolean;
}
interface Measure {
  measureFigure(label: unknown, block: Block): Figure;
  summarise(all: readonly Figure[]): Record<string, unknown>;
}

/** One piece of four corners or more, its area within 30 %, at most 2.2 times as long as wide, no join through it, and nothing of
 *  its fabric along more than a fourth of its outline. */
function isRight({ outline, fabric }: Feature, fit: FitFound, block: Block): string {
  const drawn = outline.map(([x, y]): Point => [x * fit.size[0], y * fit.size[1]]);
  const middle = centroid(drawn);
  const piece = fit.pieces.find((p) => insideConvex(p.outline, middle));
  if (!piece || piece.fabric !== fabric) return 'another fabric';
  if (piece.outline.length < 4) return 'three corners';
  if (Math.abs(areaOf(piece.outline) / areaOf(drawn) - 1) > 0.3) return 'another size';
  const { minX, maxX, minY, maxY } = boundsOf(piece.outline);
  const [a, b] = [maxX - minX, maxY - minY];
  if (Math.max(a, b) > 2.2 * Math.min(a, b)) return 'too long';
  const crossed = block.joins.some(({ seam: [p, q] }) =>
    Array.from({ length: 99 }, (_, i): Point => {
      const t = (i + 1) / 100;
      return [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
    }).some((at) => insideConvex(piece.outline, at, -0.1)),
  );
  if (crossed) return 'a join through it';
  const beside = piece.outline.flatMap((p, i) => {
    const q = piece.outline[(i + 1) % piece.outline.length]!;
    return Array.from({ length: 20 }, (_, k): Point => {
      const t = (k + 0.5) / 20;
      const long = Math.hypot(q[0] - p[0], q[1] - p[1]);
      // just outside: the outline runs clockwise as seen
      return [
        p[0] + t * (q[0] - p[0]) + (0.3 * (q[1] - p[1])) / long,
        p[1] + t * (q[1] - p[1]) - (0.3 * (q[0] - p[0])) / long,
      ];
    });
  });
  const same = beside.filter((at) =>
    fit.pieces.some((p) => p !== piece && p.fabric === fabric && insideConvex(p.outline, at)),
  );
  return same.length > 0.25 * beside.length ? 'runs into its fabric' : '';
}

export async function benchFeatures(args: readonly string[], shared: string): Promise<void> {
  const option = (name: string, fallback: string): string => {
    const i = args.indexOf(`--${name}`);
    return i < 0 ? fallback : (args[i + 1] ?? fallback);
  };
  const judge = join(shared, 'tools', 'measure-figure.mjs');
  if (!existsSync(judge)) throw new Error(`${judge} is not there: faces cannot be judged without it`);
  const { measureFigure, summarise } = (await import(pathToFileURL(judge).href)) as Measure;
  const plain = args.includes('--plain');
  const heads = (await readHeads(shared, SHADES)).filter((_, i) => i % Number(option('every', '1')) === 0);
  const figures: Figure[] = [];
  const why: Record<string, number> = {};
  const pictures: Buffer[][] = [];
  const totals = {
    features: 0,
    right: 0,
    noses: 0,
    nosesRight: 0,
    pairs: 0,
    alike: 0,
    pieces: 0,
    sections: 0,
    mirrored: 0,
    faults: 0,
    milliseconds: 0,
  };
  const rules: Record<number, [held: number, asked: number]> = {};
  for (const head of heads) {
    const { features = [], axis: _axis, ...bare } = head.shading;
    const shading: Shading = plain ? bare : head.shading;
    const s = settingsFor(head.name, Number(option('pieces', '80')));
    const limits = { mostPieces: s.mostPieces, paper: templateArea(s.paper, s.margin), allowance: s.allowance };
    const begun = process.cpuUsage();
    const fit = fitPartition(shading, { ...s, effort: option('effort', 'full') as Effort, sections: limits });
    totals.milliseconds += process.cpuUsage(begun).user / 1000;
    const source = { sha256: '0'.repeat(64), pixels: head.pixels, crop: head.crop } as never;
    const block = numberPieces(fit, { name: 'head', smallest: s.smallest, fabrics: shading.fabrics, source }, limits);
    totals.faults += checkBlock(block, { smallest: s.smallest, most: limits.mostPieces }).faults.length;
    totals.pieces += fit.pieces.length;
    totals.sections += block.sections.length;
    if (fit.mirrored) totals.mirrored++;
    const marks = features.map((f) => {
      // on a mirrored block a pair is drawn alike, so that it lies a little beside where it was
      const found = isRight(f, fit, block);
      if (found) why[found] = (why[found] ?? 0) + 1;
      totals.features++;
      if (!found) totals.right++;
      if (f.kind === 'nose') totals.noses++;
      if (f.kind === 'nose' && !found) totals.nosesRight++;
      return found || 'right';
    });
    const figure = measureFigure(head.label, block);
    figures.push(figure);
    // a pair is asked to be alike where both eyes were drawn so
    const [a, b] = features.filter((f) => f.pair === 1).map((f) => areaOf(f.outline));
    if (a && b && Math.max(a, b) <= 1.2 * Math.min(a, b)) {
      totals.pairs++;
      if (figure.pair) totals.alike++;
    }
    for (const { rule, holds } of measureQuality(block, shading, {
      smallest: s.smallest,
      mostPieces: limits.mostPieces,
    }).rules) {
      rules[rule] ??= [0, 0];
      rules[rule][1]++;
      if (holds) rules[rule][0]++;
    }
    console.log(
      `${head.name.padEnd(34)} ${fit.pieces.length} pieces ${block.sections.length} sections${fit.mirrored ? ' mirrored' : ''}  ${marks.join(', ')}`,
    );
    if (args.includes('--sheet')) pictures.push([await drawGrid(head), await drawBlock(block)]);
  }
  const n = heads.length;
  const mean = (v: number): string => (v / n).toFixed(1);
  console.log(
    `\n${n} heads: features right ${totals.right} of ${totals.features} (noses ${totals.nosesRight} of ${totals.noses}), not: ${JSON.stringify(why)}; ` +
      `pairs drawn alike that read alike ${totals.alike} of ${totals.pairs}; mirrored ${totals.mirrored}; faults ${totals.faults}; ` +
      `${mean(totals.pieces)} pieces, ${mean(totals.sections)} sections, ${mean(totals.milliseconds)} ms`,
  );
  console.log(`read by measure-figure: ${JSON.stringify(summarise(figures))}`);
  console.log(
    `rules held, %: ${Object.entries(rules)
      .map(([rule, [held, asked]]) => `${rule} ${Math.round((100 * held) / asked)}`)
      .join(', ')}`,
  );
  if (pictures.length > 0) await sheet(pictures, option('sheet', 'heads.png'));
}

/** px */
const SIDE = 240;

const drawGrid = ({ shading: { labels, width, height, fabrics } }: Head): Promise<Buffer> => {
  const rgb = Buffer.alloc(3 * labels.length);
  labels.forEach((l, i) => {
    rgb.writeUIntBE(Number.parseInt(fabrics[l]!.colour.slice(1), 16), 3 * i, 3);
  });
  return sharp(rgb, { raw: { width, height, channels: 3 } })
    .resize(SIDE, SIDE, { kernel: 'nearest' })
    .png()
    .toBuffer();
};

function drawBlock(block: Block): Promise<Buffer> {
  const colours = new Map(block.fabrics.map((f) => [f.id, f.colour]));
  const k = SIDE / block.size[0];
  const at = (p: Point): string => `${(k * p[0]).toFixed(2)},${(k * p[1]).toFixed(2)}`;
  const pieces = block.sections
    .flatMap((s) => s.pieces)
    .map(
      (p) =>
        `<polygon points="${p.outline.map(at).join(' ')}" fill="${colours.get(p.fabric)}" stroke="#888" stroke-width=".4"/>`,
    );
  return sharp(
    Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="${SIDE}" height="${SIDE}">${pieces.join('')}</svg>`),
  )
    .png()
    .toBuffer();
}

async function sheet(rows: readonly (readonly Buffer[])[], file: string): Promise<void> {
  const across = 4;
  const step = SIDE + 6;
  const composite = rows.flatMap((row, i) =>
    row.map((input, k) => ({ input, left: (2 * (i % across) + k) * step, top: Math.floor(i / across) * step })),
  );
  await sharp({
    create: {
      width: 2 * across * step,
      height: Math.ceil(rows.length / across) * step,
      channels: 3,
      background: 'white',
    },
  })
    .composite(composite)
    .png()
    .toFile(file);
}
