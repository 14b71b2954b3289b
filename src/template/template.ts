// One section of the printed side -> its template: everything that is printed for it, about the block's own origin, and the
// convex parts that it takes up on paper. Assumes a mirrored block.
import type { Block, Fabric, Piece, Section } from '../block.ts';
import { contrast } from '../colour/difference.ts';
import { insetConvex, intersectConvex } from '../drawing/clip.ts';
import { BLACK, type Item, polygon, segments, walkItems } from '../drawing/drawing.ts';
import type { Fill } from '../drawing/fill.ts';
import { drawHatch } from '../drawing/hatches.ts';
import { areaOf, clipHalf, narrowestWidth, type Point, type Polygon, type Segment } from '../geometry/polygon.ts';
import type { System } from '../units.ts';
import { contactTicks, cornerCrosses, joinLabels, OUTER_DOUBLE, outerEdgeLabels, seamRuns } from './allowance-marks.ts';
import { arrowCell, besides, type Cell, mapCell, pieceCell, putInPiece, stacked, textCell } from './cells.ts';
import { type Contact, cleanOutline, edgesOf, outerEdges } from './contacts.ts';
import { cutLine } from './cut-line.ts';
import { leadOut, putBeside } from './led-out.ts';
import { circleCorners, Room } from './room.ts';

export interface Template {
  readonly section: Section;
  /** corners in positive order */
  readonly outline: Polygon;
  readonly cut: Polygon;
  readonly items: readonly Item[];
  /** convex parts of what it takes up: the cut line, then words led out of it */
  readonly parts: readonly Polygon[];
}

export interface TemplateOptions {
  readonly allowance: number;
  readonly system: System;
  readonly fill: Fill;
  /** the block as its front is seen, for the maps; the block itself where absent */
  readonly front?: Block;
}

const SEAM_WIDTH = 0.4;
const SEWING_WIDTH = 0.6;
/** mm that words in a piece keep off the middle of its lines: 1 mm and half of the widest line */
const CLEAR = 1 + SEWING_WIDTH / 2;
/** mm: no hatch in pieces narrower than this, it would hide their numbers (1/2 in, trade rule) */
const HATCH_FROM = 12.7;
/** contrast of words that everybody can read: WCAG 2, level AAA */
const READABLE = 7;
const HATCH_INSET = 1 + SEWING_WIDTH / 2;

/** Number and code in the piece's room, as large as there is room for; undefined below 7 and 6 pt. */
function labelInside(p: Piece, room: Polygon, code: string): Item[] | undefined {
  for (let size = 14; size >= 7; size--) {
    const cells = (['row', 'stack'] as const).map((setting) => pieceCell(p.number, code, size, setting));
    for (const cell of cells) {
      const items = putInPiece(room, cell, 0, CLEAR);
      if (items) return items;
    }
    if (size > 10) continue;
    for (const turn of turnsAlong(room))
      for (const cell of cells) {
        const items = putInPiece(room, cell, turn, CLEAR);
        if (items) return items;
      }
  }
  return undefined;
}

/** Directions of the two longest edges, as turns that keep words from standing on their heads. */
function turnsAlong(P: Polygon): number[] {
  return edgesOf(P)
    .map(([a, b]) => {
      const turn = (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
      return {
        length: Math.hypot(b[0] - a[0], b[1] - a[1]),
        turn: turn > 90 ? turn - 180 : turn <= -90 ? turn + 180 : turn,
      };
    })
    .sort((a, b) => b.length - a.length)
    .slice(0, 2)
    .map((e) => e.turn);
}

interface Signs {
  /** labels by piece index, with the section's signs in those that carry them */
  readonly inside: (Item[] | undefined)[];
  /** signs for which no piece has room */
  readonly outside: Cell[];
}

/** Puts letter, arrow and map beside a piece's own label, in the largest piece that has room for them. The map is left out where no
 *  piece has room: the foot of the sheet has it too. */
function placeSigns(section: Section, codes: readonly string[], rooms: readonly Polygon[], map?: Cell): Signs {
  const inside = section.pieces.map((p, i) => labelInside(p, rooms[i]!, codes[i]!));
  const letter = textCell('section-letter', section.id, 28, true);
  const arrow = arrowCell();
  const note = textCell('text', 'cut to this shape', 7);
  const plain = section.pieces.length === 1;
  const byArea = section.pieces.map((p, i) => ({ p, i })).sort((a, b) => areaOf(rooms[b.i]!) - areaOf(rooms[a.i]!));
  const used = new Set<number>();
  const outside: Cell[] = [];
  const put = (signs: readonly Cell[]): boolean => {
    for (const { p, i } of byArea) {
      if (used.has(i)) continue;
      for (const size of [14, 12])
        for (const setting of ['row', 'stack'] as const) {
          const label = pieceCell(p.number, codes[i]!, size, setting);
          for (const cell of [
            stacked(2.2, besides(2.6, ...signs), label),
            besides(3.2, ...signs, label),
            stacked(2.2, ...signs, label),
          ]) {
            const items = putInPiece(rooms[i]!, cell, 0, CLEAR + 0.4);
            if (!items) continue;
            inside[i] = items;
            used.add(i);
            return true;
          }
        }
    }
    return false;
  };
  const withNote = (...signs: Cell[]): Cell[] => (plain ? [stacked(1.6, besides(2.6, ...signs), note)] : signs);
  if (map && put(withNote(letter, arrow, map))) return { inside, outside };
  if (!put(withNote(letter, arrow))) {
    if (!put([letter])) outside.push(letter);
    if (!put([arrow])) outside.push(arrow);
    if (plain) outside.push(note);
  }
  if (map) put([map]);
  return { inside, outside };
}

/** What the words and rings in a piece keep free of hatch. */
function holesOf(items: readonly Item[], room: Room): Polygon[] {
  const rings: Polygon[] = [];
  for (const it of walkItems(items))
    if (it.kind === 'circle') rings.push(circleCorners(it.centre, it.radius + 0.6));
    else if (it.kind === 'path' && (it.role === 'arrow' || it.role === 'map'))
      for (const r of it.rings) {
        const xs = r.map((q) => q[0]);
        const ys = r.map((q) => q[1]);
        const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
        rings.push([
          [x0 - 0.8, y0 - 0.8],
          [x1 + 0.8, y0 - 0.8],
          [x1 + 0.8, y1 + 0.8],
          [x0 - 0.8, y1 + 0.8],
        ]);
      }
  return [...rings, ...room.textHoles(1.05)];
}

/** Mixes a colour with white: 0 leaves it, 1 is white. */
export function paleColour(colour: string, white: number): string {
  const part = (at: number): string => {
    const v = Number.parseInt(colour.slice(at, at + 2), 16);
    return Math.round(v + (255 - v) * white)
      .toString(16)
      .padStart(2, '0');
  };
  return `#${part(1)}${part(3)}${part(5)}`;
}

/** The colour mixed with as much white as asked for, and with more where black words could not be read on it. */
export function legibleColour(colour: string, white: number): string {
  let pale = paleColour(colour, white);
  for (let w = white; contrast(pale, BLACK) < READABLE && w < 1; w += 0.05) pale = paleColour(colour, w);
  return pale;
}

function fillPiece(p: Piece, fabric: Fabric, fill: Fill, holes: readonly Polygon[]): Item[] {
  if (fill === 'none') return [];
  if (fill === 'hatch') {
    if (narrowestWidth(p.outline) < HATCH_FROM) return [];
    const item = drawHatch(fabric.hatch, p.outline, { weight: 'pale', inset: HATCH_INSET, holes });
    return item ? [item] : [];
  }
  const inner = insetConvex(p.outline, SEAM_WIDTH / 2);
  if (inner.length < 3) return [];
  return [polygon('fill', inner, { fill: legibleColour(fabric.colour, fill === 'tint' ? 0.75 : 0.35) })];
}

/** What fills a section's pieces where no words are in the way. */
export const fillPieces = (block: Block, section: Section, fill: Fill): Item[] =>
  section.pieces.flatMap((p) => fillPiece(p, block.fabrics.find((f) => f.id === p.fabric)!, fill, []));

export interface Limits {
  /** a convex shape that the cut line's tips and the words beside it are kept in; at least the allowance outside the outline */
  readonly within?: Polygon;
  /** lines that no words may cross: where parts of it will be pasted together */
  readonly apart?: readonly Segment[];
}

/** The larger side of a piece at each line: where its words go. */
function largestPart(P: Polygon, lines: readonly Segment[]): Polygon {
  return lines.reduce((part: Polygon, [a, b]) => {
    const [one, other] = [clipHalf(part, a, b, 1), clipHalf(part, a, b, -1)];
    return areaOf(one) >= areaOf(other) ? one : other;
  }, P);
}

export function drawTemplate(
  block: Block,
  section: Section,
  contacts: readonly Contact[],
  options: TemplateOptions,
  { within, apart = [] }: Limits = {},
): Template {
  const { allowance } = options;
  const outline = cleanOutline(section.outline);
  const touching = new Set(contacts.map((c) => c.other));
  const neighbours = block.sections.filter((s) => touching.has(s.id)).map((s) => cleanOutline(s.outline));
  const full = cutLine(outline, neighbours, allowance);
  const cut = within ? intersectConvex(full, within) : full;
  const fabricOf = (p: Piece): Fabric => block.fabrics.find((f) => f.id === p.fabric)!;
  const seams = section.pieces.flatMap((p): Segment[] => (p.seam ? [p.seam as Segment] : []));
  const outer = outerEdges(outline, block.size);

  const room = new Room();
  const lines: Item[] = [];
  const draw = (...items: (Item | undefined)[]): void => {
    for (const it of items) if (it) lines.push(it);
  };
  if (seams.length) draw(segments('seam', seams, { width: SEAM_WIDTH }));
  draw(seamRuns(seams, outline, cut));
  draw(polygon('sewing-line', outline, { stroke: { width: SEWING_WIDTH } }));
  draw(polygon('cut-line', cut, { stroke: { width: 0.25, dash: [4, 2] } }));
  if (outer.length)
    draw(
      segments(
        'outer-edge',
        outer.map((e) => movedOut(e, OUTER_DOUBLE)),
        { width: 0.3 },
      ),
    );
  draw(cornerCrosses(outline, cut), contactTicks(outline, cut, contacts));
  room.add(lines);
  if (apart.length) room.add([segments('overlap', apart, { width: 0.2 })]);

  const codes = section.pieces.map((p) => fabricOf(p).code);
  const rooms = section.pieces.map((p) => largestPart(p.outline, apart));
  const map = block.sections.length > 1 ? mapCell(options.front ?? block, section.id) : undefined;
  const { inside, outside } = placeSigns(section, codes, rooms, map);
  const words: Item[] = inside.flatMap((items) => items ?? []);
  room.add(words);
  const parts: Polygon[] = [cut];
  section.pieces.forEach((p, i) => {
    if (inside[i]) return;
    const led = leadOut(rooms[i]!, pieceCell(p.number, codes[i]!, 10, 'row'), cut, room, within);
    words.push(...led.items);
    room.add(led.items);
    parts.push(led.words);
  });
  for (const cell of outside) {
    const beside = putBeside(cell, cut, parts.slice(1), room, within);
    words.push(...beside.items);
    room.add(beside.items);
    parts.push(beside.words);
  }
  words.push(...joinLabels(outline, contacts, allowance, options.system, room).items);
  words.push(...outerEdgeLabels(outer, outline, allowance, room));

  const holes = holesOf(words, room);
  const fills = section.pieces.flatMap((p) => fillPiece(p, fabricOf(p), options.fill, holes));
  return { section, outline, cut, items: [...fills, ...lines, ...words], parts };
}

/** An edge in positive order, moved outwards. */
function movedOut([a, b]: Segment, by: number): Segment {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const n: Point = [(by * (b[1] - a[1])) / length, (-by * (b[0] - a[0])) / length];
  return [
    [a[0] + n[0], a[1] + n[1]],
    [b[0] + n[0], b[1] + n[1]],
  ];
}
