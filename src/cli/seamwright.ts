#!/usr/bin/env node
// The command line: a thin shell over pipeline.ts. Exit 0 done, 1 the job failed, 2 the call was wrong.
import { Command, CommanderError } from 'commander';
import { UserError } from '../errors.ts';
import { addTimings } from './progress.ts';

/** Each command is loaded when it is called: none waits for what only another needs. In the order of --help. */
const COMMANDS: Readonly<Record<string, () => Promise<(program: Command) => void>>> = {
  block: async () => (await import('./block-command.ts')).addBlockCommand,
  check: async () => (await import('./check-command.ts')).addCheckCommand,
  change: async () => (await import('./change-command.ts')).addChangeCommand,
  sheets: async () => (await import('./sheets-command.ts')).addSheetsCommand,
  yardage: async () => (await import('./yardage-command.ts')).addYardageCommand,
  compare: async () => (await import('./compare-command.ts')).addCompareCommand,
  series: async () => (await import('./series-command.ts')).addSeriesCommand,
  page: async () => (await import('./page-command.ts')).addPageCommand,
  schema: async () => (await import('./schema-command.ts')).addSchemaCommand,
};

const program = new Command('seamwright')
  .description('From a picture to a foundation-paper-pieced quilt block that can be sewn.')
  .exitOverride()
  .configureOutput({ outputError: () => {} });
const called = process.argv[2] ?? '';
const known = Object.hasOwn(COMMANDS, called) ? [COMMANDS[called]!] : Object.values(COMMANDS);
for (const add of await Promise.all(known.map((load) => load()))) add(program);
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
