#!/usr/bin/env node
// The command line: a thin shell over pipeline.ts. Exit 0 done, 1 the job failed, 2 the call was wrong.
import { Command, CommanderError } from 'commander';
import { blockJsonSchema } from '../block.ts';
import { UserError } from '../errors.ts';
import { addBlockCommand } from './block-command.ts';
import { addChangeCommand } from './change-command.ts';
import { addCheckCommand } from './check-command.ts';
import { addCompareCommand } from './compare-command.ts';
import { addPageCommand } from './page-command.ts';
import { addTimings } from './progress.ts';
import { addSeriesCommand } from './series-command.ts';
import { addSheetsCommand } from './sheets-command.ts';
import { addYardageCommand } from './yardage-command.ts';

const program = new Command('seamwright')
  .description('From a picture to a foundation-paper-pieced quilt block that can be sewn.')
  .exitOverride()
  .configureOutput({ outputError: () => {} });
addBlockCommand(program);
addCheckCommand(program);
addChangeCommand(program);
addSheetsCommand(program);
addYardageCommand(program);
addCompareCommand(program);
addSeriesCommand(program);
addPageCommand(program);
program
  .command('schema')
  .description('print the JSON Schema of block files')
  .action(() => void process.stdout.write(`${JSON.stringify(blockJsonSchema(), null, 2)}\n`));
addTimings(program);
for (const command of program.commands) command.exitOverride().configureOutput({ outputError: () => {} });

try {
  await program.parseAsync();
} catch (e) {
  if (e instanceof CommanderError) {
    if (e.exitCode !== 0 && e.code !== 'commander.help')
      say(`${e.message.replace(/^error: /, '')} (seamwright --help lists what there is)`);
    process.exitCode = e.exitCode === 0 ? 0 : 2;
  } else if (e instanceof UserError) {
    say(e.message);
    process.exitCode = e.exitCode;
  } else {
    say(`This is a fault of the program, not yours: ${(e as Error).message}`);
    if (process.env.SEAMWRIGHT_TRACE) process.stderr.write(`${(e as Error).stack}\n`);
    process.exitCode = 1;
  }
}

function say(message: string): void {
  process.stderr.write(`seamwright: ${message}\n`);
}
