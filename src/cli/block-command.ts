// `seamwright block PICTURE`: a picture becomes a block file, a preview and a packet.
import type { Command } from 'commander';
import { type BlockOutput, makeBlockOf } from '../commands/block.ts';
import type { FacePart, Figure } from '../data.ts';
import { LARGEST_TEXT, type OutputPath, outputPath, readInput, refuseToOverwrite, writeOutputs } from '../files.ts';
import { startBeside } from '../pipeline/beside.ts';
import { UserError } from '../problems/problem.ts';
import type { Settings } from '../settings/settings.ts';
import type { Words } from '../settings/words.ts';
import { addSettings, settingsOf } from './options.ts';
import { clothsOf } from './own-fabrics.ts';
import { showProgress } from './progress.ts';
import { printOut, tell } from './terminal.ts';

/** The options of a block as they stand on the command line: those of the settings, and where its files are. */
export interface BlockCall extends Words {
  out: string;
  fabrics?: string;
  again?: boolean;
  regions?: string;
  json?: boolean;
  timings?: boolean;
  force?: boolean;
}

export function addBlockCommand(program: Command): void {
  const command = program
    .command('block')
    .description('make a block, its templates and its packet from a picture')
    .argument('[picture]', 'photo, drawing or flat picture');
  addSettings(command)
    .option('--out <folder>', 'where the files go', '.')
    .option('--regions <file>', 'a posterised picture (8-bit grey PNG) instead of a picture')
    .option(
      '--fabrics <file|folder>',
      'your own: a list "name,#rrggbb" or snapshots of cloth; with --regions its fabrics',
    )
    .option('--again', 'one of your own fabrics may serve for several shades')
    .option('--json', 'print the result as JSON')
    .option('--force', 'replace files that are there already')
    .action(runBlock);
}

/** Makes and writes the block, and says so; `chosen` where a comparison sheet gave its shades and pieces. */
export async function runBlock(
  picture: string | undefined,
  call: BlockCall,
  { chosen }: { readonly chosen?: boolean } = {},
): Promise<void> {
  if (picture && call.regions) throw new UserError('either-or', { one: 'a picture', field: 'regions' }, 2);
  if (!picture && !call.regions) throw new UserError('name-a-picture', {}, 2);
  if (call.regions && !call.fabrics)
    throw new UserError(
      'needs',
      { field: 'regions', needs: 'fabrics', why: 'the list of fabrics that its values stand for' },
      2,
    );
  const file = (picture ?? call.regions)!;
  const settings = settingsOf(call, file);
  const at = (ending: string): OutputPath => outputPath(call.out, `${settings.name}.${ending}`);
  const files = {
    block: at('block.json'),
    regions: at('regions.png'),
    shades: at('shades.png'),
    preview: at('preview.png'),
    packet: at('packet.pdf'),
  };
  const named = { bytes: await readInput(file), name: file };
  refuseToOverwrite(Object.values(files), call.force === true);
  const progress = showProgress(call.timings);
  // it loads what it needs while the picture is read
  const beside = startBeside(picture !== undefined);
  try {
    const input = call.regions
      ? {
          regions: named,
          fabrics: { bytes: await readInput(call.fabrics!, 'list of fabrics', LARGEST_TEXT), name: call.fabrics! },
        }
      : { picture: named };
    const own = call.regions ? settings : { ...settings, ...(await clothsOf(call)) };
    const note = (text: string): void => {
      if (!call.json) progress.say(`Mind: ${text}`);
    };
    const made = await makeBlockOf(input, own, { progress, note, beside });
    progress.stage('writing the files');
    await writeOutputs(
      new Map(Object.entries(files).map(([k, path]) => [path, made.files[k as keyof typeof files]])),
      call.force === true,
    );
    progress.finish();
    if (call.json) reportJson(made, files, progress.timings);
    else report(made, files, settings, chosen ? call : undefined);
  } finally {
    await beside?.close();
    progress.finish();
  }
}

const piecesIn = ({ block }: Pick<BlockOutput, 'block'>): number =>
  block.sections.reduce((n, s) => n + s.pieces.length, 0);

function reportJson(made: BlockOutput, files: Readonly<Record<string, string>>, timings: unknown): void {
  const { block, kind, picture, shaded } = made;
  printOut(
    `${JSON.stringify({
      files,
      pieces: piecesIn(made),
      sections: block.sections.length,
      misplaced: made.misplaced,
      quality: made.quality,
      ...(kind && { kind }),
      ...(picture && { crop: picture.source.crop }),
      ...(made.figure && { figure: figureOf(made.figure) }),
      ...('choices' in shaded && { choices: shaded.choices }),
      fabrics: block.fabrics,
      sheets: made.sheets,
      filled: Math.round(made.templates.fill * 1000) / 1000,
      warnings: made.warnings,
      timings,
    })}\n`,
  );
}

/** Rounded to a thousandth of the picture: nobody points nearer. */
const share = (v: number): number => Math.round(v * 1000) / 1000;

/** What was found of the animal, in words of the options that set it. */
function figureOf({ eyes, nose, guess, show, why }: Figure): unknown {
  const spot = ({ x, y, w, h, sure }: FacePart): FacePart => ({
    ...{ x: share(x), y: share(y), w: share(w), h: share(h), sure: share(sure) },
  });
  const face = (f: Pick<Figure, 'eyes' | 'nose'>): unknown => ({
    eyes: f.eyes.map(spot),
    ...(f.nose && { nose: spot(f.nose) }),
  });
  return { show, why, ...(face({ eyes, ...(nose && { nose }) }) as object), ...(guess && { guess: face(guess) }) };
}

/** How to confirm the best guess where the eyes were not surely found. */
function confirmation({ guess }: Figure): string {
  if (!guess) return '';
  const words = [
    ...guess.eyes.map((e) => `--eyes ${share(e.x)},${share(e.y)}`),
    ...(guess.nose ? [`--nose ${share(guess.nose.x)},${share(guess.nose.y)}`] : []),
  ];
  return `If the face is where it is thought to be, make it again with ${words.join(' ')}; else with the places that are right.\n`;
}

function report(
  made: BlockOutput,
  files: Readonly<Record<'packet' | 'preview', string>>,
  { name }: Settings,
  chosen: BlockCall | undefined,
): void {
  for (const w of made.warnings) if (!made.early.includes(w)) tell(`Mind: ${w}\n`);
  const { block, misplaced } = made;
  printOut(
    `${name}: ${piecesIn(made)} pieces in ${block.sections.length} sections, ${block.fabrics.length} fabrics, ` +
      `${made.sheets} template sheets; ${Math.round(misplaced * 1000) / 10} % of the block differs from the posterised picture.\n` +
      (made.figure ? confirmation(made.figure) : '') +
      `Print ${files.packet} at 100 %; the finished block is in ${files.preview}.\n` +
      (chosen
        ? `\`block\` makes it again with --shades ${chosen.shades} --pieces ${chosen.pieces}${chosen.grow ? ` --grow ${chosen.grow}` : ''}${chosen.fabrics ? ` --fabrics ${chosen.fabrics}` : ''}${chosen.again ? ' --again' : ''}.\n`
        : ''),
  );
}
