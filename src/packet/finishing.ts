// What is left to do when the sections are joined, and how to look after it (common practice).
import { formatLength, formatSize } from '../units.ts';
import type { Flow } from './flow.ts';
import type { PacketInput } from './input.ts';

export function drawFinishing(flow: Flow, { block, system, allowance }: PacketInput): void {
  const before: [number, number] = [block.size[0] + 2 * allowance, block.size[1] + 2 * allowance];
  flow.heading('Finishing and care', 14);
  for (const words of [
    `Measure the block: it is ${formatSize(before, system)} unfinished. Square it up along the dashed lines of the outer edge, ${formatLength(allowance, system)} outside the seam line.`,
    'Leave the paper in until the block is sewn into its border or to its neighbors; the paper keeps bias edges from stretching. Then score along each seam and pull gently toward the stitches.',
    ...(block.marks?.length || block.stitches?.length
      ? ['Stitch or ink the details after the paper is out, before you quilt.']
      : []),
    'Press from the back, then from the front, with the iron set for the most delicate fabric. Lift it; do not slide it.',
    'Dark fabrics can bleed on light ones: test a scrap of each in warm water before the first wash. Wash the finished piece cool and gently, and dry it flat.',
  ])
    flow.paragraph(words, { bullet: '•', size: 9 });
  flow.space(2);
}
