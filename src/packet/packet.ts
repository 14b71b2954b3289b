// All that is printed for a block, in the order in which it is used, as one PDF.
import { type Drawing, text } from '../drawing/drawing.ts';
import { printableFrame } from '../drawing/paper.ts';
import { type OutlineEntry, writePdf } from '../drawing/pdf.ts';
import { drawColouring, drawSmallOnes } from './colouring.ts';
import { type Contents, drawCover, TEMPLATES } from './cover.ts';
import { drawCutting } from './cutting.ts';
import { drawFinishing } from './finishing.ts';
import { Flow, type PartEntry, withFoot } from './flow.ts';
import { drawFrontDiagram } from './front-diagram.ts';
import { drawHowTo } from './how-to.ts';
import { type PacketInput, titleOf } from './input.ts';
import { drawJoins } from './joins.ts';
import { drawKey } from './key.ts';
import { drawPlacement } from './placement.ts';
import { drawPracticePage } from './practice.ts';
import { drawSections } from './sections.ts';

interface Part {
  readonly name: string;
  readonly draw: (flow: Flow, input: PacketInput) => void;
  /** begins on a page of its own; else where the part before it ends */
  readonly fresh?: boolean;
  /** whether there is anything to say; always if absent */
  readonly when?: (input: PacketInput) => boolean;
}

/** The parts before and after the template sheets. */
interface Plan {
  readonly before: readonly Part[];
  readonly after: readonly Part[];
}

const DIAGRAM: Part = { name: 'the block from the front', draw: drawFrontDiagram, fresh: true };
const CUTTING: Part = { name: 'cutting', draw: drawCutting };
const DETAILS: Part = {
  name: 'details',
  draw: drawPlacement,
  when: ({ block }) => Boolean(block.marks?.length || block.stitches?.length),
};

const FULL: Plan = {
  before: [
    { name: 'key', draw: drawKey },
    CUTTING,
    DIAGRAM,
    { name: 'before you sew', draw: drawHowTo, fresh: true },
    { name: 'practice', draw: drawPracticePage, when: (input) => input.practice !== undefined },
    { name: 'sections', draw: drawSections },
    { name: 'joining', draw: drawJoins, fresh: true, when: ({ block }) => block.joins.length > 0 },
  ],
  after: [
    DETAILS,
    { name: 'finishing and care', draw: drawFinishing },
    { name: 'three ideas', draw: drawSmallOnes },
    { name: 'to color in', draw: drawColouring, fresh: true },
  ],
};
/** For those who have sewn on paper before; the cover has the key. */
const SHORT: Plan = { before: [DIAGRAM, { ...CUTTING, fresh: true }, DETAILS], after: [] };

export interface PacketPages {
  readonly pages: readonly Drawing[];
  readonly outline: readonly OutlineEntry[];
}

/** The packet's pages and what its outline says: cover, key, cutting, diagram, how it goes, practice, sections, joins; the template
 *  sheets; what is stitched on, finishing, pages to color. */
export function layOutPacket(input: PacketInput): PacketPages {
  const { templates } = input;
  const title = titleOf(input.block);
  const plan = input.packet === 'short' ? SHORT : FULL;
  const [before, after] = [drawParts(plan.before, input), drawParts(plan.after, input)];
  const partsAfter = (cover: number): PartEntry[] => {
    const sheets = cover + before.pages.length;
    const last = sheets + templates.sheets.length - 1;
    const within = templates.sheets.map((_, i) => ({
      title: `Sheet ${i + 1}: ${sectionsOn(input, i + 1).join(', ')}`,
      page: sheets + i,
    }));
    return [
      ...moved(before.parts, cover),
      { title: TEMPLATES, page: sheets, last, within },
      ...moved(after.parts, last + 1),
    ];
  };
  let cover = drawCover(input, contentsOf(partsAfter(1)));
  // a long list of what is good to know moves the rest on
  if (cover.length > 1) cover = drawCover(input, contentsOf(partsAfter(cover.length)));
  const first = [...cover.drawings(title), ...before.pages];
  const count = first.length + templates.sheets.length + after.pages.length;
  const words = [title, input.designer, input.version].filter(Boolean).join(' · ');
  const frame = printableFrame(input.paper, input.margin);
  const inner = { ...frame, height: frame.height - 8 };
  const foot = (page: Drawing, n: number): Drawing => withFoot(page, inner, words, `page ${n} of ${count}`);
  const number = (n: number) => text('text', templates.numberAt, `page ${n} of ${count}`, 7, { align: 'end' });
  return {
    pages: [
      ...first.map((p, i) => foot(p, i + 1)),
      ...templates.sheets.map((p, i) => ({ ...p, items: [...p.items, number(first.length + i + 1)] })),
      ...after.pages.map((p, i) => foot(p, first.length + templates.sheets.length + i + 1)),
    ],
    outline: [
      { title: 'Cover', page: 0, within: [] },
      ...partsAfter(cover.length).map((p) => ({ ...p, title: capital(p.title) })),
    ],
  };
}

export const drawPacket = (input: PacketInput): Drawing[] => [...layOutPacket(input).pages];

const capital = (words: string): string => words[0]!.toUpperCase() + words.slice(1);

const moved = (parts: readonly PartEntry[], by: number): PartEntry[] =>
  parts.map((p) => ({
    ...{ title: p.title, page: p.page + by, last: p.last + by },
    within: p.within.map((w) => ({ ...w, page: w.page + by })),
  }));

const sectionsOn = ({ block, templates }: PacketInput, sheet: number): string[] =>
  block.sections.map((s) => s.id).filter((id) => templates.sheetsOf[id]?.includes(sheet));

/** The parts that this packet has, one after another. */
function drawParts(
  parts: readonly Part[],
  input: PacketInput,
): { pages: readonly Drawing[]; parts: readonly PartEntry[] } {
  const flow = new Flow(input.paper, input.margin);
  const drawn = parts.filter((p) => p.when?.(input) ?? true);
  for (const p of drawn) {
    if (p.fresh) flow.freshPage();
    flow.partOf(p.name, () => p.draw(flow, input));
  }
  return { pages: drawn.length ? flow.drawings(titleOf(input.block)) : [], parts: flow.parts };
}

/** Pages from 1. */
const contentsOf = (parts: readonly PartEntry[]): Contents[] =>
  parts.map(({ title, page, last }) => ({ name: title, from: page + 1, to: last + 1 }));

/** The packet as a PDF; the same input gives the same bytes. */
export function writePacket(input: PacketInput): Promise<Uint8Array> {
  const { pages, outline } = layOutPacket(input);
  return writePdf(pages, {
    title: titleOf(input.block),
    subject: 'Foundation paper piecing: templates and instructions',
    outline,
    ...(input.designer ? { author: input.designer } : {}),
  });
}
