// The one description of a sheet: a list of things to draw, in millimetres, y down, each with its role. PDF, SVG, PNG and
// DXF are written from it, and readability is judged on it. Line widths and text sizes are absolute: a Drawing is never scaled.
import type { Point, Polygon, Segment } from '../geometry/polygon.ts';

/** What a thing is for: it becomes the group's name in SVG and the layer in DXF. */
export type Role =
  | 'seam'
  | 'sewing-line'
  | 'outer-edge'
  | 'cut-line'
  | 'seam-run'
  | 'piece-number'
  | 'ring'
  | 'fabric-code'
  | 'section-letter'
  | 'arrow'
  | 'hatch'
  | 'fill'
  | 'leader'
  | 'tick'
  | 'cross'
  | 'join-label'
  | 'map'
  | 'scale'
  | 'overlap'
  | 'picture'
  | 'outline'
  | 'text'
  | 'rule'
  | 'box';

export interface Stroke {
  /** mm */
  readonly width: number;
  /** #rrggbb, black if absent */
  readonly colour?: string;
  /** mm on, mm off */
  readonly dash?: readonly [number, number];
}

export type FontName = 'regular' | 'bold';
/** Faces of one family: those that texts ask for, then those that are asked in turn where a character is missing. */
export type FaceName = FontName | 'serif' | 'symbols';
export type Align = 'start' | 'middle' | 'end';

/** Polylines (closed: polygons, filled even-odd). */
export interface PathItem {
  readonly kind: 'path';
  readonly role: Role;
  readonly rings: readonly (readonly Point[])[];
  readonly closed: boolean;
  readonly stroke?: Stroke;
  readonly fill?: string;
}

export interface CircleItem {
  readonly kind: 'circle';
  readonly role: Role;
  readonly centre: Point;
  readonly radius: number;
  readonly stroke?: Stroke;
  readonly fill?: string;
}

/** One line of text. `at` is on the baseline; `turn` in degrees, clockwise to the eye. */
export interface TextItem {
  readonly kind: 'text';
  readonly role: Role;
  readonly at: Point;
  readonly text: string;
  /** points */
  readonly size: number;
  readonly font: FontName;
  readonly align: Align;
  readonly turn: number;
  readonly colour?: string;
  readonly underline?: boolean;
}

export interface ImageItem {
  readonly kind: 'image';
  readonly role: Role;
  readonly at: Point;
  readonly width: number;
  readonly height: number;
  /** a PNG or JPEG file */
  readonly file: Uint8Array;
}

/** Items shown only inside the ring. */
export interface ClipItem {
  readonly kind: 'clip';
  readonly role: Role;
  readonly ring: Polygon;
  readonly items: readonly Item[];
}

/** Items that belong together; the name becomes an id in SVG ("section A"). */
export interface GroupItem {
  readonly kind: 'group';
  readonly role: Role;
  readonly name: string;
  readonly items: readonly Item[];
}

export type Item = PathItem | CircleItem | TextItem | ImageItem | ClipItem | GroupItem;

export interface Drawing {
  /** mm */
  readonly width: number;
  readonly height: number;
  readonly title: string;
  readonly items: readonly Item[];
}

export const BLACK = '#000000';
export const MM_PER_PT = 25.4 / 72;

export const polyline = (role: Role, points: readonly Point[], stroke: Stroke): PathItem => ({
  kind: 'path',
  role,
  rings: [points],
  closed: false,
  stroke,
});

export const segments = (role: Role, list: readonly Segment[], stroke: Stroke): PathItem => ({
  kind: 'path',
  role,
  rings: list,
  closed: false,
  stroke,
});

export const polygon = (role: Role, ring: Polygon, look: { stroke?: Stroke; fill?: string }): PathItem => ({
  kind: 'path',
  role,
  rings: [ring],
  closed: true,
  ...look,
});

export const rectangle = (
  role: Role,
  x: number,
  y: number,
  width: number,
  height: number,
  look: { stroke?: Stroke; fill?: string },
): PathItem => polygon(role, rectanglePoints(x, y, width, height), look);

export const rectanglePoints = (x: number, y: number, width: number, height: number): Point[] => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];

export const text = (
  role: Role,
  at: Point,
  words: string,
  size: number,
  look: Partial<Pick<TextItem, 'font' | 'align' | 'turn' | 'colour' | 'underline'>> = {},
): TextItem => ({ kind: 'text', role, at, text: words, size, font: 'regular', align: 'start', turn: 0, ...look });

/** A turn about the origin (degrees, clockwise to the eye), then a move. */
export interface Placement {
  readonly turn: number;
  readonly dx: number;
  readonly dy: number;
}

export function placePoint(q: Point, p: Placement): Point {
  const a = (p.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  return [q[0] * c - q[1] * s + p.dx, q[0] * s + q[1] * c + p.dy];
}

export function placePoints(points: readonly Point[], p: Placement): Point[] {
  const a = (p.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  return points.map(([x, y]) => [x * c - y * s + p.dx, x * s + y * c + p.dy]);
}

function placeItem(it: Item, p: Placement): Item {
  switch (it.kind) {
    case 'path':
      return { ...it, rings: it.rings.map((r) => placePoints(r, p)) };
    case 'circle':
      return { ...it, centre: placePoint(it.centre, p) };
    case 'text':
      return { ...it, at: placePoint(it.at, p), turn: it.turn + p.turn };
    case 'image':
      if (p.turn !== 0) throw new Error('an image cannot be turned');
      return { ...it, at: placePoint(it.at, p) };
    case 'clip':
      return { ...it, ring: placePoints(it.ring, p), items: placeItems(it.items, p) };
    case 'group':
      return { ...it, items: placeItems(it.items, p) };
  }
}

/** The items turned and moved; nothing is ever scaled or mirrored here. Images cannot be turned. */
export const placeItems = (items: readonly Item[], p: Placement): Item[] => items.map((it) => placeItem(it, p));

/** Every item with groups and clips opened; what a clip hides is still listed. */
export function* walkItems(items: readonly Item[]): Generator<Exclude<Item, ClipItem | GroupItem>> {
  for (const it of items)
    if (it.kind === 'group' || it.kind === 'clip') yield* walkItems(it.items);
    else yield it;
}
