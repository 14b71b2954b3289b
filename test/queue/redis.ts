// A real server for the tests, started on a free port with a folder of its own. Where the machine has none, the tests that need one are
// skipped and say so.
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

/** the first that is on the path */
const PROGRAM = ['redis-server', 'valkey-server'].find(
  (name) => spawnSync(name, ['--version'], { stdio: 'ignore' }).status === 0,
);

export const hasServer = PROGRAM !== undefined;
/** Ends the names of tests that need a server. */
export const NEEDS_SERVER = hasServer
  ? ''
  : ' (SKIPPED: there is no redis-server or valkey-server on the path; Debian: apt-get install redis-server)';

export interface TestServer {
  readonly port: number;
  readonly url: string;
  /** as `systemctl stop` does */
  stop(): Promise<void>;
  /** without a chance to write anything */
  kill(): Promise<void>;
  start(): Promise<void>;
  /** ends it and deletes its folder */
  remove(): Promise<void>;
}

export const freePort = (): Promise<number> =>
  new Promise((found, fail) => {
    const server = createServer();
    server.once('error', fail);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => found(port));
    });
  });

export async function startServer(...options: readonly string[]): Promise<TestServer> {
  const folder = mkdtempSync(join(tmpdir(), 'seamwright-redis-'));
  const port = await freePort();
  let child: ChildProcess | undefined;
  const end = async (signal: NodeJS.Signals): Promise<void> => {
    const running = child;
    child = undefined;
    if (!running || running.exitCode !== null || running.signalCode !== null) return;
    const gone = new Promise((done) => running.once('exit', done));
    running.kill(signal);
    await gone;
  };
  const start = async (): Promise<void> => {
    const own = ['--port', String(port), '--bind', '127.0.0.1', '--dir', folder, '--save', '', ...options];
    const started = spawn(PROGRAM!, own, { stdio: ['ignore', 'pipe', 'inherit'] });
    child = started;
    await new Promise<void>((ready, fail) => {
      createInterface({ input: started.stdout! }).on('line', (line) => {
        if (line.includes('Ready to accept connections')) ready();
      });
      started.once('exit', () => fail(new Error('the server did not start')));
    });
  };
  await start();
  return {
    ...{ port, url: `redis://127.0.0.1:${port}`, start },
    stop: () => end('SIGTERM'),
    kill: () => end('SIGKILL'),
    async remove() {
      await end('SIGKILL');
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Survives being stopped and started again. */
export const WITH_FILE = ['--appendonly', 'yes'] as const;
