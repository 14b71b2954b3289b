// What a series over a queue costs and what it is worth: `npm run bench -- queue`, after npm run build. Needs redis-server.
// --pictures 12 mixed ones   --rounds 2 of all ways in turn   --many 5000 generated pictures through the queue   --only work|many   --seconds 3 of a thread
// for each picture, where none is made
import { type ChildProcess, spawn } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { seededRandom } from '../../src/colour/cluster.ts';
import { readAddress } from '../../src/queue/address.ts';
import { connect, memoryOf } from '../../src/queue/connection.ts';
import { HandOut } from '../../src/queue/hand-out.ts';
import { noLog } from '../../src/queue/log.ts';
import { BLOCK_FILES, type BlockFiles, writeBlockFolder } from '../../src/series/block-folder.ts';
import { startServer, type TestServer } from '../../test/queue/redis.ts';
import type { EchoJobs } from './queue-jobs.ts';
import { mixedPictures } from './series.ts';
import { median } from './settings.ts';
import { type Measured, simulate } from './simulate-queue.ts';

const root = join(import.meta.dirname, '..', '..');
const program = join(root, 'dist', 'seamwright.js');
const MB = 1e6;

interface Taken {
  readonly seconds: number;
  /** of the computer that hands out, of the workers, and of the server, s */
  readonly processor: number;
  readonly handing: number;
  readonly server: number;
  readonly serverStats: Stats;
  /** of a thread for each picture, both rounds, s */
  readonly work: readonly number[];
}

interface Stats {
  readonly commands: number;
  readonly bytesIn: number;
  readonly bytesOut: number;
  readonly processor: number;
}

/** Of a process and its threads, s; Linux counts in hundredths (proc(5), utime and stime). */
function processorOf(pid: number | 'self', ofChildren = false): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'latin1').split(') ')[1]!.split(' ');
  const at = ofChildren ? 13 : 11;
  return (Number(fields[at]) + Number(fields[at + 1])) / 100;
}

async function statsOf(server: TestServer): Promise<Stats> {
  const { redis, close } = await connect(readAddress(server.url));
  const info = await redis.info('all');
  close();
  const number = (name: string): number => Number(new RegExp(`^${name}:([\\d.]+)`, 'm').exec(info)?.[1] ?? 0);
  return {
    commands: number('total_commands_processed'),
    bytesIn: number('total_net_input_bytes'),
    bytesOut: number('total_net_output_bytes'),
    processor: number('used_cpu_sys') + number('used_cpu_user'),
  };
}

const ended = (child: ChildProcess): Promise<void> => new Promise((done) => child.once('exit', () => done()));

async function take(server: TestServer, words: readonly string[], workers: number, threads: number): Promise<Taken> {
  const work = new Map<string, number>();
  const crew = await Promise.all(
    Array.from({ length: workers }, async () => {
      const call = ['worker', '--queue', server.url, '--workers', String(threads), '--log', 'json'];
      const child = spawn(process.execPath, [program, ...call], { stdio: ['ignore', 'ignore', 'pipe'] });
      await new Promise<void>((ready) => {
        createInterface({ input: child.stderr! }).on('line', (line) => {
          const { event, label, seconds } = JSON.parse(line) as { event: string; label: string; seconds: number };
          if (event === 'worker-started') ready();
          if (event === 'job-done') work.set(label, (work.get(label) ?? 0) + seconds);
        });
      });
      return child;
    }),
  );
  const before = { stats: await statsOf(server), children: processorOf('self', true) };
  const begun = performance.now();
  const own = workers ? ['--queue', server.url] : ['--workers', String(threads)];
  const series = spawn(process.execPath, [program, 'series', ...words, ...own], { stdio: 'ignore' });
  await ended(series);
  const seconds = (performance.now() - begun) / 1000;
  const handing = processorOf('self', true) - before.children;
  const ofCrew = crew.reduce((t, c) => t + processorOf(c.pid!), 0);
  const after = await statsOf(server);
  const gone = crew.map(ended);
  for (const c of crew) c.kill('SIGTERM');
  await Promise.all(gone);
  const serverStats: Stats = {
    commands: after.commands - before.stats.commands,
    bytesIn: after.bytesIn - before.stats.bytesIn,
    bytesOut: after.bytesOut - before.stats.bytesOut,
    processor: after.processor - before.stats.processor,
  };
  return {
    ...{ seconds, handing, server: serverStats.processor, serverStats, work: [...work.values()] },
    processor: handing + ofCrew + serverStats.processor,
  };
}

/** Real pictures, every way in turn. */
async function benchWork(server: TestServer, folder: string, pictures: number, rounds: number): Promise<Taken> {
  mkdirSync(join(folder, 'friends'));
  mixedPictures(pictures).forEach((p, i) => {
    copyFileSync(p, join(folder, 'friends', `${i + 1} ${p.split('/').at(-1)}`));
  });
  const ways = {
    'threads, 1': [0, 1],
    'threads, 2': [0, 2],
    'queue, 1 worker of 1': [1, 1],
    'queue, 2 workers of 1': [2, 1],
    'queue, 1 worker of 2': [1, 2],
  } as const;
  type Way = keyof typeof ways;
  const taken = new Map<Way, Taken[]>();
  for (let round = 0; round < rounds; round++)
    for (const way of Object.keys(ways) as Way[]) {
      const out = join(folder, 'out');
      rmSync(out, { recursive: true, force: true });
      const [workers, threads] = ways[way];
      const t = await take(server, [join(folder, 'friends'), '--out', out], workers, threads);
      taken.set(way, [...(taken.get(way) ?? []), t]);
      console.log(
        `${way.padEnd(22)} ${t.seconds.toFixed(1).padStart(7)} s, ${t.processor.toFixed(1).padStart(7)} s of processor time`,
      );
    }
  const ratios = (a: Way, b: Way, of: 'seconds' | 'processor'): number[] =>
    taken.get(a)!.map((t, i) => t[of] / taken.get(b)![i]![of]);
  const show = (list: readonly number[]): string =>
    `${median(list).toFixed(3)} (${list.map((r) => r.toFixed(3)).join(', ')})`;
  console.log(
    `two worker processes do ${show(ratios('queue, 1 worker of 1', 'queue, 2 workers of 1', 'seconds'))} times the pictures of one`,
  );
  console.log(`two threads do          ${show(ratios('threads, 1', 'threads, 2', 'seconds'))} times those of one`);
  for (const [over, beside] of [
    ['queue, 1 worker of 1', 'threads, 1'],
    ['queue, 1 worker of 2', 'threads, 2'],
  ] as const)
    console.log(
      `${over} beside ${beside}: ${show(ratios(over, beside, 'seconds'))} of the time, ${show(ratios(over, beside, 'processor'))} of the processor time`,
    );
  const one = taken.get('queue, 1 worker of 1')!.at(-1)!;
  const { commands, bytesIn, bytesOut } = one.serverStats;
  console.log(
    `a picture: ${(commands / pictures).toFixed(0)} commands, ${(bytesIn / pictures / 1e3).toFixed(0)} kB into the server and ${(bytesOut / pictures / 1e3).toFixed(0)} kB out of it, ` +
      `${((one.server / pictures) * 1e3).toFixed(1)} ms of the server's processor time`,
  );
  return one;
}

interface Pumped {
  readonly rate: number;
  /** ms for one job */
  readonly handing: number;
  readonly server: number;
  readonly peak: number;
  readonly idle: number;
}

/** Jobs of no work through the queue: what it costs, and what the server holds. */
async function pump(server: TestServer, jobs: number, sent: number, answer: number, threads = 2): Promise<Pumped> {
  const tsx = join(root, 'node_modules', 'tsx', 'dist', 'cli.mjs');
  const crew = Array.from({ length: 2 }, () =>
    spawn(process.execPath, [tsx, join(import.meta.dirname, 'queue-echo.ts'), server.url, String(threads)], {
      stdio: ['ignore', 'ignore', 'inherit'],
    }),
  );
  const connected = await connect(readAddress(server.url));
  await connected.redis.flushall();
  await connected.redis.config('RESETSTAT');
  const idle = await memoryOf(connected.redis);
  let peak = idle;
  const hand = await HandOut.open<EchoJobs>({
    ...{ connected, version: 'bench', name: 'generated', signal: new AbortController().signal, log: noLog },
  });
  const looks = setInterval(() => void memoryOf(connected.redis).then((m) => (peak = Math.max(peak, m))), 20);
  const input = { sent: new Uint8Array(sent).fill(3), answer };
  let kept = 0;
  const before = { own: process.cpuUsage(), stats: await statsOf(server) };
  const begun = performance.now();
  const errors = await hand.askAll('echo', {
    stage: 'generated',
    labels: Array.from({ length: jobs }, (_, i) => `generated picture ${i}.jpg`),
    inputOf: async () => input,
    keep: async (_, output) => {
      if (output.length === answer) kept++;
    },
  });
  const seconds = (performance.now() - begun) / 1000;
  const own = process.cpuUsage(before.own);
  const after = await statsOf(server);
  clearInterval(looks);
  await hand.close();
  connected.close();
  for (const c of crew) c.kill('SIGTERM');
  await Promise.all(crew.map(ended));
  if (errors.some(Boolean) || kept !== jobs) throw new Error(`only ${kept} of ${jobs} came back`);
  return {
    rate: jobs / seconds,
    handing: (own.user + own.system) / 1e3 / jobs,
    server: ((after.processor - before.stats.processor) * 1e3) / jobs,
    ...{ peak, idle },
  };
}

async function diskTime(folder: string, bytes: number): Promise<number> {
  const part = new Uint8Array(bytes / BLOCK_FILES.length).fill(1);
  const files = Object.fromEntries(BLOCK_FILES.map((f) => [f, part])) as BlockFiles;
  const made = { key: '', pieces: 1, sections: 1, sheets: 1, misplaced: 0, warnings: [] };
  const times: number[] = [];
  for (let i = 0; i < 20; i++) {
    const begun = performance.now();
    await writeBlockFolder(join(folder, `disk ${i}`), 'block', files, made);
    times.push(performance.now() - begun);
  }
  return median(times) / 1000;
}

/** a photo from a phone, made smaller by whoever takes orders; the shades kept of it; a block's files */
const PICTURE = 1_000_000;
const SHADES = 190_000;
const FILES = 500_000;
/** 1 Gbit/s */
const NETWORK = 125e6;

export async function benchQueue(args: readonly string[]): Promise<void> {
  const option = (name: string, fallback: string): string => {
    const i = args.indexOf(`--${name}`);
    return i < 0 ? fallback : (args[i + 1] ?? fallback);
  };
  const folder = mkdtempSync(join(tmpdir(), 'queue-bench-'));
  const server = await startServer();
  try {
    const only = option('only', '');
    let work: readonly number[] = [Number(option('seconds', '3'))];
    if (only !== 'many')
      ({ work } = await benchWork(server, folder, Number(option('pictures', '12')), Number(option('rounds', '2'))));
    else console.log(`no pictures were made: the simulation takes ${work[0]} s of a thread for each`);
    if (only === 'work') return;

    const many = Number(option('many', '5000'));
    const shading = await pump(server, many, PICTURE, SHADES);
    const making = await pump(server, many, SHADES, FILES);
    for (const [name, p] of [
      ['shades', shading],
      ['blocks', making],
    ] as const)
      console.log(
        `${many} generated pictures, ${name}: ${p.rate.toFixed(0)} a second with two workers that do nothing; ` +
          `${p.handing.toFixed(1)} ms of processor time of the computer that hands out, ${p.server.toFixed(2)} ms of the server's for each; ` +
          `the server held ${(p.peak / MB).toFixed(1)} MB at most (${(p.idle / MB).toFixed(1)} MB empty)`,
      );
    const large = await pump(server, 300, 5_000_000, SHADES, 12);
    console.log(
      `300 pictures of 5 MB, asked for by 24 threads at once: the server held ${(large.peak / MB).toFixed(1)} MB at most`,
    );

    const disk = await diskTime(folder, FILES);
    const measured: Measured = {
      work,
      shared: {
        'handing out': (shading.handing + making.handing) / 1e3,
        disk,
        server: (shading.server + making.server) / 1e3,
        'network out': (PICTURE + SHADES) / NETWORK,
        'network in': (SHADES + FILES) / NETWORK,
      },
    };
    const mean = work.reduce((a, b) => a + b, 0) / work.length;
    console.log(
      `simulation: ${mean.toFixed(2)} s of a thread for each picture (${work.length} measured), and of what there is one of ` +
        `${Object.entries(measured.shared)
          .map(([name, s]) => `${(s * 1e3).toFixed(1)} ms ${name}`)
          .join(
            ', ',
          )} (1 Gbit/s each way between the workers and the computer that hands out, which runs the server too)`,
    );
    for (const workers of [1, 2, 10, 100, 1000, 3000]) {
      const s = simulate(measured, workers, Math.max(2000, 50 * workers), seededRandom(7));
      const [most, share] = Object.entries(s.busy).sort((a, b) => b[1] - a[1])[0]!;
      console.log(
        `  ${String(workers).padStart(4)} threads: ${(s.rate * 60).toFixed(1).padStart(7)} pictures a minute, ${(100 * s.efficiency).toFixed(0).padStart(3)} % of ${workers} times one; ${most} is busy ${(100 * share).toFixed(0)} %`,
      );
    }
    const longest = Object.entries(measured.shared).sort((a, b) => b[1] - a[1])[0]!;
    console.log(
      `  it saturates at ${(60 / longest[1]).toFixed(0)} pictures a minute (${longest[0]}), which about ${Math.ceil(mean / longest[1])} threads reach`,
    );
  } finally {
    await server.remove();
    rmSync(folder, { recursive: true, force: true });
  }
}
