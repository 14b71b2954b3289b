// One call of the command line: its words -> what it does, and the code it ends with: 0 done, 1 the job failed, 2 the call was
// wrong. Says on stderr what went wrong.
import { Command, CommanderError } from 'commander';
import { isSystemError, whySystem } from '../problems/errno.ts';
import { UserError, wordProblem } from '../problems/problem.ts';
import { addTimings } from './progress.ts';
import { tell } from './terminal.ts';
import { VERSION } from './version.ts';
import { COMMAND_LINE } from './voice.ts';

/** Each command is loaded when it is called: none waits for what only another needs. In the order of --help. */
const COMMANDS: Readonly<Record<string, () => Promise<(program: Command) => void>>> = {
  block: async () => (await import('./block-command.ts')).addBlockCommand,
  check: async () => (await import('./check-command.ts')).addCheckCommand,
  change: async () => (await import('./change-command.ts')).addChangeCommand,
  sheets: async () => (await import('./sheets-command.ts')).addSheetsCommand,
  yardage: async () => (await import('./yardage-command.ts')).addYardageCommand,
  compare: async () => (await import('./compare-command.ts')).addCompareCommand,
  series: async () => (await import('./series-command.ts')).addSeriesCommand,
  worker: async () => (await import('./worker-command.ts')).addWorkerCommand,
  queue: async () => (await import('./queue-command.ts')).addQueueCommand,
  page: async () => (await import('./page-command.ts')).addPageCommand,
  verify: async () => (await import('./verify-command.ts')).addVerifyCommand,
  schema: async () => (await import('./schema-command.ts')).addSchemaCommand,
};

/** The words after the program's name. Where it gives undefined, the command has set the code itself. */
export async function callCommand(words: readonly string[]): Promise<number | undefined> {
  const program = new Command('seamwright')
    .description('From a picture to a foundation-paper-pieced quilt block that can be sewn.')
    .version(VERSION, '--version', 'print the version')
    .exitOverride()
    .configureOutput({ outputError: () => {} });
  const called = words[0] ?? '';
  const known = Object.hasOwn(COMMANDS, called)
    ? [COMMANDS[called]!]
    : called === '--version'
      ? []
      : Object.values(COMMANDS);
  for (const add of await Promise.all(known.map((load) => load()))) add(program);
  addTimings(program);
  for (const command of program.commands) command.exitOverride().configureOutput({ outputError: () => {} });
  try {
    await program.parseAsync(words, { from: 'user' });
    return undefined;
  } catch (e) {
    if (e instanceof CommanderError) {
      if (e.exitCode !== 0 && e.code !== 'commander.help')
        complain(`${e.message.replace(/^error: /, '')} (seamwright --help lists what there is)`);
      return e.exitCode === 0 ? 0 : 2;
    }
    if (e instanceof UserError) {
      complain(wordProblem(e, COMMAND_LINE));
      return e.exitCode;
    }
    if (isSystemError(e)) {
      complain(
        wordProblem(new UserError('system-refused', { path: e.path ?? 'The system', why: whySystem(e) }), COMMAND_LINE),
      );
      return 1;
    }
    complain(`This is a fault of the program, not yours: ${(e as Error).message}`);
    if (process.env.SEAMWRIGHT_TRACE) tell(`${(e as Error).stack}\n`);
    return 1;
  }
}

const complain = (message: string): void => tell(`seamwright: ${message}\n`);
