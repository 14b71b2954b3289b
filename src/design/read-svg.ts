// An SVG of straight lines -> lines and filled shapes in mm. Styles, shapes, `use` and units are resolved by resvg's own
// normalising (its output holds only paths, groups and matrices), so that what counts is what people see. As pictures are: from a
// text that was checked first, in a process of its own, and nothing outside the file is ever opened.
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { XMLParser } from 'fast-xml-parser';
import { ApartError, runApart, SECONDS } from '../apart/run-apart.ts';
import { checkSvg } from '../apart/svg-limits.ts';
import type { Fault } from '../data.ts';
import type { Point, Segment } from '../geometry/polygon.ts';
import { UserError } from '../problems/problem.ts';

export interface Drawing {
  readonly lines: readonly Segment[];
  /** filled shapes, the lowest first; several rings where a path has several */
  readonly fills: readonly { readonly colour: string; readonly rings: readonly (readonly Point[])[] }[];
  /** curves, which no seam can follow */
  readonly faults: readonly Fault[];
}

const MM_PER_PX = 25.4 / 96;
const LARGEST_FILE = 8e6;
/** Of the normalised text: a line of a drawing takes some 200 characters. */
const LARGEST_PLAIN = 20e6;
/** Lines as they are drawn, where neighbours may draw the same one twice. */
const MOST_LINES = 8000;

const SCRIPT = `
const { Resvg } = (await import(process.argv[1])).default;
console.error('loaded');
const parts = [];
for await (const part of process.stdin) parts.push(part);
try {
  const drawn = new Resvg(Buffer.concat(parts).toString(), { font: { loadSystemFonts: false }, logLevel: 'off' });
  process.stdout.write(drawn.toString());
} catch (error) {
  console.error(String(error?.message ?? error).split('\\n')[0]);
  process.exitCode = 1;
}`;

type Matrix = readonly [number, number, number, number, number, number];
const times = (m: Matrix, n: Matrix): Matrix => [
  m[0] * n[0] + m[2] * n[1],
  m[1] * n[0] + m[3] * n[1],
  m[0] * n[2] + m[2] * n[3],
  m[1] * n[2] + m[3] * n[3],
  m[0] * n[4] + m[2] * n[5] + m[4],
  m[1] * n[4] + m[3] * n[5] + m[5],
];

interface Node {
  readonly [tag: string]: unknown;
  readonly ':@'?: Readonly<Record<string, string>>;
}

/** Reads the text of an SVG. Throws UserError where it is none, or holds no line. */
export async function readSvg(text: string, file: string, normalise: Normalise = normaliseApart): Promise<Drawing> {
  if (text.length > LARGEST_FILE) throw new UserError('drawing-too-large', { file });
  if (!/<([\w-]+:)?svg[\s>/]/.test(text)) throw new UserError('not-an-svg', { file });
  const checked = checkSvg(text, file, false).text.replace(/^\s*<\?xml[^>]*\?>/, '');
  const plain = await normalise(checked, file);
  const parser = new XMLParser({
    ...{ preserveOrder: true, ignoreAttributes: false, attributeNamePrefix: '' },
    maxNestedTags: 2000,
  });
  const nodes = parser.parse(plain) as Node[];
  const root = nodes.find((n) => 'svg' in n);
  if (!root) throw new UserError('not-an-svg', { file });
  const lines: Segment[] = [];
  const fills: { colour: string; rings: Point[][] }[] = [];
  const faults: Fault[] = [];
  const walk = (list: readonly Node[], matrix: Matrix): void => {
    for (const n of list) {
      const at = n[':@'] ?? {};
      const here = at.transform ? times(matrix, readMatrix(at.transform)) : matrix;
      if (Array.isArray(n.g)) walk(n.g as Node[], here);
      if (!('path' in n) || at.visibility === 'hidden') continue;
      const { rings, curve } = readPath(at.d ?? '', here);
      if (curve)
        faults.push({
          kind: 'curve',
          at: curve,
          text: 'A line is curved here; seams are straight. Draw it as straight lines.',
        });
      for (const { points, closed } of rings)
        points.forEach((p, i) => {
          const q = points[i + 1] ?? (closed || filled(at) ? points[0] : undefined);
          if (q && (p[0] !== q[0] || p[1] !== q[1])) lines.push([p, q]);
          if (lines.length > MOST_LINES) throw new UserError('too-many-lines', { file, most: MOST_LINES });
        });
      if (filled(at) && rings.some((r) => r.points.length > 2))
        fills.push({ colour: at.fill!.toLowerCase(), rings: rings.map((r) => r.points) });
    }
  };
  walk(root.svg as Node[], toMm(root[':@'] ?? {}));
  if (!lines.length) throw new UserError('no-lines', { file });
  return { lines, fills, faults };
}

/** Takes text that was checked, gives it as paths, groups and matrices alone. */
export type Normalise = (text: string, file: string) => Promise<string>;

const normaliseApart: Normalise = async (text, file) => {
  const module = createRequire(import.meta.url).resolve('@resvg/resvg-js');
  const limits = { seconds: SECONDS, module, native: true };
  let plain: Buffer;
  try {
    plain = await runApart(SCRIPT, [pathToFileURL(module).href], new TextEncoder().encode(text), limits);
  } catch (e) {
    if (!(e instanceof ApartError)) throw e;
    if (e.reason === 'slow') throw new UserError('svg-takes-too-long', { file });
    throw new UserError(e.reason === 'large' ? 'drawing-too-large' : 'not-an-svg', { file });
  }
  if (plain.length > LARGEST_PLAIN) throw new UserError('drawing-too-large', { file });
  return plain.toString('utf8');
};

/** A shape of two corners has no inside, whatever its fill says. */
const filled = (at: Readonly<Record<string, string>>): boolean =>
  /^#[0-9a-f]{6}$/i.test(at.fill ?? '') && (at.d?.match(/[ML]/g)?.length ?? 0) > 2;

/** From the view box to mm, uniform and centred, as SVG's xMidYMid meet. */
function toMm(at: Readonly<Record<string, string>>): Matrix {
  const [w, h] = [Number(at.width), Number(at.height)];
  const [x, y, vw, vh] = (at.viewBox ?? `0 0 ${w} ${h}`).split(/[ ,]+/).map(Number) as [number, number, number, number];
  const k = Math.min(w / vw, h / vh);
  const m = k * MM_PER_PX;
  return [m, 0, 0, m, ((w - vw * k) / 2) * MM_PER_PX - x * m, ((h - vh * k) / 2) * MM_PER_PX - y * m];
}

function readMatrix(text: string): Matrix {
  const v = (/matrix\(([^)]*)\)/.exec(text)?.[1] ?? '').split(/[ ,]+/).map(Number);
  if (v.length !== 6 || v.some((n) => !Number.isFinite(n))) throw new Error(`transform was not normalised: ${text}`);
  return v as unknown as Matrix;
}

/** Rings of a normalised path (M, L, Q, C, Z with absolute numbers); a curve's chord stands for it. */
function readPath(d: string, m: Matrix): { rings: { points: Point[]; closed: boolean }[]; curve?: Point } {
  const rings: { points: Point[]; closed: boolean }[] = [];
  let curve: Point | undefined;
  const point = (x: number, y: number): Point => [m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]];
  for (const [, command, numbers] of d.matchAll(/([MLQCZ])([^MLQCZ]*)/g)) {
    const v = numbers!.trim().split(/[ ,]+/).map(Number);
    const end = point(v.at(-2)!, v.at(-1)!);
    if (command === 'Z') {
      const ring = rings.at(-1);
      if (ring) ring.closed = true;
      continue;
    }
    if (command === 'M') rings.push({ points: [end], closed: false });
    else rings.at(-1)?.points.push(end);
    if ((command === 'Q' || command === 'C') && !curve) curve = end;
  }
  return { rings, ...(curve && { curve }) };
}
