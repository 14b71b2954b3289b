// A series over a queue with what can go wrong on the way: workers that are killed, a server that is stopped and started again, a
// coordinator that is killed and goes on. When each happens is counted in pictures done, so a busy machine changes nothing.
import { type ChildProcess, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { TestServer } from './redis.ts';

const program = join(import.meta.dirname, '..', '..', 'dist', 'seamwright.js');

/** What happens after so many steps, and how many ms later: a moment in the middle of something. */
export interface Mishap {
  readonly after: number;
  readonly wait: number;
  readonly what: 'kill a worker' | 'stop the server' | 'kill the coordinator';
}

export interface CrashOptions {
  /** where the words of the calls are looked for */
  readonly folder: string;
  readonly server: TestServer;
  /** of `seamwright series`, without the queue's */
  readonly words: readonly string[];
  readonly workers: number;
  readonly mishaps: readonly Mishap[];
  /** a picture that takes down every worker that begins with it */
  readonly deadly?: string;
  /** hears what happens */
  readonly say?: (line: string) => void;
}

export interface CrashResult {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
  readonly happened: Readonly<Record<Mishap['what'], number>>;
  /** pictures that were worked on by a worker until it was done, over all its threads */
  readonly jobsDone: number;
  /** workers that the deadly picture took down */
  readonly deaths: number;
}

/** Seconds a worker may be silent. */
const LOST_AFTER = '3';

export async function crash({
  folder,
  server,
  words,
  workers,
  mishaps,
  deadly,
  say = () => {},
}: CrashOptions): Promise<CrashResult> {
  const crew: ChildProcess[] = [];
  const happened = { 'kill a worker': 0, 'stop the server': 0, 'kill the coordinator': 0 };
  let [jobsDone, deaths] = [0, 0];
  const hire = (): void => {
    const call = ['worker', '--queue', server.url, '--workers', '1', '--lost-after', LOST_AFTER, '--log', 'json'];
    const child = spawn(process.execPath, [program, ...call], { cwd: folder, stdio: ['ignore', 'ignore', 'pipe'] });
    createInterface({ input: child.stderr! }).on('line', (line) => {
      if (line.includes('"job-done"')) jobsDone++;
      if (deadly && line.includes('"job-taken"') && line.includes(`"${deadly}"`)) {
        child.kill('SIGKILL');
        deaths++;
        crew.splice(crew.indexOf(child), 1);
        hire();
      }
      if (!line.startsWith('{')) say(`worker: ${line}`);
    });
    crew.push(child);
  };
  for (let i = 0; i < workers; i++) hire();
  const left = [...mishaps].sort((a, b) => a.after - b.after);
  let [steps, next] = [0, 0];
  let last: Pick<CrashResult, 'code' | 'out' | 'err'>;
  try {
    do {
      const call = ['series', ...words, '--resume', '--queue', server.url];
      const child = spawn(process.execPath, [program, ...call], { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'] });
      const said = { out: '', err: '' };
      let pending: Promise<void> = Promise.resolve();
      child.stdout!.on('data', (chunk) => (said.out += chunk));
      let counting = false;
      createInterface({ input: child.stderr! }).on('line', (line) => {
        said.err += `${line}\n`;
        if (/^(choosing|making)/.test(line)) counting = true;
        if (!counting || !/^\d+ of \d+: /.test(line)) return;
        steps++;
        while (left[next] && left[next]!.after <= steps) {
          const { what, wait } = left[next++]!;
          pending = pending.then(async () => {
            await new Promise((r) => setTimeout(r, wait));
            if (child.exitCode !== null || child.signalCode !== null) return;
            say(`${what} after ${steps} steps`);
            happened[what]++;
            if (what === 'kill the coordinator') child.kill('SIGKILL');
            else if (what === 'kill a worker') {
              crew.shift()!.kill('SIGKILL');
              hire();
            } else {
              await server.stop();
              await server.start();
            }
          });
        }
      });
      const [code, signal] = await new Promise<[number | null, NodeJS.Signals | null]>((done) =>
        child.once('close', (c, s) => done([c, s])),
      );
      await pending;
      last = { code: signal ? null : code, ...said };
    } while (last.code === null);
    return { ...last, happened, jobsDone, deaths };
  } finally {
    const gone = crew.map(
      (c) => new Promise((done) => (c.exitCode === null && c.signalCode === null ? c.once('exit', done) : done(0))),
    );
    for (const c of crew) c.kill('SIGTERM');
    await Promise.all(gone);
  }
}

/** Every file below a folder with its contents' hash. */
export async function contents(path: string): Promise<Record<string, string>> {
  const all = await readdir(path, { recursive: true, withFileTypes: true });
  const files = all.filter((f) => f.isFile()).map((f) => join(f.parentPath, f.name));
  const hash = async (f: string): Promise<string> =>
    createHash('sha256')
      .update(await readFile(f))
      .digest('hex');
  return Object.fromEntries(
    await Promise.all(files.sort().map(async (f) => [f.slice(path.length), await hash(f)] as const)),
  );
}
