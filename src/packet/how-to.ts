// How foundation piecing goes, in the project's words, with the usual cautions first. Stitch length, needle and paper are
// common practice.

import { formatLength } from '../units.ts';
import { Flow } from './flow.ts';
import type { PacketInput } from './input.ts';

const CAUTIONS = [
  'The safety rules of your machine, your iron and your workshop come first; where they say otherwise than this page, they hold. If you have never used one of these tools, let someone who has show you.',
  'Rotary cutter: close the blade every time you set it down, even for a moment. Cut away from yourself, on a mat, with the hand that holds the ruler flat and all fingers clear of its edge. Never cut with a blade that skips; wrap old blades before they go into the bin.',
  'Iron: the plate and the steam burn. Lift the iron rather than slide it, keep it upright on its heel or on its rest, mind the cord, and switch it off when you leave the table. Paper under the iron: dry heat, briefly.',
  'Pins and needles: count them out and count them back. Take pins out before the needle reaches them. Fingers stay clear of the moving needle; switch the machine off to thread it or to change the needle or the foot.',
  'Children sew only with an adult beside them; rotary cutter and iron are for the adult. Keep pets off the table and away from pins and thread.',
];

const READY = (small: string): string[] => [
  'Print the template sheets at 100 %, one side only, on plain thin paper of 60 to 80 g. Measure the 1 in square and both rulers. If 4 in measures 3 7/8 in, a 12 in block comes out at 11 5/8 in: print again.',
  'Test your printer’s ink under the iron on a scrap of light fabric first: some inks come off.',
  `Cut the patches from the cutting list, and lay them out section by section in the order of the numbers. They are larger than the finished pieces on purpose. The narrowest piece here finishes ${small} wide.`,
  'Set the machine to a short stitch, about 1.5 mm, so that the paper tears off cleanly. Needle 80/12 to 90/14, fine thread in a middle grey or the background’s colour.',
  'Cut the templates apart outside their dashed lines, roughly; the exact cut comes when the section is finished.',
];

const STEPS = [
  'You sew on the printed side; the fabric lies on the blank side. That is why the templates are mirrored: the sewn face comes out the right way round.',
  'Piece 1 (ringed): lay its patch on the blank side, right side up, so that it covers the whole piece and at least the allowance around it. Hold paper and patch against the light to see. A dab of washable glue or a pin holds it.',
  'Piece 2: lay its patch on patch 1, right sides together, its edge 1/4 in past the line between 1 and 2. Fold it open once to make sure that it will cover piece 2 and its allowance; fold it back.',
  'Turn the paper over and sew on the line between 1 and 2: start 1/4 in before it and stop 1/4 in past it.',
  'Open the patch, press it flat, dry. Fold the paper back on the NEXT line to be sewn, and trim the fabric to 1/4 in beyond the fold. That edge shows where the next patch is laid.',
  'Go on in the order of the numbers. Each new patch crosses what is already there along one straight line. Where a dark fabric would show through a light one, trim the dark allowance a little narrower, to 3/16 in.',
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
  for (const r of READY(formatLength(input.block.smallest, input.system))) flow.paragraph(r, { bullet: '•' });
  flow.space(3);
  flow.heading('How foundation piecing goes', 14);
  STEPS.forEach((s, i) => {
    flow.paragraph(s, { bullet: `${i + 1}.` });
  });
  return flow;
}
