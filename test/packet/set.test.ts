// Packets of pictures as they come, read back and judged: 40, 80 and 200 pieces, Letter, A4 and both at once. The whole set of
// pictures stands in `npm run bench -- packet`.
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Paper, paperSize } from '../../src/drawing/paper.ts';
import { writePdf } from '../../src/drawing/pdf.ts';
import { planFabric } from '../../src/fabric/plan-fabric.ts';
import { drawPacket } from '../../src/packet/packet.ts';
import { fitBlock, proveBlock, shadeFile } from '../../src/pipeline.ts';
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
    const settings = {
      name: basename(picture),
      size: [side, side] as const,
      level: 'intermediate' as const,
      shades: 5,
      pieces,
      smallest: inches(3 / 8),
      mostPieces: 10,
      slack: inches(1 / 4),
      background: 'keep' as const,
      turn: false,
      seed: 1,
      effort: 'quick' as const,
      paper: papers[0]!,
      margin: inches(3 / 8),
      allowance: inches(1 / 4),
      system: 'inch' as const,
    };
    const { picture: read, shading } = await shadeFile(readFileSync(fixture(picture)), picture, settings);
    const { block } = fitBlock(shading, settings, undefined, read);
    proveBlock(block, settings);
    const shopping = planFabric([{ block }], settings);
    for (const paper of papers) {
      const own = { ...settings, paper };
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
