// All that is printed for a block, in the order in which it is used, as one PDF.
import { type Drawing, text } from '../drawing/drawing.ts';
import { printableFrame } from '../drawing/paper.ts';
import { writePdf } from '../drawing/pdf.ts';
import { drawColouring } from './colouring.ts';
import { type Contents, drawCover } from './cover.ts';
import { drawCutting } from './cutting.ts';
import type { Flow } from './flow.ts';
import { withFoot } from './flow.ts';
import { drawHowTo } from './how-to.ts';
import type { PacketInput } from './input.ts';
import { drawJoins } from './joins.ts';
import { drawKey } from './key.ts';
import { drawPlacement } from './placement.ts';
import { drawPracticePage } from './practice.ts';
import { drawSections } from './sections.ts';

type Part = readonly [name: string, draw: (input: PacketInput) => Flow | undefined];

const BEFORE: readonly Part[] = [
  ['key', drawKey],
  ['before you start', drawHowTo],
  ['three pieces to try', drawPracticePage],
  ['sections in sewing order', drawSections],
  ['joining', drawJoins],
  ['what is stitched on', drawPlacement],
];
const AFTER: readonly Part[] = [
  ['cutting list', drawCutting],
  ['to colour in', drawColouring],
];

interface DrawnPart {
  readonly name: string;
  readonly pages: readonly Drawing[];
}

/** The packet's pages: cover, key, how it goes, practice, sections, joins, what is stitched on, template sheets, cutting list, colouring page. */
export function drawPacket(input: PacketInput): Drawing[] {
  const { block } = input;
  const frame = printableFrame(input.paper, input.margin);
  const own = (flow: Flow | undefined): Drawing[] => flow?.drawings(block.name) ?? [];
  const drawn = (parts: readonly Part[]): DrawnPart[] =>
    parts.map(([name, draw]) => ({ name, pages: own(draw(input)) })).filter((p) => p.pages.length);
  const [first, last] = [drawn(BEFORE), drawn(AFTER)];
  const sheets = { name: 'template sheets (on thin paper)', pages: input.templates.sheets };
  const parts = [...first, sheets, ...last];
  let cover = own(drawCover(input, contentsOf(parts, 1)));
  // a long list of what is good to know moves the rest on
  if (cover.length > 1) cover = own(drawCover(input, contentsOf(parts, cover.length)));
  const before = [...cover, ...first.flatMap((p) => p.pages)];
  const after = last.flatMap((p) => p.pages);
  const total = before.length + input.templates.sheets.length + after.length;
  const words = [block.name, input.designer, input.version].filter(Boolean).join(' · ');
  const inner = { ...frame, height: frame.height - 8 };
  const foot = (page: Drawing, n: number): Drawing => withFoot(page, inner, words, `page ${n} of ${total}`);
  return [
    ...before.map((p, i) => foot(p, i + 1)),
    ...input.templates.sheets.map((p, i) => ({
      ...p,
      items: [
        ...p.items,
        text('text', input.templates.numberAt, `page ${before.length + i + 1} of ${total}`, 7, { align: 'end' }),
      ],
    })),
    ...after.map((p, i) => foot(p, before.length + input.templates.sheets.length + i + 1)),
  ];
}

function contentsOf(parts: readonly DrawnPart[], cover: number): Contents[] {
  let page = cover;
  return parts.map(({ name, pages }) => {
    const from = page + 1;
    page += pages.length;
    return { name, from, to: page };
  });
}

/** The packet as a PDF; the same input gives the same bytes. */
export const writePacket = (input: PacketInput): Promise<Uint8Array> =>
  writePdf(drawPacket(input), {
    title: input.block.name,
    subject: 'Foundation paper piecing: templates and instructions',
    ...(input.designer ? { author: input.designer } : {}),
  });
