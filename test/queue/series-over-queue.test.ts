// `seamwright series --queue` and `seamwright worker`, the built program with a real server: the same bytes as without a queue, however
// many work on it and whatever goes wrong. `npm run hardening:queue` does the same at length.
import { spawn } from 'node:child_process';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { root, runProgram, type Said } from '../cli/run-program.ts';
import { WAIT_PATIENCE_MS } from '../patience.ts';
import { contents, crash } from './crash.ts';
import { drawPicture, QUICK } from './pictures.ts';
import { freePort, hasServer, NEEDS_SERVER, startServer, type TestServer, WITH_FILE } from './redis.ts';

const PICTURES = 6;
const words = (out: string): string[] => ['friends', '--settings', 'series.yaml', '--out', out, '--json'];

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'seamwright-queue-'));
  await mkdir(join(folder, 'friends'));
  for (let i = 1; i <= PICTURES; i++) await writeFile(join(folder, 'friends', `cat ${i}.svg`), drawPicture(i));
  await writeFile(join(folder, 'friends', 'broken.jpg'), 'no picture');
  await writeFile(join(folder, 'series.yaml'), QUICK);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

test('where no queue answers, one sentence says so', async () => {
  const port = await freePort();
  const none = `redis://:secret@127.0.0.1:${port}`;
  for (const call of [
    ['series', ...words('none'), '--queue', none],
    ['worker', '--queue', none],
    ['queue', 'status', '--queue', none],
  ]) {
    const { code, err } = await runProgram(call, folder);
    expect(code).toBe(1);
    expect(err).toBe(
      `seamwright: There is no queue at redis://127.0.0.1:${port}: nothing answers there. Start Redis or Valkey there, or check the address.\n`,
    );
  }
});

describe.skipIf(!hasServer)(`a series over a queue${NEEDS_SERVER}`, () => {
  let server: TestServer;
  let plain: Record<string, string>;
  beforeAll(async () => {
    server = await startServer(...WITH_FILE);
    const said = await runProgram(['series', ...words('plain')], folder);
    expect(said.code, said.err).toBe(1);
    plain = await contents(join(folder, 'plain'));
    expect(Object.keys(plain).filter((f) => f.endsWith('.packet.pdf'))).toHaveLength(PICTURES);
  });
  afterAll(() => server?.remove());

  const failedFiles = ({ out }: Pick<Said, 'out'>): string[] =>
    JSON.parse(out).failed.map((f: { file: string }) => f.file);

  test('two workers, each killed once, a server and a coordinator that end in the middle: the same bytes', async () => {
    const said = await crash({
      ...{ folder, server, words: words('queued'), workers: 2 },
      mishaps: [
        { after: 2, wait: 40, what: 'kill a worker' },
        { after: 4, wait: 0, what: 'stop the server' },
        { after: PICTURES + 2, wait: 20, what: 'kill the coordinator' },
        { after: PICTURES + 4, wait: 60, what: 'kill a worker' },
      ],
    });
    expect(said.code, said.err).toBe(1);
    expect(said.happened).toEqual({ 'kill a worker': 2, 'stop the server': 1, 'kill the coordinator': 1 });
    expect(failedFiles(said)).toEqual(['broken.jpg']);
    expect(await contents(join(folder, 'queued'))).toEqual(plain);
  });

  test('Ctrl-C ends both sides at once; what was sent is gone; the series goes on with --resume', async () => {
    const start = (...call: string[]) =>
      spawn(process.execPath, [join(root, 'dist', 'seamwright.js'), ...call, '--queue', server.url], { cwd: folder });
    const worker = start('worker', '--workers', '1', '--log', 'json');
    const series = start('series', ...words('cut'));
    const ended = (child: typeof worker): Promise<number | null> => new Promise((done) => child.once('exit', done));
    const both = [ended(series), ended(worker)];
    const events: string[] = [];
    createInterface({ input: worker.stderr }).on('line', (line) => {
      const { event, time } = JSON.parse(line) as { event: string; time: string };
      // RFC 3339
      expect(time).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d+Z$/);
      events.push(event);
      // once: a second one would end it at once
      if (event === 'job-done' && events.filter((e) => e === 'job-done').length === 2) series.kill('SIGINT');
    });
    let err = '';
    series.stderr.on('data', (chunk) => (err += chunk));
    expect(await both[0]).toBe(130);
    expect(err).toContain('Stopped. What is done is in cut; --resume goes on from there.');
    const status = await runProgram(['queue', 'status', '--queue', server.url, '--json'], folder);
    const { series: none, workers, jobs } = JSON.parse(status.out);
    expect(none).toEqual([]);
    expect(workers.map((w: { pid: number }) => w.pid)).toContain(worker.pid);
    expect(jobs.waiting).toBe(0);
    worker.kill('SIGINT');
    expect(await both[1]).toBe(0);
    expect(events.at(-1)).toBe('worker-stopped');
    const said = await crash({ folder, server, words: words('cut'), workers: 1, mishaps: [] });
    expect(said.code, said.err).toBe(1);
    expect(await contents(join(folder, 'cut'))).toEqual(plain);
  });

  test('Ctrl-C ends both sides where the server is gone', async () => {
    const start = (...call: string[]) => {
      const words = [...call, '--log', 'json', '--queue', server.url];
      const child = spawn(process.execPath, [join(root, 'dist', 'seamwright.js'), ...words], { cwd: folder });
      const ended = new Promise<number | null>((done) => child.once('exit', done));
      let err = '';
      child.stderr.on('data', (chunk) => (err += chunk));
      return { child, ended, said: () => err };
    };
    const worker = start('worker', '--workers', '1');
    const series = start('series', ...words('lost'));
    await expect.poll(worker.said, { timeout: WAIT_PATIENCE_MS }).toContain('"job-taken"');
    await server.stop();
    for (const side of [worker, series])
      await expect.poll(side.said, { timeout: WAIT_PATIENCE_MS }).toContain('"queue-lost"');
    for (const { child } of [worker, series]) child.kill('SIGINT');
    expect(await Promise.all([worker.ended, series.ended])).toEqual([0, 130]);
    await server.start();
  });
});
