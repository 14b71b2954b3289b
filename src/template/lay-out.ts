// Block -> template sheets at true size: each section mirrored, with allowance, labels, hatches and marks, several to a sheet.
// Assumes a block that can be sewn; a section too large for any sheet is printed in parts that are pasted together.
import type { Block } from '../block.ts';
import { type Drawing, type Item, placeItems, placePoints, rectanglePoints } from '../drawing/drawing.ts';
import { type Paper, paperSize } from '../drawing/paper.ts';
import { areaOf, type Polygon } from '../geometry/polygon.ts';
import type { Mm, System } from '../units.ts';
import { findContacts } from './contacts.ts';
import { nestShapes } from './nest.ts';
import { type Area, boxAt, edgeTurns, type Place, packBoxes, type Shape, smallestBox } from './pack-boxes.ts';
import { turnLeftRight } from './printed-side.ts';
import { drawSheetFrame, templateArea, templateFrame } from './sheet-frame.ts';
import { splitTemplate } from './split.ts';
import { drawTemplate, type Fill, type Template } from './template.ts';

export interface TemplateSheetOptions {
  readonly paper: Paper;
  readonly margin: Mm;
  readonly allowance: Mm;
  readonly system: System;
  /** what tells the fabrics apart inside the pieces; 'hatch' if absent */
  readonly fill?: Fill;
  /** only these sections, for a paper that was spoiled; all if absent */
  readonly sections?: readonly string[];
  /** as seen from the front, marked as not for sewing */
  readonly unmirrored?: boolean;
  readonly designer?: string;
  readonly version?: string;
}

export interface TemplateSheets {
  readonly sheets: readonly Drawing[];
  /** for each section the numbers of the sheets it is on, from 1 */
  readonly sheetsOf: Readonly<Record<string, readonly number[]>>;
  /** share of the sheets' room that lies within cut lines */
  readonly fill: number;
  /** sections too large for one sheet */
  readonly split: readonly string[];
}

/** mm between templates (trade rule) */
const APART = 3;
/** how often the nesting tries a template on a sheet: more gains little (12 blocks of 80 pieces: 48 sheets; 4000: 47; boxes: 69) */
const NEST_TRIES = 1500;

export function layOutTemplates(block: Block, options: TemplateSheetOptions): TemplateSheets {
  const printed = options.unmirrored ? block : turnLeftRight(block);
  const { paper, margin } = options;
  const contacts = findContacts(printed);
  const frame = templateFrame(paper, margin);
  const [width, height] = templateArea(paper, margin);
  const area: Area = { width, height };
  const look = { allowance: options.allowance, system: options.system, fill: options.fill ?? 'hatch' };
  const templates = printed.sections
    .filter((s) => !options.sections || options.sections.includes(s.id))
    .map((s): Template => {
      const t = drawTemplate(printed, s, contacts.get(s.id)!, look);
      if (smallestBox(t.parts, area)) return t;
      // a tip of the cut line or a label led out may be what does not fit: keep within the box that does
      const box = boxThatFits(t.outline, options.allowance, area);
      if (!box) return t;
      const tight = drawTemplate(printed, s, contacts.get(s.id)!, look, box);
      return smallestBox(tight.parts, area) ? tight : { ...tight, parts: [tight.cut] };
    });
  const left = frame.x + frame.width - width;
  const shapes: Shape[] = templates.map((t) => ({ id: t.section.id, parts: t.parts }));
  const places = placeShapes(shapes, frame, area);
  const placed = new Map(places.map((p) => [p.id, p]));
  const count = places.reduce((m, p) => Math.max(m, p.sheet + 1), 0);
  const sheetsOf: Record<string, number[]> = {};
  const pages: { items: Item[]; sections: string[] }[] = Array.from({ length: count }, () => ({
    items: [],
    sections: [],
  }));
  const split: string[] = [];
  for (const t of templates) {
    const id = t.section.id;
    const p = placed.get(id);
    if (p) {
      const page = pages[p.sheet]!;
      page.items.push(placeTemplate(t, p, frame.x, frame.y));
      page.sections.push(id);
      sheetsOf[id] = [p.sheet + 1];
      continue;
    }
    split.push(id);
    sheetsOf[id] = [];
    for (const items of splitTemplate(t, area)) {
      pages.push({ items: placeItems(items, { turn: 0, dx: left, dy: frame.y }), sections: [id] });
      sheetsOf[id].push(pages.length);
    }
  }
  const [w, h] = paperSize(paper);
  const sheets = pages.map((page, i): Drawing => {
    const foot = drawSheetFrame(printed, page.sections, paper, margin, {
      page: i + 1,
      pages: pages.length,
      system: options.system,
      allowance: options.allowance,
      unmirrored: options.unmirrored ?? false,
      ...(options.designer ? { designer: options.designer } : {}),
      ...(options.version ? { version: options.version } : {}),
    });
    return {
      width: w,
      height: h,
      title: `${block.name}, template sheet ${i + 1} of ${pages.length}`,
      items: [...page.items, { kind: 'group', role: 'text', name: 'sheet', items: foot }],
    };
  });
  const used = templates.filter((t) => placed.has(t.section.id)).reduce((sum, t) => sum + areaOf(t.cut), 0);
  return { sheets, sheetsOf, fill: count ? used / (count * frame.width * frame.height) : 0, split };
}

function placeTemplate(t: Template, p: Place, left: number, top: number): Item {
  const items = placeItems(t.items, { turn: p.turn, dx: p.dx + left, dy: p.dy + top });
  return { kind: 'group', role: 'sewing-line', name: `section ${t.section.id}`, items };
}

/** The packer of boxes is quick and never far off; nesting is kept where it saves sheets, as it nearly always does. */
function placeShapes(shapes: readonly Shape[], frame: ReturnType<typeof templateFrame>, area: Area): Place[] {
  const { ruler } = frame;
  const standing = rectanglePoints(ruler.x - frame.x, ruler.y - frame.y, ruler.width, ruler.height);
  const sheetsOf = (places: readonly Place[]): number => places.reduce((m, p) => Math.max(m, p.sheet + 1), 0);
  const boxes = packBoxes(shapes, area, APART).map((p) => ({ ...p, dx: p.dx + frame.width - area.width }));
  const nested = nestShapes(shapes, frame, { gap: APART, fixed: [standing], tries: NEST_TRIES });
  return nested.length >= boxes.length && sheetsOf(nested) <= sheetsOf(boxes) ? nested : boxes;
}

/** The outline's box with the allowance around it, at a turn at which that fits the area: as a shape about the outline. */
function boxThatFits(outline: Polygon, allowance: number, area: Area): Polygon | undefined {
  for (const turn of edgeTurns([outline])) {
    const b = boxAt([outline], turn);
    const [w, h] = [b.maxX - b.minX + 2 * allowance, b.maxY - b.minY + 2 * allowance];
    if (w > area.width || h > area.height) continue;
    return placePoints(rectanglePoints(b.minX - allowance, b.minY - allowance, w, h), { turn: -turn, dx: 0, dy: 0 });
  }
  return undefined;
}
