// Packets of pictures as they come, read back and judged: 40, 80 and 200 pieces, Letter, A4 and both at once. The whole set of
// pictures stands in `npm run bench -- packet`.
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Paper, paperSize } from '../../src/drawing/paper.ts';
import { writePdf } from '../../src/drawing/pdf.ts';
import { planFabric } from '../../src/fabric/plan-fabric.ts';
import { drawPacket } from '../../src/packet/packet.ts';
import { fitPieces } from '../../src/pipeline/fit.ts';
import { numberBlock, proveBlock } from '../../src/pipeline/number.ts';
import { clothOf } from '../../src/pipeline/print.ts';
import { shadeFile } from '../../src/pipeline/shade.ts';
import { completeSettings } from '../../src/settings/settings.ts';
import { layOutTemplates } from '../../src/template/lay-out.ts';
import { drawPractice } from '../../src/template/practice.ts';
import { inches } from '../../src/units.ts';
import { readBackSheets, unreadable } from './judge-packet.ts';

const fixture = (name: string): string => join(import.meta.dirname, '..', '..', 'fixtures', name);

const CASES: [picture: string, pieces: number, papers: Paper[]][] = [
  ['lines/notomono-poodle.png', 40, ['a4']],
  ['flat/noto-owl.svg', 80, ['letter', 'both']],
  ['photos/cat-chelsea-face.jpg', 200, ['both']],
];

describe.each(CASES)('%s in %i pieces', (picture, pieces, papers) => {
  test('prints whole, true and readable, in little ink and few bytes', async () => {
    const side = inches(pieces > 120 ? 18 : 12);
    const settings = completeSettings({
      name: basename(picture),
      size: [side, side],
      pieces,
      smallest: inches(3 / 8),
      effort: 'quick',
      paper: papers[0]!,
      // what is judged is the print: no animal need be found
      ...{ show: 'picture', background: 'keep' },
    });
    const { picture: read, shading } = await shadeFile(readFileSync(fixture(picture)), picture, settings);
    const { block } = numberBlock(fitPieces(shading, settings).at(-1)!, shading, settings, read);
    proveBlock(block, settings);
    const shopping = planFabric([{ block }], clothOf(block, settings));
    for (const paper of papers) {
      const own = { ...settings, paper, system: settings.units };
      const templates = layOutTemplates(block, own);
      expect(templates.sheets.length).toBeLessThanOrEqual(templates.asRectangles);
      const pages = drawPacket({ ...own, block, templates, shopping, practice: drawPractice(own), notes: [] });
      const pdf = await writePdf(pages, { title: block.name });
      expect(pdf.length).toBeLessThan(3e6);
      const sheets = await writePdf(templates.sheets, { title: block.name });
      const back = await readBackSheets(sheets, block, templates.split, paperSize(paper), own.allowance);
      expect(back.faults).toEqual([]);
      for (const s of templates.sheets) expect(unreadable(s, 0.35)).toEqual([]);
      const others = pages.filter((p) => !templates.sheets.some((s) => s.items[0] === p.items[0]));
      for (const p of others) expect(unreadable(p, 0.05)).toEqual([]);
    }
  });
});
