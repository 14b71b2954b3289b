// `seamwright yardage BLOCK...`: from block files alone, what to cut and what to buy, for one block, a class or a quilt.
import { basename } from 'node:path';
import { type Command, Option } from 'commander';
import { type Block, readBlock } from '../block.ts';
import {
  makeYardage,
  TABLES,
  tableOf,
  YARDAGE_FILES,
  type YardageFile,
  type YardageRequest,
} from '../commands/yardage.ts';
import { type OutputPath, outputPath, readStdin, readText, refuseToOverwrite, writeOutputs } from '../files.ts';
import { localSettings, systemOf } from '../locale.ts';
import { UserError } from '../problems/problem.ts';
import { completeSettings } from '../settings/settings.ts';
import { settingsOfWords } from '../settings/words.ts';
import type { System } from '../units.ts';
import { addSettings, checkName } from './options.ts';
import { showProgress } from './progress.ts';
import { printOut, tell } from './terminal.ts';
import { optionsOf, type YardageCall } from './yardage-options.ts';
import { yardageJson, yardageText } from './yardage-text.ts';

export function addYardageCommand(program: Command): void {
  const command = program
    .command('yardage')
    .description('what to cut and what to buy: for one block, many, a class or a quilt')
    .argument('<block...>', 'block files (.block.json); - reads one from standard input')
    .option('--slack <length>', 'cloth beyond the allowance on each side of a patch (default: by level)')
    .option('--allowance <length>', 'seam allowance of the templates (default: 1/4in)')
    .addOption(
      new Option('--grain <grain>', "patches at the block's edge lie along the edge, or all along their seam")
        .choices(['edge', 'seam'])
        .default('edge'),
    )
    .option('--directional <fabrics>', 'fabrics (code or name, with commas) whose print must stand upright')
    .option('--strips <widths>', 'strip widths to choose from: 2in,2 1/2in,4in')
    .option('--widths <number>', 'different strip widths a fabric, at most (default: 3)')
    .option('--layers <number>', 'layers of cloth cut through at once, for copies (default: 4)')
    .option('--usable <length>', 'usable width of the cloth (default: 40in)')
    .option('--safety <share>', 'cloth bought beyond what is cut, 10% or 0 (default: 10%)')
    .option('--price <number>', 'price a yard (with --units metric: a metre)')
    .option('--copies <number>', 'how often each block is sewn (default: 1)')
    .option('--people <number>', 'kits for so many people')
    .option('--spare <number>', 'spare kits (default: one in ten)')
    .addOption(
      new Option('--kit <kind>', 'patches cut and bagged, or lengths that each person cuts').choices([
        'patches',
        'lengths',
      ]),
    )
    .option('--quilt <rows x columns>', 'a quilt of the blocks: 4x3')
    .option('--on-point', 'the blocks stand on their corners')
    .option('--sashing <width>', 'finished width of strips between the blocks')
    .option('--sashing-around', 'sashing also round the outside')
    .option('--cornerstones', 'squares where sashing crosses')
    .option('--borders <widths>', 'finished widths from the blocks outward: 1in,4in')
    .option('--binding <width>', 'width of binding strips as cut (default: 2 1/2in)')
    .option('--binding-overage <length>', 'binding beyond the way round (default: 10in)')
    .option('--binding-join <length>', 'what each join of binding strips costs (default: their width)')
    .option('--backing-overhang <length>', 'backing and batting beyond the top on each side (default: 4in)')
    .addOption(
      new Option('--backing-seams <way>', "how the backing's seams run")
        .choices(['up', 'across', 'best'])
        .default('best'),
    )
    .option('--backing-seam <length>', 'cloth that each backing seam takes (default: 1/2in)');
  addSettings(command, ['name', 'level', 'paper', 'units', 'designer'], {
    name: "the files' name (default: the block's)",
    level: 'who sews; sets the slack',
  })
    .option('--json', 'print the plan as JSON, lengths in mm')
    .addOption(new Option('--csv <table>', 'print one table as CSV').choices(TABLES))
    .option('--out <folder>', 'write the plan as PDF and its tables as CSV there')
    .option('--force', 'replace files that are there already')
    .action(run);
}

async function run(paths: readonly string[], given: YardageCall): Promise<void> {
  if (given.json && given.csv) throw new UserError('one-output', {}, 2);
  const system = systemOf(given.units);
  const options = optionsOf(given, system);
  const blocks: Block[] = [];
  for (const path of paths) blocks.push(await readBlockFile(path));
  const files = given.out === undefined ? undefined : filesIn(given.out, nameOf(given, blocks));
  if (files) refuseToOverwrite(Object.values(files), given.force === true);

  const progress = showProgress(given.timings);
  try {
    const pages = files && pagesOf(given, nameOf(given, blocks), system);
    const made = await makeYardage({ options, ...(pages && { pages }) }, blocks, { progress });
    const { plan } = made;
    if (files)
      await writeOutputs(
        new Map(Object.entries(files).map(([file, path]) => [path, made.files[file as YardageFile]!])),
        given.force === true,
      );
    progress.finish();
    for (const note of plan.shopping.notes ?? []) tell(`Mind: ${note}\n`);
    if (given.json) printOut(`${JSON.stringify(yardageJson(plan, files))}\n`);
    else if (given.csv) printOut(tableOf(plan, given.csv, system));
    else printOut(yardageText(plan, system, files));
  } finally {
    progress.finish();
  }
}

const nameOf = ({ name, quilt }: YardageCall, blocks: readonly Block[]): string =>
  checkName(name ?? (blocks.length === 1 ? blocks[0]!.name : quilt ? 'quilt' : 'blocks'));

const pagesOf = ({ paper, designer = '' }: YardageCall, name: string, units: System): YardageRequest['pages'] => {
  const settings = completeSettings({ ...localSettings(), ...settingsOfWords({ paper }) });
  return { name, units, paper: settings.paper, designer };
};

const filesIn = (folder: string, name: string): Record<YardageFile, OutputPath> => {
  const at = (file: YardageFile): OutputPath => outputPath(folder, `${name}.${YARDAGE_FILES[file]}`);
  return { plan: at('plan'), patches: at('patches'), strips: at('strips'), shopping: at('shopping') };
};

async function readBlockFile(path: string): Promise<Block> {
  if (path !== '-') return readBlock(await readText(path, 'block file'), basename(path));
  return readBlock(await readStdin('block file'), 'standard input');
}
