// Parts of the queue that need no server: addresses, room, figures for monitoring; and that nothing of it is loaded without being asked.
import { readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { UserError } from '../../src/problems/problem.ts';
import { readAddress } from '../../src/queue/address.ts';
import { Budget } from '../../src/queue/budget.ts';
import { logLines, logWords } from '../../src/queue/log.ts';
import { figure, readPlace, serveMetrics, writeMetrics } from '../../src/queue/metrics.ts';
import { readMetrics } from './read-metrics.ts';

test.each([
  ['redis://localhost', 'redis://localhost:6379', 'redis://localhost:6379'],
  ['redis://shelter:7000/2', 'redis://shelter:7000/2', 'redis://shelter:7000/2'],
  ['rediss://:se%2Fcret@10.0.0.5:6380', 'rediss://:se%2Fcret@10.0.0.5:6380', 'rediss://10.0.0.5:6380'],
  ['valkey://anna:pw@shelter', 'redis://anna:pw@shelter:6379', 'redis://shelter:6379'],
  ['REDIS://[::1]:80', 'redis://[::1]:80', 'redis://[::1]:80'],
])('the address %s', (text, url, shown) => {
  expect(readAddress(text)).toEqual({ url, shown });
});

test.each(['', 'localhost:6379', 'http://localhost', 'redis://', 'redis://host/a', 'redis://:pw@host:99999'])(
  '"%s" is no address, and a password in it is not repeated',
  (text) => {
    expect(() => readAddress(text)).toThrow(UserError);
    expect(() => readAddress(text)).not.toThrow(/pw/);
  },
);

test('room is given in order, never more than there is, and more than the whole only alone', async () => {
  const budget = new Budget(10);
  const got: string[] = [];
  const take = async (name: string, bytes: number): Promise<() => void> => {
    const end = await budget.take(bytes);
    got.push(name);
    return end;
  };
  const a = await take('a', 6);
  const b = take('b', 5);
  const c = take('c', 1);
  const d = take('d', 25);
  await new Promise(setImmediate);
  // c would fit, and still waits its turn
  expect(got).toEqual(['a']);
  a();
  a();
  (await b)();
  (await c)();
  const whole = await d;
  expect([got, budget.used]).toEqual([['a', 'b', 'c', 'd'], 25]);
  whole();
  expect(budget.used).toBe(0);
});

test('figures are written in the open format', async () => {
  const families = [
    figure('worker_jobs_done', 'counter', 'Jobs done', 3),
    figure('queue_memory_bytes', 'gauge', 'Memory\nof "it" \\', 1.5e6, 'bytes'),
    {
      name: 'seamwright_queue_jobs',
      type: 'gauge' as const,
      help: 'Jobs',
      samples: [
        [{ state: 'waiting' }, 2],
        [{ state: 'a"b\\c\nd' }, 0],
      ] as const,
    },
  ];
  const read = readMetrics(writeMetrics(families));
  expect(read).toEqual({
    'seamwright_worker_jobs_done_total{}': 3,
    'seamwright_queue_memory_bytes{}': 1.5e6,
    'seamwright_queue_jobs{state=waiting}': 2,
    'seamwright_queue_jobs{state=a"b\\c\nd}': 0,
  });
  const server = await serveMetrics({ host: '127.0.0.1', port: 0 }, async () => families);
  try {
    const answer = await fetch(server.address);
    expect(answer.headers.get('content-type')).toBe('application/openmetrics-text; version=1.0.0; charset=utf-8');
    expect(readMetrics(await answer.text())).toEqual(read);
    expect((await fetch(server.address.replace('metrics', 'else'))).status).toBe(404);
    const port = Number(new URL(server.address).port);
    await expect(serveMetrics({ host: '127.0.0.1', port }, async () => [])).rejects.toThrow(
      /another program has this port/,
    );
  } finally {
    await server.close();
  }
  expect(readPlace('0.0.0.0:9464')).toEqual({ host: '0.0.0.0', port: 9464 });
  expect(readPlace('[::]:9464')).toEqual({ host: '::', port: 9464 });
  expect(() => readPlace('here')).toThrow(UserError);
  expect(() => readPlace('70000')).toThrow(UserError);
});

test('what happens is told in words, and as one object a line', () => {
  const [words, lines]: [string[], string[]] = [[], []];
  for (const log of [logWords((l) => words.push(l)), logLines((l) => lines.push(l))]) {
    log('job-taken', { label: 'a' });
    log('job-done', { label: 'cat 1.jpg', what: 'block made', seconds: 2.04 });
  }
  expect(words).toEqual(['cat 1.jpg: block made in 2.0 s']);
  expect(lines.map((l) => JSON.parse(l))).toMatchObject([{ event: 'job-taken' }, { event: 'job-done', seconds: 2.04 }]);
});

test('the library of queues is loaded when a queue is named, and by nothing before', () => {
  const src = join(import.meta.dirname, '..', '..', 'src');
  const reached = new Map<string, string>();
  const walk = (file: string, from: string): void => {
    if (reached.has(file)) return;
    reached.set(file, from);
    // what is only a type is gone when it runs
    for (const [, target] of readFileSync(file, 'utf8').matchAll(
      /^(?:import|export)(?! type\b)[^;]*? from '([^']+)'|^import '([^']+)'/gm,
    )) {
      if (target!.startsWith('.')) {
        const to = resolve(dirname(file), target!);
        if (to.endsWith('.ts')) walk(to, file);
      } else if (['bullmq', 'ioredis'].includes(target!)) reached.set(target!, file);
    }
  };
  // a command is loaded with everything that it imports at its top
  for (const entry of [
    'index.ts',
    'worker.ts',
    'cli/call-command.ts',
    'cli/series-command.ts',
    'cli/worker-command.ts',
    'cli/queue-command.ts',
  ])
    walk(join(src, entry), entry);
  expect(reached.size).toBeGreaterThan(100);
  expect([reached.get('bullmq'), reached.get('ioredis')]).toEqual([undefined, undefined]);
  // it is found where it is imported
  walk(join(src, 'commands', 'over-queue.ts'), '');
  expect([reached.get('bullmq'), reached.get('ioredis')].every(Boolean)).toBe(true);
});
