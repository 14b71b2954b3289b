// The practice section: a template of three pieces at true size, what to do with it, and how to judge what came out.
import { type Item, placeItems, rectangle, text } from '../drawing/drawing.ts';
import { formatLength, formatSize } from '../units.ts';
import { fabricsById } from './block-picture.ts';
import { type Flow, tickBox } from './flow.ts';
import type { PacketInput } from './input.ts';
import { narrower } from './sections.ts';
import { stepPicture } from './step-picture.ts';

/** mm: a picture of a step */
const PICTURE = 30;
const GAP = 5;

export function drawPracticePage(flow: Flow, input: PacketInput): void {
  const { practice, system, allowance } = input;
  if (!practice) return;
  const length = (mm: number): string => formatLength(mm, system);
  const seam = length(allowance);
  const [section] = practice.block.sections;
  const whole: [number, number] = [practice.block.size[0] + 2 * allowance, practice.block.size[1] + 2 * allowance];
  const { template } = practice;
  flow.need(Math.min(template.height + 95, flow.frame.height));
  flow.heading('Practice section');
  flow.paragraph(
    `New to sewing on paper, or to this machine? Sew this small section first; it takes a quarter of an hour. You need three scraps of about ${system === 'inch' ? '4 x 4 in' : '10 x 10 cm'}: a light, a medium and a dark one. It is at true size: cut it out, or print this page once more.`,
    { size: 9 },
  );
  flow.space(1);
  const top = flow.y;
  flow.place(template.items, flow.left, top);
  const x = flow.left + template.width + 5;
  const steps = [
    'Cut the template out roughly, outside its dashed line. The heavy lines bound the section, the thinner ones are its seams, and you trim on the dashed line at the end.',
    `Light scrap, right side up, on the back of the paper over piece 1: it must reach ${seam} past every line of piece 1. Pin it.`,
    `Fold the paper back on the line between 1 and 2, trim the scrap ${seam} beyond the fold, lay the paper flat. Lay the medium scrap on the light one, right sides together, along the trimmed edge. Turn over, sew on the line, open, press.`,
    `The line of piece 3 crosses both. Fold back on it, trim both scraps ${seam} beyond the fold, lay the dark scrap along that edge, sew, open, press.`,
    'With the printed lines facing you, cut paper and fabric together on the dashed line.',
  ];
  steps.forEach((s, i) => {
    flow.paragraph(s, { bullet: `${i + 1}.`, indent: x - flow.left, width: flow.width, size: 8.5 });
  });
  flow.y = Math.max(flow.y, top + template.height) + 2;

  const fabrics = fabricsById(practice.block);
  const drawn = [1, 2, 3].map((n) => stepPicture(section!, n, fabrics, PICTURE, PICTURE));
  const pictures: Item[] = drawn.flatMap((d, i) => [
    ...placeItems(d.items, { turn: 0, dx: i * (PICTURE + GAP), dy: 0 }),
    tickBox(i * (PICTURE + GAP), d.height + 1.6),
    text('text', [i * (PICTURE + GAP) + 4.4, d.height + 4.3], `piece ${i + 1}, front`, 7.5),
  ]);
  const height = Math.max(...drawn.map((d) => d.height)) + 7;
  flow.need(height);
  const row = flow.y;
  flow.place(pictures, flow.left, row);
  const checks = [
    `It measures ${formatSize(whole, system)}, all its edges are full, and nothing puckers.`,
    'Tear the paper along a seam. If stitches come loose, sew shorter ones; if the paper falls off without tearing, longer ones.',
    `Hold the light piece over white. If a dark edge shines through, trim dark allowances to ${length(narrower(allowance, system))}.`,
    'Press the printed lines on a light rag. If the ink comes off, use another printer or press from the fabric side only.',
  ];
  const indent = 3 * (PICTURE + GAP);
  flow.y = row;
  flow.paragraph('Now look at it', { bold: true, size: 9.5, indent });
  for (const c of checks) {
    const y = flow.y + 1.2;
    flow.add(rectangle('box', flow.left + indent, y, 2.8, 2.8, { stroke: { width: 0.25 } }));
    flow.paragraph(c, { indent: indent + 4.5, size: 8.5 });
  }
  flow.y = Math.max(flow.y, row + height) + 3;
}
