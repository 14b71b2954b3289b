// How foundation piecing goes, in the project's words, with the usual cautions first. Stitch length, needle and paper are
// common practice. What a cutter can do is said on the cutting page.
import { narrowestWidth } from '../geometry/polygon.ts';
import { formatLength, formatSize } from '../units.ts';
import type { Flow } from './flow.ts';
import type { PacketInput } from './input.ts';
import { narrower } from './sections.ts';

const CAUTIONS = [
  'The safety rules of your machine, your iron and your workshop come first; where they differ from this page, follow them. If you have never used one of these tools, let someone who has show you. The cautions for rotary cutters are on the cutting page.',
  'Iron: the plate and the steam burn. Lift the iron rather than slide it, keep it on its heel or its rest, watch the cord, and switch it off when you leave the table. Use dry heat on paper, and only briefly. Lamps behind paper must stay cool.',
  'Sewing machine: switch it off to thread it or to change the needle or the foot. Keep fingers clear of the moving needle, and keep hair, sleeves and jewelry away from the moving parts. Take pins out before the needle reaches them: a broken needle can hit your eyes. Count pins and needles out and back.',
  'Children sew only with an adult beside them; the cutter and the iron are for the adult. Keep pets away from the table and from pins and thread.',
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
  readonly stitch: string;
  readonly paper: string;
  readonly square: string;
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
    narrower: formatLength(narrower(allowance, system), system),
    ruler: inch ? '4 in' : '10 cm',
    off: inch ? '3 7/8 in' : '9.7 cm',
    size: formatSize(block.size, system),
    shrunk: formatSize([block.size[0] * share, block.size[1] * share], system),
    stitch: inch ? '1.5 mm, or 15 to 18 stitches to the inch' : '1.5 mm',
    paper: inch ? '16 to 20 lb' : '60 to 80 g',
    square: inch ? '1 in' : '2.5 cm',
  };
}

const READY = (w: Words): string[] => [
  `Print the template sheets at 100 %, on one side of plain thin paper (${w.paper}). Measure the ${w.square} square and both rulers. If the ${w.ruler} ruler measures ${w.off}, the block would come out at ${w.shrunk} instead of ${w.size}: print again.`,
  'Print each set from the file; photocopies distort. Test your printer’s ink under the iron on a scrap of light fabric: some inks come off.',
  `Cut the patches and lay them out section by section in the order of their numbers. They are larger than the finished pieces on purpose. The narrowest piece here finishes ${w.small} wide.`,
  `Set the machine to a short stitch, ${w.stitch}, so that the paper tears off cleanly. Use a needle 80/12 or 90/14 and fine thread.`,
  'Cut the templates apart roughly, outside their dashed lines. The exact cut comes when the section is finished.',
];

const STEPS = (w: Words): string[] => [
  'You sew along the printed lines, with the fabric under the paper, on its back. That is why the templates are mirrored: the finished front comes out the right way round.',
  `Piece 1 (ringed): lay its patch on the back of the paper, right side up. Hold both against the light: the patch must reach at least ${w.seam} past every line of piece 1. Hold it with a dab of washable glue or a pin.`,
  `Fold the paper back along the line between 1 and 2, over a card. Trim the fabric ${w.seam} beyond the fold. Lay the paper flat again.`,
  'Lay patch 2 on patch 1, right sides together, its edge along the edge you just trimmed. The picture of the step shows where along the seam. Flip it open to check that it will cover piece 2 with its seam allowance; flip it back.',
  `Turn the paper over. Sew on the line between 1 and 2: start ${w.seam} before it and stop ${w.seam} past it. Open the patch and press it, dry.`,
  `Go on in the order of the numbers, the same way each time: fold back on the NEXT line, trim to ${w.seam}, lay the patch along that edge, sew, open, press. Each new seam crosses all the pieces before it in one straight line. Where a dark fabric would show through a light one, trim the dark allowance to ${w.narrower}.`,
  'When all pieces of a section are on: press, and trim paper and fabric together on the dashed line. Leave the paper in. Join the sections in the order shown.',
];

export function drawHowTo(flow: Flow, input: PacketInput): void {
  flow.heading('Before you sew: heat and needles');
  for (const c of CAUTIONS) flow.paragraph(c, { bullet: '!', size: 9 });
  flow.space(1.5);
  flow.heading('Getting ready', 14);
  const words = wordsFor(input);
  for (const r of READY(words)) flow.paragraph(r, { bullet: '•', size: 9 });
  flow.space(1.5);
  flow.heading('How foundation piecing works', 14);
  STEPS(words).forEach((s, i) => {
    flow.paragraph(s, { bullet: `${i + 1}.`, size: 9 });
  });
}
