// How foundation piecing goes, in the project's words, with the usual cautions first. Stitch length, needle and paper are
// common practice.

import { narrowestWidth } from '../geometry/polygon.ts';
import { formatLength, formatSize } from '../units.ts';
import { Flow } from './flow.ts';
import type { PacketInput } from './input.ts';

const CAUTIONS = [
  'The safety rules of your machine, your iron and your workshop come first; where they say otherwise than this page, they hold. If you have never used one of these tools, let someone who has show you.',
  'Rotary cutter: close the blade every time you set it down, even for a moment. Cut away from yourself, on a mat, with the hand that holds the ruler flat and all fingers clear of its edge. Never cut with a blade that skips; wrap old blades before they go into the bin.',
  'Iron: the plate and the steam burn. Lift the iron rather than slide it, keep it upright on its heel or on its rest, mind the cord, and switch it off when you leave the table. Paper under the iron: dry heat, briefly.',
  'Pins and needles: count them out and count them back. Take pins out before the needle reaches them. Fingers stay clear of the moving needle; switch the machine off to thread it or to change the needle or the foot.',
  'Children sew only with an adult beside them; rotary cutter and iron are for the adult. Keep pets off the table and away from pins and thread.',
];

/** Lengths as the reader writes them. */
interface Words {
  readonly small: string;
  readonly seam: string;
  readonly narrower: string;
  readonly ruler: string;
  readonly off: string;
  readonly size: string;
  readonly shrunk: string;
}

function wordsFor({ block, system, allowance }: PacketInput): Words {
  const inch = system === 'inch';
  const share = inch ? 3.875 / 4 : 9.7 / 10;
  return {
    small: formatLength(
      Math.min(...block.sections.flatMap((s) => s.pieces.map((p) => narrowestWidth(p.outline)))),
      system,
    ),
    seam: formatLength(allowance, system),
    narrower: formatLength(allowance - 25.4 / 16, system),
    ruler: inch ? '4 in' : '10 cm',
    off: inch ? '3 7/8 in' : '9.7 cm',
    size: formatSize(block.size, system),
    shrunk: formatSize([block.size[0] * share, block.size[1] * share], system),
  };
}

const READY = (w: Words): string[] => [
  `Print the template sheets at 100 %, one side only, on plain thin paper of 60 to 80 g. Measure the 1 in square and both rulers. If ${w.ruler} on paper measure ${w.off}, this block comes out at ${w.shrunk} and not at ${w.size}: print again.`,
  'Test your printer’s ink under the iron on a scrap of light fabric first: some inks come off.',
  `Cut the patches from the cutting list, and lay them out section by section in the order of the numbers. They are larger than the finished pieces on purpose. The narrowest piece here finishes ${w.small} wide.`,
  'Set the machine to a short stitch, about 1.5 mm, so that the paper tears off cleanly. Needle 80/12 to 90/14, fine thread in a middle grey or the background’s colour.',
  'Cut the templates apart outside their dashed lines, roughly; the exact cut comes when the section is finished.',
];

const STEPS = (w: Words): string[] => [
  'You sew on the printed side; the fabric lies on the blank side. That is why the templates are mirrored: the sewn face comes out the right way round.',
  'Piece 1 (ringed): lay its patch on the blank side, right side up, so that it covers the whole piece and at least the allowance around it. Hold paper and patch against the light to see. A dab of washable glue or a pin holds it.',
  `Piece 2: lay its patch on patch 1, right sides together, its edge ${w.seam} past the line between 1 and 2. Fold it open once to make sure that it will cover piece 2 and its allowance; fold it back.`,
  `Turn the paper over and sew on the line between 1 and 2: start ${w.seam} before it and stop ${w.seam} past it.`,
  `Open the patch, press it flat, dry. Fold the paper back on the NEXT line to be sewn, and trim the fabric to ${w.seam} beyond the fold. That edge shows where the next patch is laid.`,
  `Go on in the order of the numbers. Each new patch crosses what is already there along one straight line. Where a dark fabric would show through a light one, trim the dark allowance a little narrower, to ${w.narrower}.`,
  'When all pieces of the section are on: press, and trim paper and fabric together on the dashed cut line. Leave the paper in.',
  'Join the sections in the order shown. Crosses and ticks in the allowance lie on one another; double ticks find double ticks. After each join take the paper out of that allowance only and press the seam open.',
  'Take the rest of the paper out when the block is set into its neighbours or borders, for the paper keeps the edges from stretching. Score along the seam and pull gently towards the stitches.',
];

export function drawHowTo(input: PacketInput): Flow {
  const flow = new Flow(input.paper, input.margin);
  flow.heading('Before you start: blades, heat and needles');
  for (const c of CAUTIONS) flow.paragraph(c, { bullet: '!', size: 9.5 });
  flow.space(3);
  flow.heading('Getting ready', 14);
  const words = wordsFor(input);
  for (const r of READY(words)) flow.paragraph(r, { bullet: '•' });
  flow.space(3);
  flow.heading('How foundation piecing goes', 14);
  STEPS(words).forEach((s, i) => {
    flow.paragraph(s, { bullet: `${i + 1}.` });
  });
  return flow;
}
