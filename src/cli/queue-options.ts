// What the commands have in common that use a queue.
import { type Command, Option } from 'commander';
import { UserError } from '../problems/problem.ts';
import { type QueueAddress, readAddress } from '../queue/address.ts';
import { type Log, logLines, logWords } from '../queue/log.ts';
import { tell } from './terminal.ts';

export interface QueueCall {
  /** true: as the environment says */
  queue?: string | true;
  metrics?: string;
  log?: 'words' | 'json';
}

/** Where the address is that nobody should read over a shoulder: it may hold a password. */
const VARIABLE = 'SEAMWRIGHT_QUEUE';

export const queueOption = (help: string): Option =>
  new Option('--queue [address]', `${help}; without an address, the one in ${VARIABLE}`);

export const addWatching = (command: Command): Command =>
  command
    .option('--metrics <port>', 'serve figures for monitoring at http://127.0.0.1:PORT/metrics, or HOST:PORT')
    .addOption(
      new Option('--log <kind>', 'what is said as it goes on: in words, or as lines of JSON').choices([
        'words',
        'json',
      ]),
    );

/** Throws UserError where none is named. */
export function addressOf({ queue }: QueueCall): QueueAddress {
  const text = typeof queue === 'string' ? queue : process.env[VARIABLE];
  if (!text) throw new UserError('name-a-queue', { field: 'queue', variable: VARIABLE }, 2);
  return readAddress(text);
}

export const logOf = ({ log }: QueueCall): Log => {
  const line = (text: string): void => tell(`${text}\n`);
  return log === 'json' ? logLines(line) : logWords(line);
};
