// Cutting: the strips of each fabric as a picture, then every patch in sewing order.
import type { Fabric } from '../block.ts';
import type { Cell as Place, Shopping } from '../data.ts';
import { polyline, text } from '../drawing/drawing.ts';
import { measureText, wrapText } from '../drawing/fonts.ts';
import { formatSize, type System } from '../units.ts';
import { fabricsById } from './block-picture.ts';
import { type Flow, tickBox } from './flow.ts';
import type { PacketInput } from './input.ts';
import { type Bought, drawCautions, offTheBolt, patchesOf, swatch } from './shopping-list.ts';
import { drawStrips, firstCuts, stripSummary, stripsCell } from './strip-picture.ts';

export function drawCutting(flow: Flow, input: PacketInput): void {
  const { block, shopping, system } = input;
  const fabrics = fabricsById(block);
  flow.heading('Cutting');
  for (const note of shopping.notes ?? []) flow.paragraph(note, { bullet: '•', size: 8.5 });
  drawCautions(flow);
  drawPlan(
    flow,
    shopping,
    (f) => fabrics.get(f.id),
    system,
    (p) => `${p.section}${p.piece}`,
  );
  // with its words and the first section's row
  flow.need(38);
  flow.heading('Patches in sewing order', 14);
  explainPatches(flow, shopping, system);
  drawPatches(
    flow,
    shopping,
    block.name,
    (id) => fabrics.get(id)?.code ?? id,
    block.sections.map((s) => s.id),
    system,
  );
}

/** mm: cloth no wider than this is drawn two fabrics side by side: fat quarters and what is smaller */
const NARROW_CLOTH = 560;
const BESIDE = 5;

/** How to read the picture, then every fabric with its strips. */
export function drawPlan(
  flow: Flow,
  shopping: Shopping,
  fabricOf: (f: Bought) => Fabric | undefined,
  system: System,
  name: (p: Shopping['patches'][number]) => string,
): void {
  const many = shopping.fabrics.some((f) => f.strips.length > new Set(f.strips.map((s) => JSON.stringify(s))).size);
  flow.paragraph(
    'Each strip runs across the fabric from selvage to selvage; on a fat quarter or fat eighth, along its longer side. Press the fabric, square up one end, and cut strips from the top down. ' +
      'Then cut each strip from left to right at the heavy lines, all the way across; then the patches of each column. A dot marks a patch that comes from what is left beside a larger one. Gray is left over. Label each patch as you cut it.',
    { size: 8.5 },
  );
  if (many)
    flow.paragraph(
      'Strips with × and a number are all alike: stack that many with their edges together and cut them at once, as many layers as your blade goes through.',
      { size: 8.5 },
    );
  if (shopping.patches.some((p) => p.along === 'upright'))
    flow.paragraph(
      'Patches of a print with a direction are drawn with the print upright: do not turn them on the fabric.',
      { size: 8.5 },
    );
  const largest = shopping.fabrics.reduce((most, f) => Math.max(most, f.cut ?? 0), 0);
  const columns = [flow.y, flow.y];
  const half = (flow.width - BESIDE) / 2;
  for (const f of shopping.fabrics) {
    const cloth = f.clothWidth ?? Math.max(0, ...f.strips.map((s) => s.length));
    const labels = {
      system,
      name: (c: Place) => name(shopping.patches[c.patch]!),
      size: (c: Place) => {
        const p = shopping.patches[c.patch]!;
        return formatSize([p.width, p.length], system).replace(/ (in|cm|mm)$/, '');
      },
    };
    const head = planHead(f, fabricOf(f), system, f.cut === largest);
    const narrow = cloth <= NARROW_CLOTH;
    const width = narrow ? half : flow.width;
    const lines = head.flatMap(({ words, size, bold }) =>
      wrapText(words, size, bold ? 'bold' : 'regular', width - HEAD).map((line) => ({ line, size, bold })),
    );
    const title = (x: number, y: number): number => {
      const known = fabricOf(f);
      if (known) flow.add(...swatch(known, x, y, 6));
      let base = y;
      for (const { line, size, bold } of lines) {
        base += size * 0.42;
        flow.add(text('text', [x + HEAD, base], line, size, bold ? { font: 'bold' } : {}));
      }
      return Math.max(7, base - y) + 2;
    };
    if (!narrow) {
      flow.y = Math.max(...columns);
      flow.need(Math.min(13 + (f.strips[0]?.width ?? 0) * 0.25, 80));
      flow.space(1.5);
      flow.y += title(flow.left, flow.y);
      drawStrips(flow, f.strips, cloth, labels);
      columns.fill(flow.y);
      continue;
    }
    const cell = stripsCell(f.strips, cloth, half, labels);
    const height = lines.reduce((sum, l) => sum + l.size * 0.42, 0) + cell.height + 6;
    let k = columns[1]! < columns[0]! - 1 ? 1 : 0;
    if (columns[k]! + height > flow.bottom) k = columns[1 - k]! + height <= flow.bottom ? 1 - k : k;
    if (columns[k]! + height > flow.bottom) {
      flow.newPage();
      columns.fill(flow.y);
      k = 0;
    }
    const x = flow.left + k * (half + BESIDE);
    const top = columns[k]! + 1;
    const below = top + title(x, top);
    flow.place(cell.items, x, below);
    columns[k] = below + cell.height + 3;
  }
  flow.y = Math.max(...columns);
}

/** mm that the swatch takes beside the words about a fabric */
const HEAD = 14.5;

/** What it is and what to buy; how many patches in which strips; for the largest, the one cut that all strips come from. */
function planHead(
  f: Bought,
  known: Fabric | undefined,
  system: System,
  largest: boolean,
): { words: string; size: number; bold: boolean }[] {
  const bolt = offTheBolt(f, system);
  const n = patchesOf(f);
  const cuts = largest && f.strips.length > 1 && f.clothWidth ? firstCuts(f.strips) : [];
  const first = cuts.map((c) => formatSize([c.width, c.length], system));
  return [
    {
      words: `${f.code ?? f.id}  ${known?.name ?? ''}: ${f.buy}${bolt && largest ? ` (or ${bolt} off the bolt)` : ''}`,
      size: 9,
      bold: true,
    },
    ...(first.length
      ? [
          {
            words: `First cut ${first.length > 1 ? `two pieces, ${first.join(' and ')}` : `one piece, ${first[0]}`}; then the strips from ${first.length > 1 ? 'them' : 'it'}.`,
            size: 7.5,
            bold: false,
          },
        ]
      : []),
    { words: `${n} ${n === 1 ? 'patch' : 'patches'}; ${stripSummary(f, system)}`, size: 7.5, bold: false },
  ];
}

export function explainPatches(flow: Flow, shopping: Shopping, system: System): void {
  const has = (along: string): boolean => shopping.patches.some((p) => p.along === along);
  flow.paragraph(
    'Patches are cut with room to spare: seam allowance and slack are included. Width comes first, measured square to the seam that the patch is laid along.',
    { size: 8.5 },
  );
  if (has('upright'))
    flow.paragraph(
      '↑: keep the print upright. The first figure is the height, the second the width. Lay these patches so that the print is upright on the finished block, whichever way their seam runs.',
      { size: 8.5 },
    );
  if (has('edge'))
    flow.paragraph(
      '↕: lay one side of the patch parallel to the block’s outer edge, so that the edge is on the straight grain. Lay the others along their seam.',
      { size: 8.5 },
    );
  else if (has('seam'))
    flow.paragraph(
      `${has('upright') ? 'Lay the other' : 'Lay all'} patches along their seam. Edges of the block may then be on the bias: stay-stitch ${system === 'inch' ? '1/8 in' : '3 mm'} from them and leave the paper on until the block is set.`,
      { size: 8.5 },
    );
  if (has('turned'))
    flow.paragraph(
      '∠: lay the patch at an angle to its seam, as the picture of its step shows. It saves much fabric.',
      {
        size: 8.5,
      },
    );
}

const ROW = { most: 4.5, least: 3.7 };
/** mm from a box to tick to its patch's measures, how wide a column is wished for, and what is left free at its end */
const MEASURES = 19.5;
const COLUMN = 46;
const BETWEEN = 2;
const MEASURES_SIZE = 8;

/** Every patch of a block with a box to tick, in sewing order down the columns; a rule where a section begins. */
export function drawPatches(
  flow: Flow,
  shopping: Shopping,
  block: string,
  codeOf: (fabric: string) => string,
  sections: readonly string[],
  system: System,
): void {
  const measures = (p: Shopping['patches'][number]): string => {
    const mark =
      (p.plain && ', to shape') || (p.along && { edge: ' ↕', upright: ' ↑', turned: ' ∠', seam: '' }[p.along]) || '';
    return `${formatSize([p.width, p.length], system)}${mark}`;
  };
  const own = shopping.patches.filter((p) => p.block === block);
  const patches = sections.flatMap((id) => own.filter((p) => p.section === id));
  const widest = patches.reduce((w, p) => Math.max(w, measureText(measures(p), MEASURES_SIZE).width), 0);
  const columns = Math.max(
    1,
    Math.min(Math.round(flow.width / COLUMN), Math.floor(flow.width / (MEASURES + widest + BETWEEN))),
  );
  const width = flow.width / columns;
  // a little closer where that keeps them on this page
  const tight = (flow.bottom - flow.y) / Math.ceil(patches.length / columns);
  const row = tight < ROW.least ? ROW.most : Math.min(ROW.most, tight);
  for (let done = 0; done < patches.length; ) {
    flow.need(Math.min(4, Math.ceil((patches.length - done) / columns)) * row);
    const room = Math.max(1, Math.floor((flow.bottom - flow.y + 1e-6) / row));
    const rows = Math.min(room, Math.ceil((patches.length - done) / columns));
    patches.slice(done, done + rows * columns).forEach((p, i, part) => {
      const x = flow.left + Math.floor(i / rows) * width;
      const y = flow.y + ((i % rows) + 1) * row - 1.1;
      flow.add(
        tickBox(x, y - 2.6, 2.8),
        text('text', [x + 4.2, y], `${p.section}${p.piece}`, 8.5, { font: 'bold' }),
        text('text', [x + 14.5, y], codeOf(p.fabric), 8.5),
        text('text', [x + MEASURES, y], measures(p), MEASURES_SIZE),
      );
      if (i % rows && part[i - 1]!.section !== p.section)
        flow.add(
          polyline(
            'rule',
            [
              [x, y + 1 - row],
              [x + width - BETWEEN, y + 1 - row],
            ],
            { width: 0.12 },
          ),
        );
    });
    flow.y += rows * row;
    done += rows * columns;
  }
  flow.space(2);
}
