// `seamwright change BLOCK`: changes that keep a block sewable. Writes the next edition beside the old one, which is the way back,
// and says which printed sheets and cut patches are void.
import { basename, dirname } from 'node:path';
import { type Command, Option } from 'commander';
import { allowanceOf, type Block, readBlock } from '../block.ts';
import { changeBlock, printChanged } from '../commands/change.ts';
import type { BlockChange } from '../data.ts';
import { type OutputPath, outputPath, readText, refuseToOverwrite, writeOutputs } from '../files.ts';
import type { Segment } from '../geometry/polygon.ts';
import type { Void } from '../pipeline/change.ts';
import { UserError } from '../problems/problem.ts';
import { completeSettings } from '../settings/settings.ts';
import { settingsOfWords, type Words } from '../settings/words.ts';
import { mm, parseLength } from '../units.ts';
import { addSettings, checkName, localOf } from './options.ts';
import { showProgress } from './progress.ts';
import { printOut, tell } from './terminal.ts';

interface Call extends Words {
  out?: string;
  name?: string;
  most?: string;
  json?: boolean;
  timings?: boolean;
  force?: boolean;
}

export function addChangeCommand(program: Command): void {
  /** in the order in which they stand on the line */
  const changes: BlockChange[] = [];
  const edit = (flags: string, says: string, read: (text: string) => BlockChange): Option =>
    new Option(flags, says).argParser((text: string) => {
      changes.push(read(text));
      return changes.length;
    });
  const command = program
    .command('change')
    .description('change a block so that it can still be sewn; writes its next edition and leaves the old one')
    .argument('<block>', 'a block file')
    .addOption(edit('--fabric <pieces=fabric>', 'another fabric for pieces: A3,B7=fb', readFabric))
    .addOption(edit('--merge <piece,piece>', 'make one piece of two neighbours: A3,A4', readMerge))
    .addOption(edit('--divide <piece=line>', 'divide a piece, by a line in mm: A3=10,20,60,25 or …=fb', readDivide))
    .addOption(edit('--move <seam=length>', "move a piece's seam outwards, or a join's: A3=4mm, 2=-1/4in", readMove))
    .addOption(edit('--swing <seam=degrees>', 'swing a seam about its middle, clockwise: A3=5', readSwing))
    .addOption(edit('--unite <section,section>', 'sew two joined sections on one paper: A,B', readUnite))
    .addOption(
      edit(
        '--part <section>',
        'part a section into two papers, at the seam of a piece if one is named: B or B4',
        readPart,
      ),
    )
    .addOption(edit('--rename <fabric=name>', 'another name for a fabric: fb=barn red', readRename))
    .addOption(edit('--colour <fabric=#rrggbb>', 'another colour for a fabric', readColour));
  addSettings(command, ['name', 'level', 'mostPieces', 'paper', 'units', 'packet', 'designer'], {
    name: "the files' name (default: the block's, with its edition)",
    level: 'who sews it',
  })
    .option('--out <folder>', 'where the files go (default: beside the block)')
    .option('--json', 'print the result as JSON')
    .option('--force', 'replace files that are there already')
    .action((file: string, call: Call) => run(file, call, changes));
}

async function run(file: string, call: Call, changes: readonly BlockChange[]): Promise<void> {
  if (!changes.length) throw new UserError('no-change', {}, 2);
  const before = readBlock(await readText(file, 'block file'), file);
  const settings = completeSettings({
    ...localOf(call),
    allowance: mm(allowanceOf(before)),
    ...settingsOfWords({ ...call, name: undefined }),
  });
  const after = changeBlock(before, changes, settings, call.most !== undefined);
  const name = checkName(call.name ?? nameAfter(file, before, after));
  const at = (ending: string): OutputPath => outputPath(call.out ?? dirname(file), `${name}.${ending}`);
  const files = { block: at('block.json'), preview: at('preview.png'), packet: at('packet.pdf') };
  refuseToOverwrite(Object.values(files), call.force === true);
  const progress = showProgress(call.timings);
  try {
    const made = await printChanged(before, after, settings, { progress });
    await writeOutputs(
      new Map(Object.entries(files).map(([k, path]) => [path, made.files[k as keyof typeof files]])),
      call.force === true,
    );
    progress.finish();
    const pieces = after.sections.reduce((n, s) => n + s.pieces.length, 0);
    const sections = after.sections.length;
    if (call.json)
      printOut(
        `${JSON.stringify({ files, edition: after.edition, pieces, sections, void: made.lost, warnings: made.warnings })}\n`,
      );
    else {
      for (const w of made.warnings) tell(`Mind: ${w}\n`);
      printOut(
        `${after.name}, edition ${after.edition}: ${pieces} pieces in ${sections} ${sections === 1 ? 'section' : 'sections'}.\n` +
          `${inWords(made.lost, after.sections.length)}The new packet is ${files.packet}; ${file} is as it was.\n`,
      );
    }
  } finally {
    progress.finish();
  }
}

/** "pepper-B" of "pepper.block.json", "pepper-C" of "pepper-B.block.json". */
function nameAfter(file: string, before: Block, after: Block): string {
  const stem = basename(file).replace(/(\.block)?\.json$/, '');
  const old = before.edition ? `-${before.edition}` : '';
  const plain = old && stem.endsWith(old) ? stem.slice(0, -old.length) : stem;
  return `${plain}-${after.edition}`;
}

function inWords({ print, gone, cut, relabel, unused }: Void, sections: number): string {
  const line = (words: string, names: readonly string[]): string =>
    names.length ? `${words} ${names.join(', ')}.\n` : '';
  return (
    (print.length === 0
      ? 'All printed templates stay good.\n'
      : print.length === sections
        ? 'All printed templates are void: print them again.\n'
        : line('Printed templates that are void, to print again: section', print)) +
    line('No longer there: section', gone) +
    line('Patches to cut anew:', cut) +
    line(
      'Patches with a new label:',
      relabel.map((r) => `${r.from} is now ${r.to}`),
    ) +
    line('Cut patches that are left over:', unused)
  );
}

/** "A3=4mm" -> its two sides. */
function sides(text: string, field: string, example: string): [string, string] {
  const at = text.indexOf('=');
  const [left, right] = [text.slice(0, at).trim(), text.slice(at + 1).trim()];
  if (at < 1 || !left || !right) throw new UserError('not-like', { field, value: text, example }, 2);
  return [left, right];
}

function pair(text: string, field: string, example: string): [string, string] {
  const [a, b, ...more] = text.split(',').map((t) => t.trim());
  if (!a || !b || more.length) throw new UserError('not-like', { field, value: text, example }, 2);
  return [a, b];
}

function readFabric(text: string): BlockChange {
  const [pieces, fabric] = sides(text, 'fabric', 'A3,B7=fb');
  return { kind: 'fabric', pieces: pieces.split(','), fabric };
}

function readMerge(text: string): BlockChange {
  const [a, b] = pair(text, 'merge', 'A3,A4');
  return { kind: 'merge', first: a, second: b };
}

function readDivide(text: string): BlockChange {
  const [piece, rest] = sides(text, 'divide', 'A3=10,20,60,25');
  const [line, fabric] = rest.split('=');
  const v = line!.split(',').map((t) => (t.trim() === '' ? Number.NaN : Number(t)));
  if (v.length !== 4 || !v.every(Number.isFinite))
    throw new UserError(
      'not-like',
      { field: 'divide', value: text, example: 'A3=10,20,60,25 (a line through two points, in mm)' },
      2,
    );
  const seam: Segment = [
    [v[0]!, v[1]!],
    [v[2]!, v[3]!],
  ];
  return { kind: 'divide', piece, line: seam, ...(fabric && { fabric: fabric.trim() }) };
}

function readMove(text: string): BlockChange {
  const [seam, length] = sides(text, 'move', 'A3=4mm');
  const back = length.startsWith('-');
  const by = parseLength(back ? length.slice(1) : length, 'move');
  return { kind: 'move', seam, by: back ? -by : by };
}

function readSwing(text: string): BlockChange {
  const [seam, degrees] = sides(text, 'swing', 'A3=5');
  const turn = Number(degrees);
  if (!Number.isFinite(turn) || Math.abs(turn) > 90)
    throw new UserError('not-degrees', { field: 'swing', value: degrees }, 2);
  return { kind: 'swing', seam, degrees: turn };
}

function readUnite(text: string): BlockChange {
  const [a, b] = pair(text, 'unite', 'A,B');
  return { kind: 'unite', first: a, second: b };
}

function readPart(text: string): BlockChange {
  const [, section, number] = /^\s*([A-Za-z]+)(\d*)\s*$/.exec(text) ?? [];
  if (!section) throw new UserError('not-like', { field: 'part', value: text, example: 'B or B4' }, 2);
  return { kind: 'part', section, ...(number && { piece: `${section}${number}` }) };
}

function readRename(text: string): BlockChange {
  const [fabric, name] = sides(text, 'rename', 'fb=barn red');
  return { kind: 'rename', fabric, name };
}

function readColour(text: string): BlockChange {
  const [fabric, colour] = sides(text, 'colour', 'fb=#a33b2e');
  return { kind: 'colour', fabric, colour };
}
