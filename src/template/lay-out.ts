// Block -> template sheets at true size: each section mirrored, with allowance, labels, hatches and marks, several to a sheet.
// Assumes a block that can be sewn; a section too large for any sheet is printed in parts that are pasted together.
import type { Block, Section } from '../block.ts';
import { type Drawing, type Item, placeItems, placePoints, rectanglePoints } from '../drawing/drawing.ts';
import type { Fill } from '../drawing/fill.ts';
import { isRoll, type OwnPaper, type Paper, paperSize } from '../drawing/paper.ts';
import { areaOf, boundsOf, type Point, type Polygon } from '../geometry/polygon.ts';
import { readableTitle } from '../names.ts';
import { UserError } from '../problems/problem.ts';
import { type Mm, mm, type System } from '../units.ts';
import { findContacts } from './contacts.ts';
import { nestInOrder } from './in-order.ts';
import { nestShapes } from './nest.ts';
import { type Area, boxAt, edgeTurns, type Place, packBoxes, type Shape, smallestBox } from './pack-boxes.ts';
import { turnLeftRight } from './printed-side.ts';
import { drawSheetFrame, pageNumberAt } from './sheet-frame.ts';
import { splitTemplate } from './split.ts';
import { drawTemplate, type Limits, type Template } from './template.ts';
import { templateArea, templateFrame } from './template-area.ts';

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
  /** every sheet this often, set after set; 1 if absent */
  readonly copies?: number;
  readonly designer?: string;
  readonly version?: string;
}

export interface TemplateSheets {
  readonly sheets: readonly Drawing[];
  /** for each section the numbers of the sheets it is on, from 1 */
  readonly sheetsOf: Readonly<Record<string, readonly number[]>>;
  /** share of the sheets' room that lies within cut lines */
  readonly fill: number;
  /** sheets that it takes when every template is packed as the rectangle around it */
  readonly asRectangles: number;
  /** sheets more than it would take with the sections in any order */
  readonly moreForOrder: number;
  /** sections too large for one sheet */
  readonly split: readonly string[];
  /** the right end of the baseline of a page number, free on every sheet */
  readonly numberAt: Point;
}

/** mm between templates (trade rule) */
export const APART = 3;
/** how often the nesting tries a template on a sheet: more gains little (441 layouts: 1500 2132 sheets, 2500 2112, 4000 2101) */
const NEST_TRIES = 2500;
/** more parts than this are packed by their boxes alone: to try them on every sheet before would take minutes */
const MOST_NESTED = 500;
/** house rule: nobody pastes so many; a block of 2 m in 26 sections has some 300 on A4 */
const MOST_PARTS = 1500;
/** by how much the next length of a roll is longer that is tried, and how hard */
const LONGER = 1.05;
const ROLL_TRIES = 150;
/** mm: no piece of a roll is shorter, so that foot and rulers have room */
const SHORTEST_PIECE = 250;

export function layOutTemplates(block: Block, options: TemplateSheetOptions): TemplateSheets {
  const printed = options.unmirrored ? block : turnLeftRight(block);
  if (options.sections) refuseUnknown(printed, options.sections);
  const paper = isRoll(options.paper) ? cutFromRoll(printed, options, options.paper) : options.paper;
  const { margin } = options;
  const frame = templateFrame(paper, margin);
  const [width, height] = templateArea(paper, margin);
  const area: Area = { width, height };
  const templates = drawTemplates(printed, options, area);
  const draw = templateDrawer(printed, options);
  const pieces = allOnSheets(block.name, templates, area, draw);
  const { places, asRectangles, moreForOrder } = placeInOrder(pieces, frame, area);
  if (places.length < pieces.length) throw new Error('a template fits no sheet, whole or in parts');
  const byName = new Map(pieces.map((p) => [p.id, p]));
  const sheetsOf: Record<string, number[]> = Object.fromEntries(templates.map((t) => [t.section.id, []]));
  const pages: { items: Item[]; sections: string[] }[] = Array.from({ length: countSheets(places) }, () => ({
    items: [],
    sections: [],
  }));
  for (const p of places) {
    const { section, name, items } = byName.get(p.id)!;
    const page = pages[p.sheet]!;
    const placed = placeItems(items, { turn: p.turn, dx: p.dx + frame.x, dy: p.dy + frame.y });
    page.items.push({ kind: 'group', role: 'sewing-line', name, items: placed });
    if (!page.sections.includes(section)) page.sections.push(section);
    const own = sheetsOf[section]!;
    if (!own.includes(p.sheet + 1)) own.push(p.sheet + 1);
  }
  for (const own of Object.values(sheetsOf)) own.sort((a, b) => a - b);
  const split = templates.map((t) => t.section.id).filter((id) => pieces.filter((p) => p.section === id).length > 1);
  const [w, h] = paperSize(paper);
  const copies = options.copies ?? 1;
  const drawSheet = (page: { items: Item[]; sections: string[] }, i: number, copy: number): Drawing => {
    const foot = drawSheetFrame(options.unmirrored ? printed : block, page.sections, paper, margin, {
      page: i + 1,
      pages: pages.length,
      system: options.system,
      allowance: options.allowance,
      unmirrored: options.unmirrored ?? false,
      ...(copies > 1 ? { copy: [copy, copies] } : {}),
      ...(options.designer ? { designer: options.designer } : {}),
      ...(options.version ? { version: options.version } : {}),
    });
    return {
      width: w,
      height: h,
      title: `${readableTitle(block.name)}, template sheet ${i + 1} of ${pages.length}: ${page.sections.join(', ')}`,
      items: [...page.items, { kind: 'group', role: 'text', name: 'sheet', items: foot }],
    };
  };
  const sheets = Array.from({ length: copies }, (_, c) => pages.map((page, i) => drawSheet(page, i, c + 1))).flat();
  const used = pieces.reduce((sum, p) => sum + areaOf(p.parts[0]!), 0);
  return {
    sheets,
    sheetsOf,
    fill: pages.length ? used / (pages.length * frame.width * frame.height) : 0,
    asRectangles,
    moreForOrder,
    split,
    numberAt: pageNumberAt(paper, margin),
  };
}

/** One template by itself, 3 mm of paper around it: for cutters and for pages that show one section. */
export function drawSectionSheet(block: Block, id: string, options: Omit<TemplateSheetOptions, 'paper'>): Drawing {
  const printed = options.unmirrored ? block : turnLeftRight(block);
  refuseUnknown(printed, [id]);
  const [t] = drawTemplates(printed, { ...options, sections: [id] });
  const b = boundsOf(t!.parts.flat());
  const items = placeItems(t!.items, { turn: 0, dx: APART - b.minX, dy: APART - b.minY });
  return {
    width: b.maxX - b.minX + 2 * APART,
    height: b.maxY - b.minY + 2 * APART,
    title: `${block.name}, section ${id}${options.unmirrored ? ' (reference, not for sewing)' : ''}`,
    items: [{ kind: 'group', role: 'sewing-line', name: `section ${id}`, items }],
  };
}

function refuseUnknown(block: Block, ids: readonly string[]): void {
  const unknown = ids.find((id) => !block.sections.some((s) => s.id === id));
  if (unknown === undefined) return;
  const sections = block.sections.map((s) => s.id);
  throw new UserError('no-such-section', { section: unknown, block: block.name, sections }, 2);
}

/** The templates of the sections that were asked for; kept within the area where they can be. */
export function drawTemplates(
  printed: Block,
  options: Omit<TemplateSheetOptions, 'paper' | 'margin'>,
  area: Area = { width: Infinity, height: Infinity },
): Template[] {
  const draw = templateDrawer(printed, options);
  return printed.sections
    .filter((s) => !options.sections || options.sections.includes(s.id))
    .map((s): Template => {
      const t = draw(s);
      if (smallestBox(t.parts, area)) return t;
      // a tip of the cut line or a label led out may be what does not fit: keep both on the paper
      for (const within of papersAbout(t.outline, options.allowance, area)) {
        const tight = draw(s, { within });
        if (smallestBox(tight.parts, area)) return tight;
      }
      return t;
    });
}

type DrawSection = (s: Section, limits?: Limits) => Template;

function templateDrawer(
  printed: Block,
  options: Pick<TemplateSheetOptions, 'allowance' | 'system' | 'fill' | 'unmirrored'>,
): DrawSection {
  const contacts = findContacts(printed);
  const { allowance, system, fill = 'hatch', unmirrored = false } = options;
  const look = { allowance, system, fill, front: unmirrored ? printed : turnLeftRight(printed) };
  return (s, limits) => drawTemplate(printed, s, contacts.get(s.id)!, look, limits);
}

/** The shortest piece of the roll on which everything lies, in steps; the longest there is where that is not enough. */
function cutFromRoll(printed: Block, options: TemplateSheetOptions, roll: OwnPaper): OwnPaper {
  const piece = (height: number): OwnPaper => ({ width: roll.width, height: mm(height) });
  const [width, height] = templateArea(piece(roll.height), options.margin);
  const templates = drawTemplates(printed, options, { width, height });
  const draw = templateDrawer(printed, options);
  const shapes = allOnSheets(printed.name, templates, { width, height }, draw);
  const least = templates.reduce((sum, t) => sum + areaOf(t.cut), 0) / width;
  for (let length = Math.max(SHORTEST_PIECE, least); length < roll.height; length *= LONGER) {
    const frame = templateFrame(piece(length), options.margin);
    const [w, h] = templateArea(piece(length), options.margin);
    const { places } = placeShapes(shapes, frame, { width: w, height: h }, ROLL_TRIES);
    if (places.length === shapes.length && countSheets(places) === 1) return piece(Math.ceil(length));
  }
  return piece(roll.height);
}

const countSheets = (places: readonly Place[]): number => places.reduce((m, p) => Math.max(m, p.sheet + 1), 0);

interface OnSheet extends Shape {
  readonly section: string;
  /** of its group: "section A", "section A part 2" */
  readonly name: string;
  readonly items: readonly Item[];
}

/** What is laid on sheets for a template: the whole, or its parts where no sheet is large enough. */
function onSheets(t: Template, area: Area, draw: DrawSection): OnSheet[] {
  const id = t.section.id;
  if (smallestBox(t.parts, area)) return [{ id, section: id, name: `section ${id}`, items: t.items, parts: t.parts }];
  return splitTemplate(t, area, (apart) => draw(t.section, { apart })).map((part, i) => ({
    id: `${id} ${i + 1}`,
    section: id,
    name: `section ${id} part ${i + 1}`,
    items: part.items,
    parts: [part.shape],
  }));
}

/** Throws UserError where that are more parts than anybody would paste. */
function allOnSheets(block: string, templates: readonly Template[], area: Area, draw: DrawSection): OnSheet[] {
  const all: OnSheet[] = [];
  for (const t of templates) {
    all.push(...onSheets(t, area, draw));
    if (all.length > MOST_PARTS) throw new UserError('too-many-parts', { block, most: MOST_PARTS, field: 'paper' });
  }
  return all;
}

/** The sections in their order from sheet to sheet where that costs at most so many sheets more [house rule]. */
const MORE_FOR_ORDER = 1;

function placeInOrder(
  shapes: readonly Shape[],
  frame: ReturnType<typeof templateFrame>,
  area: Area,
): { places: Place[]; asRectangles: number; moreForOrder: number } {
  const any = placeShapes(shapes, frame, area, NEST_TRIES);
  if (shapes.length > MOST_NESTED) return { ...any, moreForOrder: 0 };
  const ordered = nestInOrder(shapes, frame, { gap: APART, fixed: [standingIn(frame)] });
  const more = countSheets(ordered) - countSheets(any.places);
  if (ordered.length < any.places.length || more > MORE_FOR_ORDER) return { ...any, moreForOrder: 0 };
  return { ...any, places: ordered, moreForOrder: Math.max(0, more) };
}

/** The ruler that stands on every sheet. */
const standingIn = ({ x, y, ruler }: ReturnType<typeof templateFrame>): Polygon =>
  rectanglePoints(ruler.x - x, ruler.y - y, ruler.width, ruler.height);

/** The packer of boxes is quick and never far off; nesting is kept where it saves sheets, as it nearly always does. */
function placeShapes(
  shapes: readonly Shape[],
  frame: ReturnType<typeof templateFrame>,
  area: Area,
  tries: number,
): { places: Place[]; asRectangles: number } {
  const boxes = packBoxes(shapes, area, APART).map((p) => ({ ...p, dx: p.dx + frame.width - area.width }));
  if (shapes.length > MOST_NESTED) return { places: boxes, asRectangles: countSheets(boxes) };
  const nested = nestShapes(shapes, frame, { gap: APART, fixed: [standingIn(frame)], tries });
  const better = nested.length >= boxes.length && countSheets(nested) <= countSheets(boxes);
  return { places: better ? nested : boxes, asRectangles: countSheets(boxes) };
}

/** The area as a shape about the outline, which lies in its middle with room for the allowance: at every turn at which it does. */
function* papersAbout(outline: Polygon, allowance: number, { width, height }: Area): Generator<Polygon> {
  for (const turn of edgeTurns([outline])) {
    const b = boxAt([outline], turn);
    const [w, h] = [b.maxX - b.minX + 2 * allowance, b.maxY - b.minY + 2 * allowance];
    if (w > width || h > height) continue;
    const [x, y] = [(b.minX + b.maxX - width) / 2, (b.minY + b.maxY - height) / 2];
    yield placePoints(rectanglePoints(x, y, width, height), { turn: -turn, dx: 0, dy: 0 });
  }
}
