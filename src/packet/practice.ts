// The practice page: a template of three pieces at true size, what to do with it, and how to judge what came out.
import { type Item, placeItems, rectangle, text } from '../drawing/drawing.ts';
import { formatLength, formatSize } from '../units.ts';
import { fabricsById } from './block-picture.ts';
import { Flow, tickBox } from './flow.ts';
import type { PacketInput } from './input.ts';
import { stepPicture } from './step-picture.ts';

export function drawPracticePage(input: PacketInput): Flow | undefined {
  const { practice, system, allowance } = input;
  if (!practice) return undefined;
  const flow = new Flow(input.paper, input.margin);
  const length = (mm: number): string => formatLength(mm, system);
  const seam = length(allowance);
  const [section] = practice.block.sections;
  const whole: [number, number] = [practice.block.size[0] + 2 * allowance, practice.block.size[1] + 2 * allowance];
  flow.heading('Three pieces to try first');
  flow.paragraph(
    `If you have not sewn on paper before, or not on this machine, spend a quarter of an hour on this small section. You need three scraps of about ${system === 'inch' ? '4 x 4 in' : '10 x 10 cm'}: a light, a middle and a dark one.`,
  );
  flow.space(2);
  const { template } = practice;
  const top = flow.y;
  flow.add(...placeItems(template.items, { turn: 0, dx: flow.left, dy: top }));
  const x = flow.left + template.width + 6;
  const beside = [
    'This is a template like those of your block, at true size. Thick lines bound the section, thinner ones are its seams, the dashed one is where it is trimmed at the end.',
    'Its four edges are outer edges here; in the block most edges say which section is joined to them. “Try” stands where a section has its letter, and the arrow points to the top of the finished block.',
    'The number says when a piece is sewn, the small code in which fabric.',
  ];
  for (const words of beside) flow.paragraph(words, { indent: x - flow.left, width: flow.width, size: 9 });
  flow.y = Math.max(flow.y, top + template.height) + 3;

  const fabrics = fabricsById(practice.block);
  const gap = 6;
  const width = (flow.width - 2 * gap) / 3;
  const picture = Math.min(width - 8, 44);
  const left = flow.left + (flow.width - 3 * picture - 2 * gap) / 2;
  const drawn = [1, 2, 3].map((n) => stepPicture(section!, n, fabrics, picture, picture));
  const items: Item[] = drawn.flatMap((d, i) => [
    ...placeItems(d.items, { turn: 0, dx: left + i * (picture + gap), dy: flow.y }),
    tickBox(left + i * (picture + gap), flow.y + d.height + 1.6),
    text(
      'text',
      [left + i * (picture + gap) + 4.4, flow.y + d.height + 4.3],
      `piece ${i + 1} is on, from the front`,
      7.5,
    ),
  ]);
  flow.add(...items);
  flow.y += Math.max(...drawn.map((d) => d.height)) + 8;

  const steps = [
    'Cut the template out outside its dashed line, roughly. Set the machine to a stitch of about 1.5 mm.',
    `Light scrap, right side up, on the BLANK side, over piece 1. Hold it against the light: it must reach ${seam} past every line of piece 1. Pin it.`,
    `Fold the paper back on the line between 1 and 2; trim the scrap ${seam} beyond the fold; lay the paper flat again. The middle scrap goes on the light one, right sides together, its edge along the trimmed edge.`,
    `Turn over. Sew on the line between 1 and 2, from ${seam} before it to ${seam} past it. Open the middle scrap and press it, dry.`,
    `The line of piece 3 crosses both. Fold back on it, trim both scraps ${seam} beyond the fold, lay the dark scrap along that edge, sew, open, press.`,
    'Turn the printed side up, and cut paper and cloth together on the dashed line.',
  ];
  steps.forEach((s, i) => {
    flow.paragraph(s, { bullet: `${i + 1}.`, size: 9.5 });
  });
  flow.space(1.5);
  flow.paragraph('Now look at it', { bold: true, size: 11 });
  const checks = [
    `It measures ${formatSize(whole, system)}, all its edges are full, and nothing puckers.`,
    'Tear the paper away along a seam. If stitches come loose, sew shorter ones; if the paper falls off by itself, longer ones.',
    'Hold the light piece over white: if a dark edge shines through, trim dark allowances a little narrower from now on.',
    'Press the printed side on a light rag: if the ink comes off, use another printer or press from the cloth side only.',
  ];
  for (const c of checks) {
    flow.need(5);
    const y = flow.y + 1.5;
    flow.paragraph(c, { indent: 5.5, size: 9.5 });
    flow.add(rectangle('box', flow.left, y, 3, 3, { stroke: { width: 0.25 } }));
  }
  return flow;
}
