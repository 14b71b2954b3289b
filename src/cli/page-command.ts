// `seamwright page`: a page on this machine alone for everything the other commands do, with the works kept in a folder.
import { spawn } from 'node:child_process';
import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Command } from 'commander';
import { defaultWorkers, wholeNumber } from './options.ts';
import { printOut, tell } from './terminal.ts';

interface Given {
  port?: string;
  open: boolean;
  folder?: string;
  workers?: string;
  room?: string;
}

export function addPageCommand(program: Command): void {
  program
    .command('page')
    .description('a page in your browser, on this machine alone: pictures, blocks, changes, templates')
    .option('--port <number>', 'where it listens, 0 for any free port (default: as the last time, else any)')
    .option('--no-open', 'only print its address')
    .option('--folder <folder>', 'where the works are kept (default: a folder of your own for this program)')
    .option('--workers <number>', 'pictures worked on at once (default: as many as the machine has cores, 4 at most)')
    .option('--room <gigabytes>', 'most that all works together may take of the disk', '20')
    .action(run);
}

async function run(given: Given): Promise<void> {
  const port = given.port === undefined ? undefined : wholeNumber(given.port, '--port', 0, 65535);
  const workers = given.workers ? wholeNumber(given.workers, '--workers', 1, 32) : defaultWorkers();
  const folder = given.folder ? resolve(given.folder) : worksFolder();
  const { servePage } = await import('../page/server/serve.ts');
  const page = await servePage({
    folder,
    workers,
    room: wholeNumber(given.room ?? '20', 'room', 1, 100_000) * 1e9,
    ...(port !== undefined && { port }),
  });
  printOut(`${page.address}\n`);
  tell(`The works are kept in ${folder}. Stop the page with Ctrl-C.\n`);
  if (given.open) openBrowser(page.once());
  await new Promise<void>((stop) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => stop());
  });
  tell('The page is being closed …\n');
  await page.close();
}

/** Where programs keep what is the user's, by the custom of each system. */
function worksFolder(): string {
  const home = homedir();
  const { XDG_DATA_HOME, LOCALAPPDATA } = process.env;
  if (process.platform === 'win32') return join(LOCALAPPDATA || join(home, 'AppData', 'Local'), 'seamwright');
  if (process.platform === 'darwin') return join(home, 'Library', 'Application Support', 'seamwright');
  return join(XDG_DATA_HOME || join(home, '.local', 'share'), 'seamwright');
}

/** Where there is no browser the address is there to be copied. */
function openBrowser(address: string): void {
  const [command, ...args] =
    process.platform === 'win32'
      ? ['cmd', '/c', 'start', '""', address]
      : process.platform === 'darwin'
        ? ['open', address]
        : ['xdg-open', address];
  const child = spawn(command!, args, { stdio: 'ignore', detached: true });
  child.on('error', () => {});
  child.unref();
}
