// The block's face with all names on it: section letters, piece numbers, fabric codes, joins numbered. Words keep off lines and off
// one another, as large as there is room for.
import type { Block, Section } from '../block.ts';
import { insetConvex } from '../drawing/clip.ts';
import { type Item, MM_PER_PT, polygon, text } from '../drawing/drawing.ts';
import { measureText } from '../drawing/fonts.ts';
import { areaOf, boundsOf, centroid, insideConvex, type Point, type Polygon } from '../geometry/polygon.ts';
import { fabricsById, scaled } from './block-picture.ts';

const SEAM = { width: 0.18, colour: '#555555' };
const SECTION = { width: 0.75 };
/** mm that words keep off lines, and off one another */
const CLEAR = 0.45;
/** mm between words on one line */
const BESIDE = 0.8;
const LETTER_SIZES = [15, 12, 10, 8.5];
const LABEL_SIZES = [8, 7, 6, 5, 4.2];
const NUMBER_SIZES = [6, 5, 4.2, 3.6];
const DISC = 2.35;

/** Words one above the other, about their middle. */
interface Label {
  readonly width: number;
  readonly height: number;
  draw(at: Point): Item[];
}

interface Box {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

/** One line of words: bold and regular parts side by side. */
type Part = readonly [words: string, size: number, bold: boolean];

function labelOf(lines: readonly (readonly Part[])[]): Label {
  const rows = lines.map((parts) => ({
    parts,
    width: parts.reduce(
      (sum, [w, size, bold]) => sum + measureText(w, size, bold ? 'bold' : 'regular').width,
      (parts.length - 1) * BESIDE,
    ),
    // capitals and figures; J and Q reach below the line
    height: Math.max(...parts.map(([, size]) => size)) * MM_PER_PT * 0.74,
    below: Math.max(...parts.map(([w, size, bold]) => measureText(w, size, bold ? 'bold' : 'regular').descent)),
  }));
  const gap = 0.7;
  const height = rows.reduce((sum, r, i) => sum + r.height + (i + 1 < rows.length ? gap + r.below : 0), 0);
  return {
    width: Math.max(...rows.map((r) => r.width)),
    height,
    draw: ([x, y]) => {
      let base = y - height / 2;
      return rows.flatMap((r) => {
        base += r.height;
        let left = x - r.width / 2;
        const items = r.parts.map(([w, size, bold]) => {
          const item = text(bold ? 'piece-number' : 'fabric-code', [left, base], w, size, bold ? { font: 'bold' } : {});
          left += measureText(w, size, bold ? 'bold' : 'regular').width + BESIDE;
          return item;
        });
        base += gap + r.below;
        return items;
      });
    },
  };
}

class Places {
  private readonly taken: Box[] = [];

  take(b: Box): void {
    this.taken.push(b);
  }

  /** The place for a label in a convex piece where it keeps off lines and words, nearest to the piece's middle. */
  find(piece: Polygon, label: Label): Point | undefined {
    const [w, h] = [label.width / 2 + CLEAR, label.height / 2 + CLEAR];
    const room = insetConvex(piece, (nx, ny) => Math.abs(nx) * w + Math.abs(ny) * h + SECTION.width / 2);
    if (room.length < 3) return undefined;
    const middle = centroid(room);
    const b = boundsOf(room);
    const steps = 8;
    const free = (at: Point): boolean => insideConvex(room, at) && !this.touches(at, label);
    if (free(middle)) return middle;
    const d = (q: Point): number => Math.hypot(q[0] - middle[0], q[1] - middle[1]);
    let best: Point | undefined;
    for (let i = 0; i <= steps; i++)
      for (let k = 0; k <= steps; k++) {
        const at: Point = [b.minX + ((b.maxX - b.minX) * i) / steps, b.minY + ((b.maxY - b.minY) * k) / steps];
        if ((!best || d(at) < d(best)) && free(at)) best = at;
      }
    return best;
  }

  put(at: Point, { width: w, height: h }: Pick<Label, 'width' | 'height'>): void {
    this.take({ x: at[0] - w / 2, y: at[1] - h / 2, w, h });
  }

  touches([x, y]: Point, { width, height }: Pick<Label, 'width' | 'height'>): boolean {
    return this.taken.some(
      (t) =>
        x - width / 2 - CLEAR < t.x + t.w &&
        x + width / 2 + CLEAR > t.x &&
        y - height / 2 - CLEAR < t.y + t.h &&
        y + height / 2 + CLEAR > t.y,
    );
  }
}

/** The face at a scale, about its upper left corner. */
export function labelledFace(block: Block, scale: number): Item[] {
  const fabrics = fabricsById(block);
  const places = new Places();
  const under: Item[] = [];
  for (const s of block.sections)
    for (const p of s.pieces)
      under.push(
        polygon('picture', scaled(p.outline, scale), { fill: pale(fabrics.get(p.fabric)!.colour), stroke: SEAM }),
      );
  const bold = block.sections.map((s) => polygon('outline', scaled(s.outline, scale), { stroke: SECTION }));
  const discs = joinDiscs(block, scale, places);
  const words = block.sections.flatMap((s) => nameSection(s, scale, places, (id) => fabrics.get(id)!.code));
  return [...under, ...bold, ...discs, ...words];
}

/** The number of each join in a disc on its seam, where it hides no other. */
function joinDiscs(block: Block, scale: number, places: Places): Item[] {
  const box = { width: 2 * DISC, height: 2 * DISC };
  return [...block.joins]
    .sort((a, b) => lengthOf(a.seam) - lengthOf(b.seam))
    .flatMap((j): Item[] => {
      const [a, b] = scaled(j.seam, scale) as [Point, Point];
      const at = (t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
      const tries = [0.5, 0.42, 0.58, 0.33, 0.67, 0.25, 0.75, 0.15, 0.85].map(at);
      const free = tries.find((q) => !places.touches(q, box)) ?? tries[0]!;
      places.put(free, box);
      return [
        { kind: 'circle', role: 'ring', centre: free, radius: DISC, fill: '#ffffff', stroke: { width: 0.25 } },
        text('join-label', [free[0], free[1] + 0.85], String(j.number), j.number > 9 ? 5.5 : 6.5, {
          font: 'bold',
          align: 'middle',
        }),
      ];
    });
}

const lengthOf = ([a, b]: readonly [readonly number[], readonly number[]]): number =>
  Math.hypot(b[0]! - a[0]!, b[1]! - a[1]!);

/** The section's letter once, with the label of the piece that has most room; then the other pieces. */
function nameSection(s: Section, scale: number, places: Places, codeOf: (id: string) => string): Item[] {
  const pieces = s.pieces.map((p) => ({ p, ring: scaled(p.outline, scale), code: codeOf(p.fabric) }));
  const items: Item[] = [];
  const named = new Set<number>();
  const put = (ring: Polygon, label: Label): boolean => {
    const at = places.find(ring, label);
    if (!at) return false;
    places.put(at, label);
    items.push(...label.draw(at));
    return true;
  };
  const own = (n: number, code: string, size: number): Part[] => [
    [`${n}`, size, true],
    [code, size * 0.92, false],
  ];
  const byArea = [...pieces].sort((a, b) => areaOf(b.ring) - areaOf(a.ring));
  lettered: for (const size of LETTER_SIZES)
    for (const { p, ring, code } of byArea) {
      const label = labelOf([[[s.id, size, true]], own(p.number, code, Math.min(8, size * 0.7))]);
      if (!put(ring, label)) continue;
      named.add(p.number);
      break lettered;
    }
  for (const { p, ring, code } of pieces) {
    if (named.has(p.number)) continue;
    // a section too small for its letter has it before each number
    const n = named.size ? `${p.number}` : `${s.id}${p.number}`;
    const tries = [
      ...LABEL_SIZES.flatMap((size) => [
        labelOf([
          [
            [n, size, true],
            [code, size * 0.92, false],
          ],
        ]),
        labelOf([[[n, size, true]], [[code, size * 0.92, false]]]),
      ]),
      ...NUMBER_SIZES.map((size) => labelOf([[[n, size, true]]])),
    ];
    if (tries.some((label) => put(ring, label))) continue;
    // whatever happens, every piece has its number
    const label = tries.at(-1)!;
    const at = centroid(ring);
    places.put(at, label);
    items.push(...label.draw(at));
  }
  return items;
}

/** The color mixed with so much white that black words are easy to read on it. */
function pale(colour: string): string {
  const part = (at: number): string => {
    const v = Number.parseInt(colour.slice(at, at + 2), 16);
    return Math.round(v + (255 - v) * 0.62)
      .toString(16)
      .padStart(2, '0');
  };
  return `#${part(1)}${part(3)}${part(5)}`;
}
