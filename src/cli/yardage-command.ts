// `seamwright yardage BLOCK...`: from block files alone, what to cut and what to buy, for one block, a class or a quilt.
import { basename } from 'node:path';
import { type Command, Option } from 'commander';
import { type Block, readBlock } from '../block.ts';
import type { Yardage } from '../data.ts';
import { patchesCsv, shoppingCsv, stripsCsv } from '../fabric/csv.ts';
import { planYardage } from '../fabric/plan-yardage.ts';
import { type OutputPath, outputPath, readStdin, readText, refuseToOverwrite, writeOutputs } from '../files.ts';
import { localSettings, systemOf } from '../locale.ts';
import { UserError } from '../problems/problem.ts';
import { completeSettings } from '../settings/settings.ts';
import { settingsOfWords } from '../settings/words.ts';
import type { System } from '../units.ts';
import { addSettings, checkName } from './options.ts';
import { printOut, tell } from './terminal.ts';
import { optionsOf, TABLES, type Table, type YardageCall } from './yardage-options.ts';
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
  const name =
    given.out === undefined
      ? ''
      : checkName(given.name ?? (blocks.length === 1 ? blocks[0]!.name : given.quilt ? 'quilt' : 'blocks'));
  const at = (ending: string): OutputPath => outputPath(given.out ?? '.', `${name || 'blocks'}.${ending}`);
  const tables = { patches: at('patches.csv'), strips: at('strips.csv'), shopping: at('shopping.csv') };
  const files = { plan: at('yardage.pdf'), ...tables };
  if (given.out !== undefined) refuseToOverwrite(Object.values(files), given.force === true);

  const plan = planYardage(blocks, options);
  if (given.out !== undefined) {
    // Fonts and PDF are read only where pages are asked for.
    const { writeYardage } = await import('../packet/yardage.ts');
    const pdf = await writeYardage(plan, {
      title: name,
      system,
      paper: completeSettings({ ...localSettings(), ...settingsOfWords({ paper: given.paper }) }).paper,
      ...(given.designer && { designer: given.designer }),
    });
    const text = (table: Table): Uint8Array => new TextEncoder().encode(csvOf(table, plan, system));
    await writeOutputs(
      new Map([[files.plan, pdf], ...TABLES.map((t): [OutputPath, Uint8Array] => [tables[t], text(t)])]),
      given.force === true,
    );
  }
  const written = given.out === undefined ? undefined : files;
  for (const note of plan.shopping.notes ?? []) tell(`Mind: ${note}\n`);
  if (given.json) printOut(`${JSON.stringify(yardageJson(plan, written))}\n`);
  else if (given.csv) printOut(csvOf(given.csv, plan, system));
  else printOut(yardageText(plan, system, written));
}

const csvOf = (table: Table, { shopping, quilt }: Yardage, system: System): string =>
  table === 'patches'
    ? patchesCsv(shopping, system)
    : table === 'strips'
      ? stripsCsv(shopping, system)
      : shoppingCsv(shopping, system, quilt);

async function readBlockFile(path: string): Promise<Block> {
  if (path !== '-') return readBlock(await readText(path, 'block file'), basename(path));
  return readBlock(await readStdin('block file'), 'standard input');
}
