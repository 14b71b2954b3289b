// The words and signs that go into a piece, as cells: items about their own middle, with the room they take. Cells are set
// side by side or one above the other, turned, and put where the piece has room for them.
import type { Block, Section } from '../block.ts';
import { insetConvex } from '../drawing/clip.ts';
import { BLACK, type Item, placeItems, polygon, polyline, text } from '../drawing/drawing.ts';
import { measureText } from '../drawing/fonts.ts';
import { centroid, type Point, type Polygon } from '../geometry/polygon.ts';

export interface Cell {
  readonly width: number;
  readonly height: number;
  /** about the middle of the cell */
  readonly items: readonly Item[];
}

/** mm: no text nearer than this to a line (trade rule) */
export const TEXT_CLEAR = 1;

export function textCell(
  role: 'piece-number' | 'fabric-code' | 'section-letter' | 'text',
  words: string,
  size: number,
  bold = false,
  underline = false,
): Cell {
  const font = bold ? 'bold' : 'regular';
  const m = measureText(words, size, font);
  const below = underline ? Math.max(m.descent, size * 0.0706) : m.descent;
  const height = m.ascent + below;
  const at: Point = [0, m.ascent - height / 2];
  return { width: m.width, height, items: [text(role, at, words, size, { font, align: 'middle', underline })] };
}

function shift(cell: Cell, dx: number, dy: number): Item[] {
  return placeItems(cell.items, { turn: 0, dx, dy });
}

/** Items are put together only when a place was found for them: most cells are tried and dropped. */
class LazyCell implements Cell {
  readonly width: number;
  readonly height: number;
  private readonly draw: () => Item[];
  private drawn: Item[] | undefined;

  constructor(width: number, height: number, draw: () => Item[]) {
    this.width = width;
    this.height = height;
    this.draw = draw;
  }

  get items(): readonly Item[] {
    this.drawn ??= this.draw();
    return this.drawn;
  }
}

export function besides(gap: number, ...cells: readonly Cell[]): Cell {
  const width = cells.reduce((sum, c) => sum + c.width, gap * (cells.length - 1));
  return new LazyCell(width, Math.max(...cells.map((c) => c.height)), () => {
    let x = -width / 2;
    return cells.flatMap((c) => {
      x += c.width + gap;
      return shift(c, x - gap - c.width / 2, 0);
    });
  });
}

export function stacked(gap: number, ...cells: readonly Cell[]): Cell {
  const height = cells.reduce((sum, c) => sum + c.height, gap * (cells.length - 1));
  return new LazyCell(Math.max(...cells.map((c) => c.width)), height, () => {
    let y = -height / 2;
    return cells.flatMap((c) => {
      y += c.height + gap;
      return shift(c, 0, y - gap - c.height / 2);
    });
  });
}

/** A ring about a cell: piece 1 is laid down first. */
export function ringed(cell: Cell): Cell {
  const radius = Math.hypot(cell.width, cell.height) / 2 + 0.8;
  const ring: Item = { kind: 'circle', role: 'ring', centre: [0, 0], radius, stroke: { width: 0.3 } };
  const side = 2 * radius + 0.3;
  return { width: side, height: side, items: [...cell.items, ring] };
}

/** 6 and 9 are underlined, and what reads as another number upside down. */
const needsUnderline = (n: string): boolean => /^[01689]*[69][01689]*$/.test(n);

export type Setting = 'row' | 'stack';

/** Piece number (bold) and fabric code; number sizes from 14 pt down to 7, code from 8 down to 6. */
export function pieceCell(number: number, code: string, size: number, setting: Setting): Cell {
  const words = String(number);
  const plain = textCell('piece-number', words, size, true, needsUnderline(words));
  const first = number === 1;
  const head = first ? ringed(plain) : plain;
  const tail = textCell('fabric-code', code, codeSize(size));
  return setting === 'row' ? besides(first ? 1.2 : 0.9, head, tail) : stacked(first ? 1.1 : 0.8, head, tail);
}

export const codeSize = (numberSize: number): number => Math.max(6, Math.min(8, numberSize - 1));

/** An arrow that points to the top of the block, with its words. */
export function arrowCell(): Cell {
  const words = stacked(0.7, textCell('text', 'top of', 6), textCell('text', 'block', 6));
  const height = 7;
  const tail = 3.2;
  const width = tail + words.width;
  const x = 1.1 - width / 2;
  const shaft: Point[] = [
    [x, height / 2],
    [x, -height / 2 + 1.6],
  ];
  const tip: Point[] = [
    [x, -height / 2],
    [x + 1.1, -height / 2 + 2.2],
    [x - 1.1, -height / 2 + 2.2],
  ];
  const items = [
    polyline('arrow', shaft, { width: 0.3 }),
    polygon('arrow', tip, { fill: BLACK }),
    ...placeItems(words.items, { turn: 0, dx: tail / 2, dy: 0 }),
  ];
  return { width, height, items };
}

/** Where the middle of a cell, turned, may lie in a convex piece so that it keeps `clear` mm off every edge; [] if nowhere. */
export function roomFor(piece: Polygon, cell: Cell, turn: number, clear: number): Point[] {
  const a = (turn * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  return insetConvex(
    piece,
    (nx, ny) => clear + (Math.abs(nx * c + ny * s) * cell.width) / 2 + (Math.abs(ny * c - nx * s) * cell.height) / 2,
  );
}

/** The cell's items in the piece, or undefined where it has no room. */
export function putInPiece(piece: Polygon, cell: Cell, turn: number, clear: number): Item[] | undefined {
  const room = roomFor(piece, cell, turn, clear);
  if (room.length < 3) return undefined;
  const [dx, dy] = centroid(room);
  return placeItems(cell.items, { turn, dx, dy });
}

/** mm: the longer side of the map on a template */
const MAP_SIDE = 11;

/** The block in small, as its front is seen, with one section black. */
export function mapCell(front: Block, id: string): Cell {
  const scale = MAP_SIDE / Math.max(...front.size);
  const [w, h] = [front.size[0] * scale, front.size[1] * scale];
  const rings = (sections: readonly Section[]): Point[][] =>
    sections.map((s) => s.outline.map(([x, y]): Point => [x * scale - w / 2, y * scale - h / 2]));
  const one = (sections: readonly Section[], fill?: string): Item => ({
    ...{ kind: 'path', role: 'map', rings: rings(sections), closed: true, stroke: { width: 0.1 } },
    ...(fill && { fill }),
  });
  const map = [
    one(front.sections.filter((s) => s.id !== id)),
    one(
      front.sections.filter((s) => s.id === id),
      BLACK,
    ),
  ];
  return stacked(1.2, { width: w + 0.1, height: h + 0.1, items: map }, textCell('text', 'front', 6));
}
