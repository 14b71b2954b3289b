// The cutting list: what to buy, the strips of each fabric as a picture, then every patch in sewing order.
import type { Fabric } from '../block.ts';
import type { Cell as Place, Shopping } from '../data.ts';
import { polyline, text } from '../drawing/drawing.ts';
import { measureText } from '../drawing/fonts.ts';
import { formatSize, type System } from '../units.ts';
import { fabricsById } from './block-picture.ts';
import { Flow, tickBox } from './flow.ts';
import type { PacketInput } from './input.ts';
import { type Bought, drawBuying, drawCautions, drawWork, patchesOf, swatch } from './shopping-list.ts';
import { drawStrips, stripSummary } from './strip-picture.ts';

export function drawCutting(input: PacketInput): Flow {
  const { block, shopping, system } = input;
  const fabrics = fabricsById(block);
  const flow = new Flow(input.paper, input.margin);
  flow.heading('Cutting list');
  if (shopping.buy) flow.paragraph(`To buy: ${shopping.buy}.`, { bold: true, size: 10.5 });
  drawBuying(flow, shopping, fabrics, system);
  for (const note of shopping.notes ?? []) flow.paragraph(note, { bullet: '•', size: 9 });
  if (input.work) {
    flow.paragraph('Time and difficulty', { bold: true, size: 10 });
    drawWork(flow, input.work, system);
  }
  flow.space(2);
  flow.heading('Cutting plan', 14);
  drawCautions(flow);
  drawPlan(
    flow,
    shopping,
    (f) => fabrics.get(f.id),
    system,
    (p) => `${p.section}${p.piece}`,
  );
  // with its words and the first section's row
  flow.need(45);
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
  return flow;
}

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
    'Each strip runs across the cloth, from selvage to selvage; on a fat quarter or fat eighth, along its longer side. Press the cloth, square up one end, and cut in this order: first the strips, from the top down; ' +
      'then each strip from left to right at the heavy lines, right across; then the patches of each column. A dot marks a patch that comes from what is left beside a larger one. Grey is left over. Label each patch as it is cut.',
    { size: 9 },
  );
  if (many)
    flow.paragraph(
      'Strips with × and a number are all alike: lay that many on one another, edges together, and cut them at once, as many layers as your blade goes through.',
      { size: 9 },
    );
  const upright = shopping.patches.some((p) => p.along === 'upright');
  if (upright)
    flow.paragraph(
      'Patches of a print with a direction are drawn with the print upright: do not turn them on the cloth.',
      { size: 9 },
    );
  for (const f of shopping.fabrics) {
    const known = fabricOf(f);
    const first = (f.strips[0]?.width ?? 0) * 0.25;
    flow.need(Math.min(13 + first, 80));
    flow.space(1.5);
    if (known) flow.add(...swatch(known, flow.left, flow.y, 7));
    const x = flow.left + 17;
    flow.add(
      text('text', [x, flow.y + 3], `${f.code ?? f.id}  ${known?.name ?? ''}: ${f.buy}`, 10.5, { font: 'bold' }),
      text('text', [x, flow.y + 7], `${patchesOf(f)} patches; ${stripSummary(f, system)}`, 8),
    );
    flow.space(9);
    drawStrips(flow, f.strips, f.clothWidth ?? Math.max(0, ...f.strips.map((s) => s.length)), {
      system,
      name: (c: Place) => name(shopping.patches[c.patch]!),
      size: (c: Place) => {
        const p = shopping.patches[c.patch]!;
        return formatSize([p.width, p.length], system).replace(/ (in|cm|mm)$/, '');
      },
    });
  }
}

export function explainPatches(flow: Flow, shopping: Shopping, system: System): void {
  flow.paragraph(
    'Patches are cut with room to spare: allowance and slack are in these figures. Width comes first, measured square to the seam that the patch is laid along.',
    { size: 9 },
  );
  const upright = shopping.patches.some((p) => p.along === 'upright');
  if (upright)
    flow.paragraph(
      'Patches marked ↑ keep their print upright: the first figure is their height, the second their width. Lay them so that the print stands upright on the finished block, whichever way their seam runs.',
      { size: 9 },
    );
  if (shopping.patches.some((p) => p.along === 'edge'))
    flow.paragraph(
      'Patches marked ↕ are laid with one side parallel to the block’s outer edge, so that the edge is on the straight grain. The other patches are laid along their seam.',
      { size: 9 },
    );
  else if (shopping.patches.some((p) => p.along === 'seam'))
    flow.paragraph(
      `${upright ? 'The other' : 'All'} patches are laid along their seam, so edges of the block may lie on the bias: stay-stitch ${system === 'inch' ? '1/8 in' : '3 mm'} from them and leave the paper on until the block is set.`,
      { size: 9 },
    );
}

/** mm beside the patches for their section's letter */
const LETTER = 9;
const ROW = 4.7;
/** mm from a box to tick to its patch's measures, how wide a column is wished for, and what is left free at its end */
const MEASURES = 19.5;
const COLUMN = 46;
const BETWEEN = 1;
const MEASURES_SIZE = 8;

/** Every patch of a block with a box to tick, section by section. */
export function drawPatches(
  flow: Flow,
  shopping: Shopping,
  block: string,
  codeOf: (fabric: string) => string,
  sections: readonly string[],
  system: System,
): void {
  const measures = (p: Shopping['patches'][number]): string => {
    const mark = p.plain ? ', to shape' : p.along === 'edge' ? ' ↕' : p.along === 'upright' ? ' ↑' : '';
    return `${formatSize([p.width, p.length], system)}${mark}`;
  };
  const own = shopping.patches.filter((p) => p.block === block);
  const widest = own.reduce((w, p) => Math.max(w, measureText(measures(p), MEASURES_SIZE).width), 0);
  const room = flow.width - LETTER;
  const columns = Math.max(1, Math.min(Math.round(room / COLUMN), Math.floor(room / (MEASURES + widest + BETWEEN))));
  const width = room / columns;
  for (const id of sections) {
    const patches = own.filter((p) => p.section === id);
    for (let i = 0; i < patches.length; i += columns) {
      flow.need(ROW * (i ? 1 : Math.min(2, Math.ceil(patches.length / columns))));
      const y = flow.y + ROW - 1.2;
      if (!i) flow.add(text('text', [flow.left, y], id, 10.5, { font: 'bold' }));
      patches.slice(i, i + columns).forEach((p, k) => {
        const x = flow.left + LETTER + k * width;
        flow.add(
          tickBox(x, y - 2.6, 2.8),
          text('text', [x + 4.2, y], `${p.section}${p.piece}`, 8.5, { font: 'bold' }),
          text('text', [x + 14.5, y], codeOf(p.fabric), 8.5),
          text('text', [x + MEASURES, y], measures(p), MEASURES_SIZE),
        );
      });
      flow.y += ROW;
    }
    flow.add(
      polyline(
        'rule',
        [
          [flow.left, flow.y + 0.5],
          [flow.left + flow.width, flow.y + 0.5],
        ],
        { width: 0.1 },
      ),
    );
    flow.space(1.2);
  }
}
