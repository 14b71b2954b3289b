// What `seamwright sheets` does with its words: a request for the command, files, and a few lines about them.
import { basename, dirname, join } from 'node:path';
import { allowanceOf, type Block, readBlock } from '../block.ts';
import {
  expectedFiles,
  levelOf,
  printSheets,
  resizeBlock,
  type SheetsOutput,
  type SheetsRequest,
} from '../commands/sheets.ts';
import type { Outlines } from '../data.ts';
import { isRoll, paperTitle, parsePaper } from '../drawing/paper.ts';
import { type OutputPath, outputPath, readInput, readText, refuseToOverwrite, writeOutputs } from '../files.ts';
import { localSettings, systemOf } from '../locale.ts';
import { outlinesOf } from '../pipeline/number.ts';
import { UserError } from '../problems/problem.ts';
import { formatCm, formatInches, inches, type Mm, mm, parseLength, parseSize, type System } from '../units.ts';
import { checkName, presetOf, wholeNumber } from './options.ts';
import { showProgress } from './progress.ts';
import type { SheetsCall } from './sheets-command.ts';
import { printOut, tell } from './terminal.ts';

export async function runSheets(file: string, call: SheetsCall): Promise<void> {
  const system = systemOf(call.units, call.size);
  const original = readBlock(await readText(file, 'block file'), file);
  const sections = call.sections === undefined ? undefined : sectionsOf(call.sections);
  const anew = call.size !== undefined || call.turn === true;
  const packet = Boolean(call.packet) || (anew && !sections && !call.unmirrored && call.format === 'pdf');
  refuseCombinations(call, packet);
  const { block, warnings } = resizeBlock(
    original,
    {
      ...(call.size && { size: sizeOf(call.size, original) }),
      ...(call.turn && { turn: true }),
      name: checkName(call.name ?? newName(original, call)),
    },
    system,
  );
  const request: SheetsRequest = {
    ...{ packet, anew, form: call.packet === 'short' ? 'short' : 'full' },
    files:
      call.format === 'pdf'
        ? { format: 'pdf' }
        : { format: call.format, each: call.each, dpi: wholeNumber(call.dpi, 'dpi', 36, 1200) },
    print: {
      paper: call.paper === undefined ? localSettings().paper : parsePaper(call.paper, 'paper'),
      margin: lengthWithin(call.margin, 'margin', 0, 25.4),
      allowance:
        call.allowance === undefined ? mm(allowanceOf(original)) : lengthWithin(call.allowance, 'allowance', 3, 25.4),
      system,
      fill: call.fill ?? presetOf('fill'),
      copies: wholeNumber(call.copies, 'copies', 1, 200),
      ...(sections && { sections }),
      ...(call.unmirrored && { unmirrored: true }),
      ...(call.designer && { designer: call.designer }),
      ...(block.edition && { version: `edition ${block.edition}` }),
    },
  };
  const progress = showProgress(call.timings);
  try {
    const at = (ending: string): OutputPath => outputPath(call.out ?? dirname(file), `${block.name}.${ending}`);
    // the names of single sheets are known only when they are laid out
    refuseToOverwrite(expectedFiles(request).map(at), call.force === true);
    const outlines = (): Promise<Outlines | undefined> => outlinesBeside(file, original, block, call.turn === true);
    const made = await printSheets(block, request, levelOf(original), outlines, warnings, { progress });
    const files = new Map([...made.files].map(([ending, bytes]) => [at(ending), bytes]));
    refuseToOverwrite([...files.keys()], call.force === true);
    await writeOutputs(files, call.force === true);
    progress.finish();
    report(call, block, [...files.keys()], made, request);
  } finally {
    progress.finish();
  }
}

function report(call: SheetsCall, block: Block, files: string[], made: SheetsOutput, { print }: SheetsRequest): void {
  const { templates: laid, notes: warnings, ink } = made;
  const shown = block.sections.filter((s) => laid.sheetsOf[s.id]);
  const pieces = shown.reduce((n, s) => n + s.pieces.length, 0);
  const share = (v: number): number => Math.round(v * 1000) / 1000;
  if (call.json) {
    printOut(
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
  for (const w of warnings) tell(`Mind: ${w}\n`);
  const percent = (v: number): string => `${Math.round(v * 1000) / 10} %`;
  const inks = Object.entries(ink).map(([k, v]) => `${k} ${percent(v)}`);
  const pages = laid.sheets.length;
  printOut(
    `${block.name}: ${shown.length} ${shown.length === 1 ? 'section' : 'sections'} on ${pages} template ${pages === 1 ? 'sheet' : 'sheets'} (${paperTitle(print.paper)}), ` +
      `${Math.round(laid.fill * 100)} % of their room filled.\n` +
      `Paper covered with ink by --fill: ${inks.join(', ')}.\n` +
      `Written: ${files.join(', ')}.\n`,
  );
}

function refuseCombinations(call: SheetsCall, packet: boolean): void {
  const refuse = (field: string, is: string, leave: string): never => {
    throw new UserError('leave-out', { field, is, leave }, 2);
  };
  if (call.packet && call.sections) refuse('packet', 'is for the whole block', 'sections');
  if (call.packet && call.unmirrored) refuse('packet', 'is for sewing', 'unmirrored');
  if (call.packet && call.format !== 'pdf') refuse('packet', 'is a PDF', 'format');
  if (call.copies !== '1' && call.format !== 'pdf') throw new UserError('copies-are-pdf', { field: 'copies' }, 2);
  if (call.copies !== '1' && packet) throw new UserError('copies-are-sheets', { field: 'copies' }, 2);
  if (packet && call.paper && isRoll(parsePaper(call.paper, 'paper')))
    throw new UserError('packet-on-a-roll', { sections: 'sections', format: 'format' }, 2);
}

function sectionsOf(text: string): string[] {
  const ids = text
    .split(/[\s,;+]+/)
    .filter(Boolean)
    .map((s) => s.toUpperCase());
  if (!ids.length) throw new UserError('not-sections', { field: 'sections' }, 2);
  return [...new Set(ids)];
}

/** One length is that of the longer side. */
function sizeOf(text: string, block: Block): readonly [Mm, Mm] {
  const asked = parseSize(text, 'size');
  if (/[x×]/i.test(text) || block.size[0] === block.size[1]) return checkSize(asked);
  const k = asked[0] / Math.max(...block.size);
  return checkSize([mm(block.size[0] * k), mm(block.size[1] * k)]);
}

const [LEAST_INCHES, MOST_INCHES] = [2, 60];
function checkSize(size: readonly [Mm, Mm]): readonly [Mm, Mm] {
  if (Math.min(...size) < inches(LEAST_INCHES) || Math.max(...size) > inches(MOST_INCHES))
    throw new UserError('size-out-of-range', { field: 'size', least: LEAST_INCHES, most: MOST_INCHES }, 2);
  return size;
}

function lengthWithin(text: string, field: string, least: number, most: number): Mm {
  const length = /^\s*0\s*$/.test(text) ? mm(0) : parseLength(text, field);
  if (length < least || length > most)
    throw new UserError('length-out-of-range', { field, least, most, mostInches: formatInches(most) }, 2);
  return length;
}

/** "pepper-16in", "pepper-40cm-turned": in the unit that was asked for. */
function newName(block: Block, call: SheetsCall): string {
  let name = block.name;
  if (call.size) {
    const size = sizeOf(call.size, block);
    const system: System = /[cm]m\s*$/i.test(call.size) ? 'metric' : 'inch';
    const one = (v: number): string =>
      system === 'inch' ? formatInches(v).replace(' ', '-').replace('/', '_') : formatCm(v);
    const both = size[0] === size[1] ? one(size[0]) : `${one(size[0])}x${one(size[1])}`;
    name += `-${both}${system === 'inch' ? 'in' : 'cm'}`;
  }
  return call.turn ? `${name}-turned` : name;
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
