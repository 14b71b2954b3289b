// `seamwright check FILE`: can this design be sewn, and how; or where not, and what would mend it.
import { basename, extname, join } from 'node:path';
import { type Command, Option } from 'commander';
import { UserError } from '../errors.ts';
import { isBlockFile, type Judgement, judgeFile, outlinesOfBlock } from '../judge-file.ts';
import { LEVEL_DEFAULTS, LEVELS, type Level } from '../levels.ts';
import { templateArea } from '../template/template-area.ts';
import { inches, mm, parseLength, parseSize, type System } from '../units.ts';
import { readInput, refuseToOverwrite, writeOutputs } from './files.ts';
import { nameOf, paperOf, paperOption, systemOf, unitsOption, wholeNumber } from './options.ts';
import { showProgress } from './progress.ts';

interface Given {
  out?: string;
  name?: string;
  size?: string;
  near?: string;
  repair?: boolean;
  level: Level;
  most?: string;
  paper?: string;
  units?: System;
  designer?: string;
  json?: boolean;
  timings?: boolean;
  force?: boolean;
}

/** Where files are written at all: a drawing of 100 mm is 1000 pixels wide. */
const MARKED_DPI = 150;

export function addCheckCommand(program: Command): void {
  program
    .command('check')
    .description('say whether a block file or a drawing of straight lines (SVG) can be sewn, or where it cannot')
    .argument('<file>', 'a block file, or an SVG of lines, polylines, polygons and straight paths')
    .option('--out <folder>', 'write the block and its packet there, or a picture with the faulty places marked')
    .option('--repair', 'mend it: carry seams on, divide pieces that turn inward, number it anew')
    .option('--near <length>', 'line ends this close are meant to meet', '0.5mm')
    .option('--size <size>', 'finished size: 12in, 30cm, 10x14in (default: as drawn)')
    .option('--name <name>', "the block's name (default: the file's)")
    .option('--most <number>', 'pieces in a section at most')
    .addOption(new Option('--level <level>', 'who sews it').choices(LEVELS).default('intermediate'))
    .addOption(paperOption())
    .addOption(unitsOption())
    .option('--designer <name>', 'printed at the foot of every page')
    .option('--json', 'print the result as JSON')
    .option('--force', 'replace files that are there already')
    .action(run);
}

async function run(file: string, given: Given): Promise<void> {
  const level = LEVEL_DEFAULTS[given.level];
  const text = new TextDecoder().decode(await readInput(file));
  const name = nameOf(given.name ?? basename(file, extname(file)).replace(/\.block$/, ''));
  if (given.size && isBlockFile(text))
    throw new UserError('--size is for drawings; a block file has its size already.', 2);
  const paper = paperOf(given.paper);
  const margin = mm(9.525);
  const allowance = inches(1 / 4);
  const mostPieces = given.most ? wholeNumber(given.most, '--most', 2, 16) : level.mostPieces;
  const judged = judgeFile(text, file, {
    name,
    near: parseLength(given.near ?? '0.5mm', '--near'),
    repair: given.repair === true,
    limits: { mostPieces, paper: templateArea(paper, margin), allowance },
    ...(given.size && { size: parseSize(given.size, '--size') }),
  });
  const written = given.out === undefined ? undefined : await writeAll(given.out);
  report(judged, file, written, given.json === true);
  process.exitCode = judged.faults.length ? 1 : 0;

  async function writeAll(out: string): Promise<Record<string, string>> {
    const at = (ending: string): string => join(out, `${name}.${ending}`);
    const files: Record<string, string> = {};
    const marked = judged.faults.length > 0 || judged.repairs.some((r) => r.seam);
    if (marked) files.marked = at('marked.png');
    if (judged.block)
      Object.assign(files, { block: at('block.json'), preview: at('preview.png'), packet: at('packet.pdf') });
    refuseToOverwrite(Object.values(files), given.force === true);
    const progress = showProgress(given.timings);
    try {
      const bytes: Record<string, Uint8Array> = {};
      // loaded only where files are written: a verdict alone is quick
      const [{ finishBlock }, { drawMarked }, { writePng }] = await Promise.all([
        import('../print-block.ts'),
        import('../packet/marked-picture.ts'),
        import('../drawing/png.ts'),
      ]);
      if (marked) bytes.marked = writePng(drawMarked(judged), MARKED_DPI);
      if (judged.block) {
        const { block } = judged;
        const settings = {
          level: given.level,
          smallest: mm(block.smallest),
          mostPieces: Math.max(mostPieces, ...block.sections.map((s) => s.pieces.length)),
          slack: level.slack,
          paper,
          margin,
          allowance,
          system: systemOf(given.units),
          ...(given.designer && { designer: given.designer }),
        };
        Object.assign(
          bytes,
          (await finishBlock(block, outlinesOfBlock(block), settings, judged.notes, progress)).files,
        );
      }
      await writeOutputs(new Map(Object.entries(files).map(([k, path]) => [path, bytes[k]!])));
      return files;
    } finally {
      progress.finish();
    }
  }
}

function report(
  judged: Judgement,
  file: string,
  files: Readonly<Record<string, string>> | undefined,
  json: boolean,
): void {
  const { block, faults, repairs, joined, notes, partition } = judged;
  const pieces = partition.pieces.length;
  if (json) {
    process.stdout.write(
      `${JSON.stringify({
        sewable: faults.length === 0,
        pieces,
        ...(block && { sections: block.sections.length }),
        ...(judged.fewest !== undefined && { fewest: judged.fewest }),
        size: partition.size,
        faults,
        joined,
        repairs,
        notes,
        ...(block && {
          order: {
            sections: block.sections.map((s) => ({ id: s.id, pieces: s.pieces.map((p) => p.number) })),
            joins: block.joins.map(({ number, left, right }) => ({ number, left, right })),
          },
        }),
        ...(files && { files }),
      })}\n`,
    );
    return;
  }
  for (const n of notes) process.stderr.write(`Mind: ${n}\n`);
  const mended = [...new Set(repairs.map((r) => r.text))].map((t) => {
    const n = repairs.filter((r) => r.text === t).length;
    return n > 1 ? `${t} (${n} times)` : t;
  });
  const lines: string[] = mended.length ? [`Mended: ${mended.join('; ')}.`] : [];
  if (block) {
    const sections = block.sections.length;
    lines.push(
      `${file} can be sewn: ${pieces} pieces in ${sections} ${sections === 1 ? 'section' : 'sections'}${judged.fewest === false ? ' (there may be a way with fewer)' : ''}.`,
    );
    for (const s of block.sections)
      lines.push(`  ${s.id}: ${s.pieces.length} ${s.pieces.length === 1 ? 'piece' : 'pieces'}`);
    for (const j of block.joins) lines.push(`  join ${j.number}: ${sideOfJoin(j.left)} + ${sideOfJoin(j.right)}`);
    if (files) lines.push(`Print ${files.packet} at 100 %; the finished block is in ${files.preview}.`);
    else lines.push('Add --out FOLDER for its templates and packet.');
  } else {
    lines.push(`${file} cannot be sewn, for ${faults.length === 1 ? 'one reason' : `${faults.length} reasons`}:`);
    faults.forEach((f, i) => {
      lines.push(`  ${i + 1}. at ${f.at.map((v) => Math.round(v * 10) / 10).join(', ')} mm: ${f.text}`);
    });
    lines.push(
      files
        ? `The places are marked in ${files.marked}.`
        : 'Add --out FOLDER for a picture with the places marked, --repair to have it mended.',
    );
  }
  process.stdout.write(`${lines.join('\n')}\n`);
}

/** Sections that are one by now are neighbours in the alphabet: "A", "A B C", "A to N". */
const sideOfJoin = (ids: readonly string[]): string => (ids.length > 3 ? `${ids[0]} to ${ids.at(-1)}` : ids.join(' '));
