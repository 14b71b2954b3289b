// The sections in sewing order: a map, then one small picture a piece of what is sewn so far, each with a box to tick, its patch
// where it lies, and where dark fabric lies under light.
import type { Fabric, Section } from '../block.ts';
import type { Patch } from '../data.ts';
import { text } from '../drawing/drawing.ts';
import { measureText, wrapText } from '../drawing/fonts.ts';
import { formatLength, formatSize, type System } from '../units.ts';
import { fabricsById } from './block-picture.ts';
import { type Cell, type Flow, oneLine, tickBox } from './flow.ts';
import type { PacketInput } from './input.ts';
import { locatorMap } from './locator.ts';
import { mirrorPairs } from './mirror-pairs.ts';
import { placeAlongSeam, placeWords } from './patch-place.ts';
import { findShadows, shadowWords } from './shadows.ts';
import { marksOn, roomForPatches, stepPicture } from './step-picture.ts';

const GAP = 3;
/** mm: a section's map, and what is between two sections that share a row */
const MAP = 14;
const APART = 7;
/** mm wide: pictures of steps, and how high they are at most */
const STEP = { least: 18.6, most: 30, high: 19.5 };
const TITLE = 5.4;

/** A section as it is set down: its map and its steps in one row, or in several where they are many. */
interface Row {
  readonly section: Section;
  readonly width: number;
  readonly height: number;
  readonly cells: readonly { readonly x: number; readonly y: number; readonly cell: Cell }[];
}

interface Drawer {
  readonly input: PacketInput;
  readonly fabrics: ReadonlyMap<string, Fabric>;
  readonly patches: ReadonlyMap<string, Patch>;
}

export function drawSections(flow: Flow, input: PacketInput): void {
  const { block } = input;
  flow.heading('Sections in sewing order');
  for (const words of introduction(input)) flow.paragraph(words, { size: 9 });
  flow.space(1.5);
  const drawer: Drawer = {
    input,
    fabrics: fabricsById(block),
    patches: new Map(
      input.shopping.patches.filter((p) => p.block === block.name).map((p) => [`${p.section}${p.piece}`, p]),
    ),
  };
  const pairs = mirrorPairs(block);
  let line: Row[] = [];
  const wide = (rows: readonly Row[]): number => rows.reduce((sum, r) => sum + r.width, APART * (rows.length - 1));
  const set = (): void => {
    if (line.length) setDown(flow, drawer, line, pairs);
    line = [];
  };
  for (const s of block.sections) {
    const row = sectionRow(drawer, s, flow.width);
    if (line.length && wide([...line, row]) > flow.width) set();
    line.push(row);
  }
  set();
}

function introduction({ block, allowance, shopping, system }: PacketInput): string[] {
  const askew = shopping.patches.some((p) => p.block === block.name && p.along === 'turned');
  return [
    'All pictures and maps show the front, the way the finished block looks; on the paper everything is reversed. The newest piece is in its color with a bold seam, what is already sewn is paler. Tick a box for every piece that is on.',
    `The dashed rectangle is the patch, right side up, after you open it. Center the patch on its seam unless a step says how far it reaches past an end: “${system === 'inch' ? '3/4 in' : '2 cm'} past left” is measured along the seam from its left end as you see it here.${askew ? ' ∠: lay this patch at an angle, as drawn; its edge must reach past the whole seam by the seam allowance at least.' : ''}`,
    ...(block.sections.some((s) => findShadows(block, s).length)
      ? [
          `“Dark under light” names light pieces with a dark seam allowance under them. Trim the dark allowance to ${formatLength(narrower(allowance, system), system)} after sewing the seam, or cut the light patch ${system === 'inch' ? '1/8 in' : '3 mm'} wider.`,
        ]
      : []),
  ];
}

/** What a dark allowance is trimmed to. */
export const narrower = (allowance: number, system: System): number =>
  allowance - (system === 'inch' ? 25.4 / 16 : 1.5);

/** Sections side by side with a title each, then what there is to say about them. */
function setDown(flow: Flow, { input }: Drawer, line: readonly Row[], pairs: ReadonlyMap<string, string>): void {
  const notes = line.flatMap(({ section: s }) => notesOn(input, s));
  const noted = notes.flatMap((n) => wrapText(n, 8, 'regular', flow.width)).length * 3.9;
  flow.need(Math.min(TITLE + Math.max(...line.map((r) => r.height)) + noted + 1, flow.frame.height));
  const top = flow.y;
  let x = flow.left;
  line.forEach((row, i) => {
    const { section: s } = row;
    flow.begin(`Section ${s.id}`);
    const name = `Section ${s.id}`;
    const room = (i + 1 < line.length ? row.width + APART : flow.left + flow.width - x) - 1;
    flow.add(text('text', [x, top + 3.8], name, 10.5, { font: 'bold' }));
    const after = measureText(`${name}  `, 10.5, 'bold').width;
    flow.add(text('text', [x + after, top + 3.8], oneLine(aboutSection(input, s, pairs), 7.5, room - after), 7.5));
    for (const { x: dx, y: dy, cell } of row.cells) flow.place(cell.items, x + dx, top + TITLE + dy);
    x += row.width + APART;
  });
  flow.y = top + TITLE + Math.max(...line.map((r) => r.height));
  for (const n of notes) flow.paragraph(n, { size: 8 });
  flow.space(notes.length ? 1.2 : 2.4);
}

function aboutSection({ templates }: PacketInput, s: Section, pairs: ReadonlyMap<string, string>): string {
  const sheets = templates.sheetsOf[s.id] ?? [];
  const pair = pairs.get(s.id);
  return [
    s.pieces.length === 1 ? 'cut to shape' : '',
    sheets.length ? `sheet ${sheets.join(', ')}` : '',
    pair ? `mirror image of ${pair}` : '',
  ]
    .filter(Boolean)
    .join(' · ');
}

function notesOn({ block }: PacketInput, s: Section): string[] {
  const shadows = findShadows(block, s);
  const marks = marksOn(s, block.marks).map((m) => block.marks!.indexOf(m) + 1);
  return [
    ...(shadows.length ? [`Dark under light: ${shadows.map((v) => shadowWords(v)).join('; ')}.`] : []),
    ...(marks.length
      ? [
          `Stitched on later, dotted in the last picture of ${s.id}: detail ${marks.join(', ')}. See “Details to stitch or ink”.`,
        ]
      : []),
  ];
}

function sectionRow(drawer: Drawer, s: Section, width: number): Row {
  const { block } = drawer.input;
  const room = width - MAP - GAP;
  const widthOf = (n: number): number => (room + GAP) / n - GAP;
  const rows =
    widthOf(s.pieces.length) >= STEP.least
      ? 1
      : Math.ceil(s.pieces.length / Math.floor((room + GAP) / (STEP.least + GAP)));
  const columns = Math.ceil(s.pieces.length / rows);
  const wide = Math.min(STEP.most, widthOf(columns));
  const lies = s.pieces.flatMap((p) => drawer.patches.get(`${s.id}${p.number}`)?.lies ?? []);
  const around = roomForPatches(s, lies);
  const cells = s.pieces.map((_, i) => stepCell({ ...drawer, around }, s, i + 1, wide));
  const map = locatorMap(block, s.id, MAP);
  const set: Row['cells'][number][] = [{ x: 0, y: 0, cell: { items: map.items, height: map.height } }];
  let y = 0;
  for (let i = 0; i < cells.length; i += columns) {
    const part = cells.slice(i, i + columns);
    part.forEach((cell, k) => {
      set.push({ x: MAP + GAP + k * (wide + GAP), y, cell });
    });
    y += Math.max(...part.map((c) => c.height)) + 1.5;
  }
  return {
    section: s,
    width: MAP + GAP + columns * (wide + GAP) - GAP,
    height: Math.max(map.height, y - 1.5),
    cells: set,
  };
}

function stepCell(drawer: Drawer & { readonly around: number }, s: Section, n: number, width: number): Cell {
  const { input, fabrics, patches } = drawer;
  const { system, block } = input;
  const p = s.pieces[n - 1]!;
  const patch = patches.get(`${s.id}${p.number}`);
  const drawn = stepPicture(s, n, fabrics, width, STEP.high, {
    around: drawer.around,
    ...(patch?.lies && { patch: patch.lies }),
    ...(n === s.pieces.length && { later: block }),
  });
  const low = drawn.height;
  const code = fabrics.get(p.fabric)!.code;
  const name = `${s.id}${p.number}`;
  const items = [
    ...drawn.items,
    tickBox(0, low + 1.2),
    text('text', [4.2, low + 3.9], name, 8.5, { font: 'bold' }),
    text('text', [4.2 + measureText(`${name} `, 8.5, 'bold').width, low + 3.9], code, 7.5),
  ];
  let y = low + 4.4;
  for (const line of stepWords(p, patch, system).flatMap((w) => wrapText(w, 6.5, 'regular', width))) {
    y += 2.9;
    items.push(text('text', [0, y - 0.2], line, 6.5));
  }
  return { items, height: y + 0.6 };
}

/** The patch's size, how it is laid where not along its seam, and where along the seam. */
function stepWords(p: Section['pieces'][number], patch: Patch | undefined, system: System): string[] {
  if (!patch) return [];
  const place = placeAlongSeam(p, patch);
  const mark = patch.along === 'turned' ? ' ∠' : patch.along === 'upright' ? ' ↑' : patch.along === 'edge' ? ' ↕' : '';
  const past = place && placeWords(place, system);
  return [`${formatSize([patch.width, patch.length], system)}${mark}`, ...(past ? [past] : [])];
}
