// `seamwright sheets BLOCK`: a block file printed again: other paper, another size, some sections, other formats.
import { type Command, Option } from 'commander';
import { addSettings } from './options.ts';

export const FORMATS = ['pdf', 'svg', 'dxf', 'png'] as const;

export interface SheetsCall {
  out?: string;
  name?: string;
  size?: string;
  turn?: boolean;
  sections?: string;
  copies: string;
  unmirrored?: boolean;
  packet?: boolean | 'full' | 'short';
  paper?: string;
  margin: string;
  allowance?: string;
  fill?: 'hatch' | 'tint' | 'colour' | 'none';
  units?: 'inch' | 'metric';
  format: (typeof FORMATS)[number];
  each: 'sheet' | 'section';
  dpi: string;
  designer?: string;
  json?: boolean;
  timings?: boolean;
  force?: boolean;
}

export function addSheetsCommand(program: Command): void {
  const command = program
    .command('sheets')
    .description('print a block again: other paper, another size, only some sections, other formats')
    .argument('<block>', 'a file that ends in .block.json');
  addSettings(command, ['name', 'size', 'turn', 'paper', 'units', 'fill', 'designer'], {
    name: "another name (default: the block's, with its new size)",
    size: 'another finished size: 16in, 40cm; checked again, with a packet and a block file of its own',
    turn: 'the whole block turned left to right, with a packet and a block file of its own',
    paper: 'letter, a4, legal, a3, tabloid, both, a size (13x19in) or a roll ("roll 36in")',
  })
    .option('--sections <letters>', 'only these sections: B,D')
    .option('--copies <number>', 'every template sheet this often', '1')
    .option('--unmirrored', 'as seen from the front: reference, not for sewing')
    .addOption(
      new Option('--packet [full|short]', 'the whole packet, not the template sheets alone').choices(['full', 'short']),
    )
    .option('--margin <width>', 'paper left free all round', '3/8in')
    .option('--allowance <width>', 'around every section (default: as the block was made, else 1/4in)')
    .addOption(new Option('--format <format>', 'kind of file').choices(FORMATS).default('pdf'))
    .addOption(
      new Option('--each <what>', 'svg, dxf, png: a file for each sheet or each section')
        .choices(['sheet', 'section'])
        .default('sheet'),
    )
    .option('--dpi <number>', 'dots an inch of png', '150')
    .option('--out <folder>', "where the files go (default: the block file's folder)")
    .option('--json', 'print the result as JSON')
    .option('--force', 'replace files that are there already')
    .action(async (file: string, call: SheetsCall) => (await import('./print-sheets.ts')).runSheets(file, call));
}
