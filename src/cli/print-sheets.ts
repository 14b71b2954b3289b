// What `seamwright sheets` does: the block is changed and checked, laid out, and written in the formats asked for.
import { basename, dirname, join } from 'node:path';
import { type Block, readBlock } from '../block.ts';
import type { Fill } from '../drawing/fill.ts';
import { isRoll, paperTitle, parsePaper } from '../drawing/paper.ts';
import { writePdf } from '../drawing/pdf.ts';
import { UserError } from '../errors.ts';
import { LEVEL_DEFAULTS, LEVELS, type Level } from '../levels.ts';
import { outlinesOf, type PacketSettings } from '../pipeline.ts';
import { printBlock, resizeBlock } from '../print-block.ts';
import { inkOfEachFill } from '../template/fill-ink.ts';
import { layOutTemplates, type TemplateSheetOptions, type TemplateSheets } from '../template/lay-out.ts';
import { formatCm, formatInches, inches, type Mm, mm, parseLength, parseSize, type System } from '../units.ts';
import { readInput, refuseToOverwrite, writeOutputs } from './files.ts';
import { nameOf, paperOf, systemOf, wholeNumber } from './options.ts';
import { showProgress } from './progress.ts';
import { drawFiles } from './sheet-files.ts';
import type { Format, SheetsGiven } from './sheets-command.ts';

export async function printSheets(file: string, given: SheetsGiven): Promise<void> {
  const system = systemOf(given.units, given.size);
  const original = readBlock(new TextDecoder().decode(await readInput(file)), file);
  const sections = given.sections === undefined ? undefined : sectionsOf(given.sections);
  const anew = given.size !== undefined || given.turn === true;
  const whole = given.packet === true || (anew && !sections && !given.unmirrored && given.format === 'pdf');
  refuseCombinations(given, whole);
  const { block, warnings } = resizeBlock(
    original,
    {
      ...(given.size && { size: sizeOf(given.size, original) }),
      ...(given.turn && { turn: true }),
      name: nameOf(given.name ?? newName(original, given)),
    },
    system,
  );
  const options: TemplateSheetOptions = {
    paper: given.paper === undefined ? paperOf() : parsePaper(given.paper, '--paper'),
    margin: lengthOf(given.margin, '--margin', 0, 25.4),
    allowance: lengthOf(given.allowance, '--allowance', 3, 25.4),
    system,
    fill: given.fill,
    copies: wholeNumber(given.copies, '--copies', 1, 200),
    ...(sections && { sections }),
    ...(given.unmirrored && { unmirrored: true }),
    ...(given.designer && { designer: given.designer }),
    ...(block.edition && { version: `edition ${block.edition}` }),
  };
  const progress = showProgress(given.timings);
  try {
    const out = given.out ?? dirname(file);
    const at = (ending: string): string => join(out, `${block.name}.${ending}`);
    const files = new Map<string, Uint8Array>();
    const newFiles = anew ? [at('block.json'), at('preview.png')] : [];
    // the names of single sheets are known only when they are laid out
    refuseToOverwrite(
      [
        ...newFiles,
        ...(whole
          ? [at('packet.pdf')]
          : given.format === 'pdf'
            ? [at(`${given.unmirrored ? 'reference' : 'sheets'}.pdf`)]
            : []),
      ],
      given.force === true,
    );
    let laid: TemplateSheets;
    if (anew || whole) {
      const outlines = await outlinesBeside(file, original, block, given.turn === true);
      const settings = { ...packetSettings(original, block), ...options };
      const printed = await printBlock(block, outlines, settings, warnings, progress);
      laid = whole ? printed.templates : layOutTemplates(block, options);
      if (anew) files.set(at('block.json'), printed.files.block).set(at('preview.png'), printed.files.preview);
      if (whole) files.set(at('packet.pdf'), printed.files.packet);
    } else {
      progress.stage('drawing templates');
      laid = layOutTemplates(block, options);
    }
    progress.stage('writing the files');
    if (!whole && given.format === 'pdf') {
      const title = given.unmirrored ? `${block.name} (reference, not for sewing)` : block.name;
      files.set(at(`${given.unmirrored ? 'reference' : 'sheets'}.pdf`), await writePdf(laid.sheets, { title }));
    } else if (!whole)
      for (const [name, bytes] of drawFiles(block, laid, options, {
        format: given.format as Exclude<Format, 'pdf'>,
        each: given.each,
        dpi: wholeNumber(given.dpi, '--dpi', 36, 1200),
      }))
        files.set(at(`${given.unmirrored ? 'reference-' : ''}${name}`), bytes);
    const notes = [
      ...warnings,
      ...laid.split.map((id) => `Section ${id} is too large for one sheet and is printed in parts.`),
    ];
    refuseToOverwrite([...files.keys()], given.force === true);
    await writeOutputs(files);
    const ink = inkOfEachFill(block, laid.sheets, options);
    progress.finish();
    report(given, block, [...files.keys()], notes, laid, ink, options);
  } finally {
    progress.finish();
  }
}

function report(
  given: SheetsGiven,
  block: Block,
  files: string[],
  warnings: string[],
  laid: TemplateSheets,
  ink: Record<Fill, number>,
  options: TemplateSheetOptions,
): void {
  const shown = block.sections.filter((s) => laid.sheetsOf[s.id]);
  const pieces = shown.reduce((n, s) => n + s.pieces.length, 0);
  const share = (v: number): number => Math.round(v * 1000) / 1000;
  if (given.json) {
    process.stdout.write(
      `${JSON.stringify({
        files,
        name: block.name,
        size: block.size,
        pieces,
        sections: shown.map((s) => s.id),
        sheets: laid.sheets.length,
        sheetsOf: laid.sheetsOf,
        split: laid.split,
        filled: share(laid.fill),
        asRectangles: laid.asRectangles,
        ink: Object.fromEntries(Object.entries(ink).map(([k, v]) => [k, share(v)])),
        warnings,
      })}\n`,
    );
    return;
  }
  for (const w of warnings) process.stderr.write(`Mind: ${w}\n`);
  const percent = (v: number): string => `${Math.round(v * 1000) / 10} %`;
  const inks = Object.entries(ink).map(([k, v]) => `${k} ${percent(v)}`);
  const pages = laid.sheets.length;
  process.stdout.write(
    `${block.name}: ${shown.length} ${shown.length === 1 ? 'section' : 'sections'} on ${pages} template ${pages === 1 ? 'sheet' : 'sheets'} (${paperTitle(options.paper)}), ` +
      `${Math.round(laid.fill * 100)} % of their room filled.\n` +
      `Paper covered with ink by --fill: ${inks.join(', ')}.\n` +
      `Written: ${files.join(', ')}.\n`,
  );
}

function refuseCombinations(given: SheetsGiven, whole: boolean): void {
  const refuse = (sentence: string): never => {
    throw new UserError(sentence, 2);
  };
  if (given.packet && given.sections) refuse('--packet is for the whole block; leave out --sections.');
  if (given.packet && given.unmirrored) refuse('--packet is for sewing; leave out --unmirrored.');
  if (given.packet && given.format !== 'pdf') refuse('--packet is a PDF; leave out --format.');
  if (given.copies !== '1' && given.format !== 'pdf')
    refuse('--copies is for PDF; a cutter can be given one file often.');
  if (given.copies !== '1' && whole)
    refuse('--copies is for template sheets; print the packet once and ask for the copies apart.');
  if (whole && given.paper && isRoll(parsePaper(given.paper, '--paper')))
    refuse('A roll is for template sheets; give the packet a paper of pages, or --sections or --format svg.');
}

function sectionsOf(text: string): string[] {
  const ids = text
    .split(/[\s,;+]+/)
    .filter(Boolean)
    .map((s) => s.toUpperCase());
  if (!ids.length) throw new UserError('--sections: write the letters of sections, for example B,D.', 2);
  return [...new Set(ids)];
}

/** One length is that of the longer side. */
function sizeOf(text: string, block: Block): readonly [Mm, Mm] {
  const given = parseSize(text, '--size');
  if (/[x×]/i.test(text) || block.size[0] === block.size[1]) return checkSize(given);
  const k = given[0] / Math.max(...block.size);
  return checkSize([mm(block.size[0] * k), mm(block.size[1] * k)]);
}

function checkSize(size: readonly [Mm, Mm]): readonly [Mm, Mm] {
  if (Math.min(...size) < inches(2) || Math.max(...size) > inches(60))
    throw new UserError('--size: a block is from 2 to 60 in (5 to 150 cm) on each side.', 2);
  return size;
}

function lengthOf(text: string, option: string, least: number, most: number): Mm {
  const length = /^\s*0\s*$/.test(text) ? mm(0) : parseLength(text, option);
  if (length < least || length > most)
    throw new UserError(`${option}: choose from ${least} to ${most} mm (up to ${formatInches(most)} in).`, 2);
  return length;
}

/** "pepper-16in", "pepper-40cm-turned": in the unit that was asked for. */
function newName(block: Block, given: SheetsGiven): string {
  let name = block.name;
  if (given.size) {
    const size = sizeOf(given.size, block);
    const system: System = /[cm]m\s*$/i.test(given.size) ? 'metric' : 'inch';
    const one = (v: number): string =>
      system === 'inch' ? formatInches(v).replace(' ', '-').replace('/', '_') : formatCm(v);
    const both = size[0] === size[1] ? one(size[0]) : `${one(size[0])}x${one(size[1])}`;
    name += `-${both}${system === 'inch' ? 'in' : 'cm'}`;
  }
  return given.turn ? `${name}-turned` : name;
}

function packetSettings(
  original: Block,
  block: Block,
): Pick<PacketSettings, 'level' | 'smallest' | 'mostPieces' | 'slack'> {
  const said = original.source?.settings.level;
  const level: Level = LEVELS.find((l) => l === said) ?? 'intermediate';
  return {
    level,
    // what may be sewn was judged when the block was changed
    smallest: mm(0),
    mostPieces: Math.max(...block.sections.map((s) => s.pieces.length)),
    slack: LEVEL_DEFAULTS[level].slack,
  };
}

/** The picture's regions from NAME.regions.png beside the block file; none where it is missing or another block's. */
async function outlinesBeside(file: string, original: Block, block: Block, turn: boolean) {
  const path = join(dirname(file), basename(file).replace(/\.block\.json$/, '.regions.png'));
  try {
    return await outlinesOf(await readInput(path), JSON.stringify(original.fabrics), block.size, turn);
  } catch (e) {
    if (e instanceof UserError) return undefined;
    throw e;
  }
}
