// The cutting list: what to buy, the strips of each fabric, then every patch in sewing order.
import { text } from '../drawing/drawing.ts';
import { formatLength, formatSize } from '../units.ts';
import { fabricsById } from './block-picture.ts';
import { type Cell, Flow, tickBox } from './flow.ts';
import type { PacketInput } from './input.ts';

export function drawCutting(input: PacketInput): Flow {
  const { block, shopping, system } = input;
  const fabrics = fabricsById(block);
  const flow = new Flow(input.paper, input.margin);
  flow.heading('Cutting list');
  flow.paragraph(
    'Patches are cut with room to spare: allowance and slack are in these figures. Width is measured square to the seam that the patch is laid along. Cut the strips first, the widest first, then the patches from them. Label each patch with its name.',
  );
  if (shopping.patches.some((p) => p.along === 'edge'))
    flow.paragraph(
      'Patches marked ↕ lie with one side parallel to the block’s outer edge: cut that side along the straight grain. The rest may be bias: keep the paper on until the block is set.',
    );
  if (shopping.buy) flow.paragraph(`To buy: ${shopping.buy}.`, { bold: true, size: 10.5 });
  for (const note of shopping.notes ?? []) flow.paragraph(note, { bullet: '•', size: 9 });
  flow.space(2);
  for (const own of shopping.fabrics) {
    const f = fabrics.get(own.id);
    if (!f) continue;
    flow.need(16);
    flow.paragraph(`${f.code}  ${f.name}: buy ${own.buy}`, { bold: true, size: 10.5 });
    for (const strip of own.strips)
      flow.paragraph(
        `strip ${formatLength(strip.width, system)} wide, ${formatLength(strip.length, system)} of it used: ${strip.patches.join(', ')}`,
        { size: 8.5, bullet: '•' },
      );
    flow.space(1.5);
  }
  flow.space(2);
  flow.heading('Patches in sewing order', 14);
  const columns = Math.max(3, Math.round(flow.width / 48));
  for (const s of block.sections) {
    const patches = shopping.patches.filter((p) => p.section === s.id && p.block === block.name);
    if (!patches.length) continue;
    const cells = patches.map((p): Cell => {
      const code = fabrics.get(p.fabric)?.code ?? p.fabric;
      return {
        height: 4,
        items: [
          tickBox(0, 0.4, 2.8),
          text('text', [4.2, 3], `${p.section}${p.piece}`, 8.5, { font: 'bold' }),
          text('text', [12.5, 3], code, 8.5),
          text(
            'text',
            [19, 3],
            `${formatSize([p.width, p.length], system)}${p.plain ? ', to shape' : p.along === 'edge' ? ' ↕' : ''}`,
            8.5,
          ),
        ],
      };
    });
    flow.need(12);
    flow.paragraph(`Section ${s.id}`, { bold: true, size: 9.5 });
    flow.grid(cells, columns, 1);
    flow.space(0.8);
  }
  return flow;
}
