// Packets of every picture in fixtures/ at 40, 80 and 200 pieces, on Letter, A4 and both at once: sheets against packed
// rectangles, room filled, time and size of the file, and everything that test/packet/judge-packet.ts demands.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Block } from '../../src/block.ts';
import { type Paper, paperSize } from '../../src/drawing/paper.ts';
import { writePdf } from '../../src/drawing/pdf.ts';
import { planFabric } from '../../src/fabric/plan-fabric.ts';
import { drawPacket } from '../../src/packet/packet.ts';
import { fitPieces } from '../../src/pipeline/fit.ts';
import { numberBlock, proveBlock } from '../../src/pipeline/number.ts';
import { shadeFile } from '../../src/pipeline/shade.ts';
import { UserError } from '../../src/problems/problem.ts';
import { layOutTemplates } from '../../src/template/lay-out.ts';
import { drawPractice } from '../../src/template/practice.ts';
import { readBackSheets, unreadable } from '../../test/packet/judge-packet.ts';
import { median, settingsFor } from './settings.ts';

const fixtures = join(import.meta.dirname, '..', '..', 'fixtures');
/** Words keep 1 mm off the lines of their template (test/template); the frame of a pasted part and the rulers may come nearer. */
const PAPERS: readonly Paper[] = ['letter', 'a4', 'both'];
/** 200 pieces of 3/8 in and more need a block of 18 in */
const WIDE = 457.2;

interface Row {
  readonly pieces: number;
  readonly sheets: number;
  readonly rectangles: number;
  readonly filled: number;
  readonly ms: number;
  readonly bytes: number;
}

/** `args`: words that picture names must hold (all where none), wished pieces as numbers, names of papers. */
export async function benchPacket(args: readonly string[]): Promise<void> {
  const wishes = args.filter((a) => /^\d+$/.test(a)).map(Number);
  const papers = PAPERS.filter((p) => args.includes(String(p)));
  const words = args.filter((a) => !/^\d+$/.test(a) && !PAPERS.some((p) => p === a));
  const files = ['photos', 'lines', 'flat'].flatMap((kind) =>
    readdirSync(join(fixtures, kind)).map((name) => join(kind, name)),
  );
  const chosen = files.filter((f) => !words.length || words.some((w) => f.includes(w)));
  const rows: Row[] = [];
  const faults: string[] = [];
  let told = 0;
  const hash = createHash('sha256');
  for (const file of chosen)
    for (const pieces of wishes.length ? wishes : [40, 80, 200]) {
      const settings = {
        ...settingsFor(file, pieces),
        effort: 'quick' as const,
        ...(pieces > 120 ? { size: [WIDE, WIDE] as never } : {}),
      };
      let block: Block;
      try {
        const { picture, shading } = await shadeFile(readFileSync(join(fixtures, file)), file, settings);
        ({ block } = numberBlock(fitPieces(shading, settings).at(-1)!, shading, settings, picture));
        proveBlock(block, settings);
      } catch (e) {
        if (!(e instanceof UserError)) throw e;
        console.log(`${file}: ${e.message}`);
        break;
      }
      const count = block.sections.reduce((n, s) => n + s.pieces.length, 0);
      const shopping = planFabric([{ block }], { ...settings, system: settings.units });
      for (const paper of papers.length ? papers : PAPERS) {
        const own = { ...settings, paper, system: settings.units };
        const where = `${file}, ${pieces} on ${String(paper)}`;
        const start = performance.now();
        const templates = layOutTemplates(block, own);
        const practice = drawPractice(own);
        const pages = drawPacket({ ...own, block, templates, shopping, practice, notes: [] });
        const pdf = await writePdf(pages, { title: block.name });
        const ms = performance.now() - start;
        hash.update(pdf);
        const sheetPdf = await writePdf(templates.sheets, { title: block.name });
        const back = await readBackSheets(sheetPdf, block, templates.split, paperSize(paper), settings.allowance);
        faults.push(...back.faults.map((f) => `${where}: ${f}`));
        for (const s of templates.sheets)
          faults.push(...unreadable(s, 0.35).map((f) => `${where}, ${s.title.split(', ').at(-1)}: ${f}`));
        for (const p of pages.filter((page) => !templates.sheets.some((s) => page.items.includes(s.items[0]!))))
          faults.push(...unreadable(p, 0.05).map((f) => `${where}, page ${pages.indexOf(p) + 1}: ${f}`));
        for (const f of faults.slice(told)) console.log(`  ${f}`);
        told = faults.length;
        rows.push({
          pieces,
          sheets: templates.sheets.length,
          rectangles: templates.asRectangles,
          filled: templates.fill,
          ms,
          bytes: pdf.length,
        });
        console.log(
          `${where}: ${count} pieces, ${templates.sheets.length} sheets (rectangles ${templates.asRectangles}), ` +
            `${Math.round(100 * templates.fill)} % filled, ${Math.round(ms)} ms, ${Math.round(pdf.length / 1000)} kB`,
        );
      }
    }
  const sum = (list: readonly Row[], of: (r: Row) => number): number => list.reduce((t, r) => t + of(r), 0);
  console.log(`\n${chosen.length} pictures, checksum ${hash.digest('hex').slice(0, 8)}`);
  for (const pieces of new Set(rows.map((r) => r.pieces))) {
    const own = rows.filter((r) => r.pieces === pieces);
    const [nested, boxes] = [sum(own, (r) => r.sheets), sum(own, (r) => r.rectangles)];
    console.log(
      `${pieces} pieces: ${nested} sheets, packed as rectangles ${boxes} (${Math.round(100 * (1 - nested / boxes))} % fewer); ` +
        `median ${Math.round(100 * median(own.map((r) => r.filled)))} % filled; templates and packet ` +
        `${Math.round(median(own.map((r) => r.ms)))} ms (most ${Math.round(Math.max(...own.map((r) => r.ms)))}), ` +
        `${Math.round(median(own.map((r) => r.bytes)) / 1000)} kB (most ${Math.round(Math.max(...own.map((r) => r.bytes)) / 1000)})`,
    );
  }
  console.log(`${faults.length} faults`);
  if (faults.length) process.exitCode = 1;
}
