// `seamwright block PICTURE`: a picture becomes a block file, a preview and a packet.
import { basename, extname, join } from 'node:path';
import { type Command, Option } from 'commander';
import { startBeside } from '../beside.ts';
import type { Fill } from '../drawing/fill.ts';
import { UserError } from '../errors.ts';
import { LEVEL_DEFAULTS, LEVELS, type Level, REFUSED_WIDTH, WARNED_WIDTH } from '../levels.ts';
import type { BlockSettings } from '../pipeline.ts';
import { inches, type Mm, mm, parseLength, parseSize } from '../units.ts';
import { readInput, refuseToOverwrite, writeOutputs } from './files.ts';
import { fillOption, nameOf, paperOf, paperOption, systemOf, unitsOption, wholeNumber } from './options.ts';
import { clothsOf } from './own-fabrics.ts';
import { addPictureOptions, type PictureGiven, pictureSettings } from './picture-options.ts';
import { showProgress } from './progress.ts';

/** The options of a block as they stand on the command line. */
export interface BlockGiven extends PictureGiven {
  out: string;
  name?: string;
  size?: string;
  pieces?: string;
  grow?: string;
  most?: string;
  smallest?: string;
  level: Level;
  paper?: string;
  fill: Fill;
  units?: 'inch' | 'metric';
  turn?: boolean;
  seed: string;
  effort: 'quick' | 'full' | 'long';
  designer?: string;
  regions?: string;
  json?: boolean;
  timings?: boolean;
  force?: boolean;
}

export function addBlockCommand(program: Command): void {
  const command = program
    .command('block')
    .description('make a block, its templates and its packet from a picture')
    .argument('[picture]', 'photo, drawing or flat picture')
    .option('--pieces <number>', 'pieces at most')
    .option('--grow <numbers>', 'grow it through fewer pieces first, as a comparison sheet does: 40,60');
  addBlockOptions(command)
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

/** What every command asks that makes a block of a picture. */
export function addBlockOptions(command: Command): Command {
  command
    .option('--out <folder>', 'where the files go', '.')
    .option('--name <name>', "the block's name (default: the picture's)")
    .option('--size <size>', 'finished size: 12in, 30cm, 10x14in')
    .option('--smallest <width>', 'narrowest finished width of a piece: 1/2in, 12mm')
    .option('--most <number>', 'pieces in a section at most')
    .addOption(new Option('--level <level>', 'who sews it; sets all defaults').choices(LEVELS).default('intermediate'))
    .addOption(paperOption())
    .addOption(fillOption())
    .addOption(unitsOption())
    .option('--turn', 'turn the whole block left to right')
    .option('--seed <number>', 'another number gives another block', '1')
    .addOption(
      new Option('--effort <effort>', 'time spent on the fit').choices(['quick', 'full', 'long']).default('full'),
    )
    .option('--designer <name>', 'printed at the foot of every page');
  return addPictureOptions(command);
}

/** Makes and writes the block, and says so; `chosen` where a comparison sheet gave its shades and pieces. */
export async function runBlock(
  picture: string | undefined,
  given: BlockGiven,
  { chosen }: { readonly chosen?: boolean } = {},
): Promise<void> {
  if (picture && given.regions) throw new UserError('Give either a picture or --regions, not both.', 2);
  if (!picture && !given.regions)
    throw new UserError('Name a picture: seamwright block PICTURE (or --regions with --fabrics).', 2);
  if (given.regions && !given.fabrics)
    throw new UserError('--regions needs --fabrics: the list of fabrics that its values stand for.', 2);
  const file = (picture ?? given.regions)!;
  const settings = settingsOf(given, file);
  const at = (ending: string): string => join(given.out, `${settings.name}.${ending}`);
  const files = {
    block: at('block.json'),
    regions: at('regions.png'),
    preview: at('preview.png'),
    packet: at('packet.pdf'),
  };
  const bytes = await readInput(file);
  refuseToOverwrite(Object.values(files), given.force === true);
  const progress = showProgress(given.timings);
  // it loads what it needs while the picture is read
  const beside = startBeside(picture !== undefined);
  try {
    // loaded only now: other commands, and calls that are refused, do not wait for it
    const [{ makeBlock, shadeFile }, { readRegions }] = await Promise.all([
      import('../pipeline.ts'),
      import('../shade/regions-file.ts'),
    ]);
    const {
      picture: read,
      shading,
      kind,
    } = given.regions
      ? {
          picture: undefined,
          kind: undefined,
          shading: await readRegions(
            bytes,
            new TextDecoder().decode(await readInput(given.fabrics!)),
            { regions: file, fabrics: given.fabrics! },
            settings.focus,
          ),
        }
      : await shadeFile(bytes, file, { ...settings, ...(await clothsOf(given)) }, progress, beside);
    if (!read) checkShape(shading, settings, file);
    // what stands in the way of a good block is said before the time for fitting is spent
    const verdict = [...narrowWarnings(settings), ...(read?.notes ?? []), ...shading.notes];
    if (!given.json) for (const w of verdict) progress.say(`Mind: ${w}`);
    const made = await makeBlock(shading, settings, progress, read, beside);
    progress.stage('writing the files');
    await writeOutputs(new Map(Object.entries(files).map(([k, path]) => [path, made.files[k as keyof typeof files]])));
    progress.finish();
    const pieces = made.block.sections.reduce((n, s) => n + s.pieces.length, 0);
    const warnings = [...narrowWarnings(settings), ...made.warnings];
    if (given.json)
      process.stdout.write(
        `${JSON.stringify({
          files,
          pieces,
          sections: made.block.sections.length,
          misplaced: made.misplaced,
          quality: made.quality,
          ...(kind && { kind }),
          ...(read && { crop: read.source.crop }),
          ...('choices' in shading && { choices: shading.choices }),
          fabrics: made.block.fabrics,
          sheets: made.sheets,
          filled: Math.round(made.templates.fill * 1000) / 1000,
          warnings,
          timings: progress.timings,
        })}\n`,
      );
    else {
      for (const w of warnings) if (!verdict.includes(w)) process.stderr.write(`Mind: ${w}\n`);
      process.stdout.write(
        `${settings.name}: ${pieces} pieces in ${made.block.sections.length} sections, ${made.block.fabrics.length} fabrics, ` +
          `${made.sheets} template sheets; ${Math.round(made.misplaced * 1000) / 10} % of the block differs from the posterised picture.\n` +
          `Print ${files.packet} at 100 %; the finished block is in ${files.preview}.\n` +
          (chosen
            ? `\`block\` makes it again with --shades ${given.shades} --pieces ${given.pieces}${given.grow ? ` --grow ${given.grow}` : ''}${given.fabrics ? ` --fabrics ${given.fabrics}` : ''}${given.again ? ' --again' : ''}.\n`
            : ''),
      );
    }
  } finally {
    await beside?.close();
    progress.finish();
  }
}

function checkShape(shading: { width: number; height: number }, { size }: BlockSettings, file: string): void {
  const off = shading.width / shading.height / (size[0] / size[1]);
  if (off < 0.98 || off > 1.02)
    throw new UserError(
      `${file} is ${shading.width} x ${shading.height} cells, another shape than the block; give a --size of the same shape.`,
      2,
    );
}

/** Throws UserError for values that make no sense. */
export function settingsOf(given: BlockGiven, file: string): BlockSettings {
  const level = LEVEL_DEFAULTS[given.level];
  const system = systemOf(given.units, given.size);
  const size: readonly [Mm, Mm] = given.size ? parseSize(given.size, '--size') : [level.size, level.size];
  if (Math.min(...size) < inches(3) || Math.max(...size) > inches(60))
    throw new UserError('--size: a block is from 3 to 60 in (8 to 150 cm) on each side.', 2);
  const smallest = given.smallest ? parseLength(given.smallest, '--smallest') : level.smallest;
  if (smallest < REFUSED_WIDTH - 1e-9)
    throw new UserError('--smallest: pieces under 1/4 in (6.4 mm) cannot be sewn; choose 3/8in or more.', 2);
  const pieces = given.pieces ? wholeNumber(given.pieces, '--pieces', 2, 600) : level.pieces;
  const name = nameOf(given.name ?? basename(file, extname(file)).replace(/\.regions$/, ''));
  return {
    name,
    size,
    level: given.level,
    ...pictureSettings(given, level.shades),
    pieces,
    ...(given.grow && { grow: growthOf(given.grow, pieces) }),
    smallest,
    mostPieces: given.most ? wholeNumber(given.most, '--most', 2, 16) : level.mostPieces,
    slack: level.slack,
    turn: given.turn === true,
    seed: wholeNumber(given.seed, '--seed', 0, 2 ** 31 - 1),
    effort: given.effort,
    paper: paperOf(given.paper),
    fill: given.fill,
    margin: mm(9.525),
    allowance: inches(1 / 4),
    system,
    ...(given.designer && { designer: given.designer }),
  };
}

/** "40,60": ascending, each once, fewer than the block is to have. */
function growthOf(text: string, pieces: number): number[] {
  const counts = [...new Set(text.split(',').map((t) => wholeNumber(t.trim(), '--grow', 2, 600)))].sort(
    (a, b) => a - b,
  );
  if (counts.at(-1)! >= pieces)
    throw new UserError(
      `--grow: ${counts.at(-1)} is not fewer than the ${pieces} pieces that the block is to have.`,
      2,
    );
  return counts;
}

export const narrowWarnings = ({ smallest }: BlockSettings): string[] =>
  smallest < WARNED_WIDTH - 1e-9
    ? ['Pieces under 3/8 in (1 cm) are hard to sew: take small stitches and press each seam before the next.']
    : [];
