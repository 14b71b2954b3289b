// What a quilter needs besides fabric (common practice).
import type { PacketInput } from './input.ts';

export function materials({ system, templates, block, level }: PacketInput): string[] {
  const inch = system === 'inch';
  const sheets = templates.sheets.length;
  const pieces = block.sections.reduce((n, s) => n + s.pieces.length, 0);
  return [
    `${sheets + 1} sheets of thin printer paper (${inch ? '16 to 20 lb' : '60 to 80 g'}), one of them to spare`,
    `Thread in a medium gray or the background’s color; ${pieces > 100 ? 'two bobbins' : 'one full bobbin'} to start with`,
    'Sewing machine with a needle 80/12 or 90/14',
    inch ? 'Rotary cutter, mat, and a ruler with a 1/4 in line' : 'Rotary cutter, mat and ruler',
    'Iron and a firm pressing surface; no steam on paper',
    'Postcard or thin card to fold the paper over',
    'Small scissors, seam ripper, pins or clips, washable glue stick',
    `Something to see through paper by: a window or a cool lamp${level === 'beginner' ? '; three scraps to practice on' : ''}`,
    ...(block.marks?.length || block.stitches?.length
      ? ['Embroidery floss or a fabric pen for the details that are stitched or inked']
      : []),
  ];
}
