// The queue with a real server and small jobs of its own: what travels, what goes wrong, who is told, and what is left behind.
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { UserError } from '../../src/problems/problem.ts';
import { readAddress } from '../../src/queue/address.ts';
import { type Connected, connect } from '../../src/queue/connection.ts';
import { HandOut, type Round } from '../../src/queue/hand-out.ts';
import { KEYS, PIECE_BYTES, PIECES_S } from '../../src/queue/keys.ts';
import { type Log, noLog } from '../../src/queue/log.ts';
import { putPieces, takePieces } from '../../src/queue/pieces.ts';
import { readStatus } from '../../src/queue/status.ts';
import { LOST_TOO_OFTEN, MOST_LOST, openPictures } from '../../src/queue/tasks.ts';
import { WorkOff } from '../../src/queue/work-off.ts';
import { Pool } from '../../src/threads/pool.ts';
import { WAIT_PATIENCE_MS } from '../patience.ts';
import type { TestJobs } from './jobs.ts';
import { hasServer, NEEDS_SERVER, startServer, type TestServer } from './redis.ts';

const ENTRY = new URL('./jobs.ts', import.meta.url);
/** ms */
const BEAT_MS = 200;
const until = { timeout: WAIT_PATIENCE_MS };

describe.skipIf(!hasServer)(`the queue${NEEDS_SERVER}`, () => {
  let server: TestServer;
  const ends: (() => unknown)[] = [];
  beforeAll(async () => {
    server = await startServer();
  });
  afterAll(() => server?.remove());
  let look: Connected;
  beforeEach(async () => {
    look = await connect(readAddress(server.url));
    await look.redis.flushall();
  });
  afterEach(async () => {
    for (const end of ends.splice(0).reverse()) await end();
    look.close();
  });

  async function worker(log: Log = noLog, version = 'one') {
    const connected = await connect(readAddress(server.url));
    const pool = new Pool<TestJobs>({ entry: ENTRY, threads: 1 });
    const stop = new AbortController();
    ends.push(async () => {
      stop.abort();
      await pool.close();
      connected.close();
    });
    const work = await WorkOff.open<TestJobs>({
      ...{ connected, pool, version, log, signal: stop.signal, lostAfter: 5, beatMs: BEAT_MS },
      jobs: { add: 'added', endless: 'never' },
    });
    const ended = work.run();
    ends.push(async () => {
      stop.abort();
      await ended;
    });
    return { work, stop: () => stop.abort(), ended };
  }

  async function series(name = 'shelter', version = 'one', log: Log = noLog, beatMs = BEAT_MS) {
    const connected = await connect(readAddress(server.url));
    const stop = new AbortController();
    ends.push(() => connected.close());
    const hand = await HandOut.open<TestJobs>({ connected, version, name, signal: stop.signal, log, beatMs });
    ends.push(() => hand.close());
    return { hand, stop: (why: Error) => stop.abort(why) };
  }

  /** The inputs, and what has come back of them. */
  function adding(inputs: readonly TestJobs['add']['input'][]) {
    const kept: (Uint8Array | undefined)[] = inputs.map(() => undefined);
    let twice = 0;
    const round: Round<TestJobs['add']['input'], Uint8Array> = {
      stage: 'adding',
      labels: inputs.map((_, i) => `picture ${i}`),
      inputOf: async (i) => inputs[i]!,
      async keep(i, output) {
        if (kept[i]) twice++;
        kept[i] = output;
      },
    };
    return { round, kept, twice: () => twice };
  }
  const bytes = (length: number, from = 0): Uint8Array => Uint8Array.from({ length }, (_, i) => i + from);

  test('pictures of many pieces come and go whole, by two workers, and nothing stays behind', async () => {
    await worker();
    await worker();
    const { hand } = await series();
    const { round, kept, twice } = adding(
      Array.from({ length: 12 }, (_, i) => ({ bytes: bytes(i === 0 ? 0 : i === 1 ? 9 * PIECE_BYTES + 1 : 5 * i, i) })),
    );
    expect(await hand.askAll('add', round)).toEqual(round.labels.map(() => undefined));
    expect(kept[0]).toHaveLength(0);
    expect(kept[1]!.length).toBe(9 * PIECE_BYTES + 1);
    expect(Buffer.from(kept[1]!).equals(Buffer.from(bytes(9 * PIECE_BYTES + 1, 2)))).toBe(true);
    expect([...kept[11]!]).toEqual([...bytes(55, 12)]);
    expect(twice()).toBe(0);
    expect(hand.counts).toMatchObject({ done: 12, failed: 0 });
    await hand.close();
    const left = (await look.redis.keys('*')).filter(
      (k) => !/:(pictures:(id|meta|events|stalled-check|marker)|version|workers?|post)/.test(k),
    );
    expect(left).toEqual([]);
  });

  test('more jobs than lie in the queue at once: lots follow one another', async () => {
    const dealt: number[] = [];
    await worker();
    const { hand } = await series(
      'long',
      'one',
      (event, f) => void (event === 'lot-dealt' && dealt.push(Number(f.jobs))),
    );
    const { round, kept } = adding(Array.from({ length: 230 }, (_, i) => ({ bytes: bytes(3, i) })));
    const first = hand.askAll('add', round);
    expect((await first).filter(Boolean)).toEqual([]);
    expect(kept.filter(Boolean)).toHaveLength(230);
    expect(dealt).toEqual([100, 100, 30]);
  });

  test('what a person can mend fails once; a thread that ends is tried again, and takes no worker with it', async () => {
    const said: string[] = [];
    const { work } = await worker((event, f) => void said.push(`${event} ${f.label ?? ''}`));
    const { hand } = await series();
    const { round, kept } = adding([
      { bytes: bytes(1) },
      { bytes: bytes(1), end: 'person' },
      { bytes: bytes(1), end: 'thread' },
      { bytes: bytes(1), end: 'fault' },
      { bytes: bytes(1) },
    ]);
    const [a, person, thread, fault, b] = await hand.askAll('add', round);
    expect([a, b]).toEqual([undefined, undefined]);
    expect(person).toBeInstanceOf(UserError);
    expect((person as UserError).code).toBe('no-pictures');
    expect(thread!.message).toMatch(/thread ended/);
    expect(fault!.message).toBe('a broken promise');
    expect(kept.map(Boolean)).toEqual([true, false, false, false, true]);
    expect(said.filter((s) => s === 'job-again picture 1')).toHaveLength(0);
    expect(said.filter((s) => s === 'job-again picture 2')).toHaveLength(2);
    expect(said.filter((s) => s.startsWith('job-refused'))).toHaveLength(3);
    expect(work.worked).toMatchObject({ done: 2, failed: 3, again: 4 });
    const { failed, jobs } = await readStatus(look.redis);
    expect(failed.map((f) => f.why)).toContain('picture 3: a broken promise');
    expect(jobs).toEqual({ waiting: 0, active: 0, later: 0, failed: 3 });
  });

  test('two series at once, and the status names both', async () => {
    const one = await series('cats');
    const two = await series('farm');
    const [a, b] = [adding([{ bytes: bytes(2) }]), adding([{ bytes: bytes(4) }])];
    const both = Promise.all([one.hand.askAll('add', a.round), two.hand.askAll('add', b.round)]);
    await expect.poll(async () => (await readStatus(look.redis)).jobs.waiting, until).toBe(2);
    expect((await readStatus(look.redis)).series.map((s) => s.name).sort()).toEqual(['cats', 'farm']);
    await worker();
    await both;
    expect([...a.kept[0]!]).toEqual([1, 2]);
    expect([...b.kept[0]!]).toEqual([1, 2, 3, 4]);
    expect((await readStatus(look.redis)).workers).toMatchObject([{ threads: 1 }]);
  });

  test('a worker that is stopped gives its job back, and another finishes', async () => {
    const said: string[] = [];
    const first = await worker((event) => void said.push(event));
    const { hand, stop } = await series();
    const asked = hand.askAll('endless', {
      stage: 'x',
      labels: ['long'],
      inputOf: async () => null,
      keep: async () => {},
    });
    asked.catch(() => {});
    await expect.poll(() => said, until).toContain('job-taken');
    first.stop();
    await first.ended;
    expect(said).toContain('job-given-back');
    expect((await readStatus(look.redis)).jobs).toMatchObject({ waiting: 1, active: 0 });
    const again: string[] = [];
    await worker((event) => void again.push(event));
    await expect.poll(() => again, until).toContain('job-taken');
    // the series is stopped: its worker leaves off
    stop(new Error('Stopped.'));
    await expect(asked).rejects.toThrow('Stopped.');
    await hand.close();
    await expect.poll(() => again, until).toContain('job-not-wanted');
    expect((await readStatus(look.redis)).jobs).toMatchObject({ waiting: 0, active: 0, failed: 0 });
  });

  test('a server that has forgotten everything is told again', async () => {
    const { hand } = await series();
    const { round, kept } = adding([{ bytes: bytes(2) }, { bytes: bytes(3) }]);
    const asked = hand.askAll('add', round);
    await expect.poll(async () => (await readStatus(look.redis)).jobs.waiting, until).toBe(2);
    await look.redis.flushall();
    await worker();
    expect(await asked).toEqual([undefined, undefined]);
    expect(kept.map((k) => k!.length)).toEqual([2, 3]);
  });

  test('what travels is there for a short time, and gone once it is taken', async () => {
    const way = ['in', 'run', '1.0', 'worker'] as const;
    const picture = bytes(2 * PIECE_BYTES + 5);
    expect(await putPieces(look.redis, [...way], picture)).toBe(3);
    const keys = await look.redis.keys('*');
    expect(keys).toHaveLength(3);
    for (const key of keys) {
      const seconds = await look.redis.ttl(key);
      expect(seconds).toBeGreaterThan(0);
      expect(seconds).toBeLessThanOrEqual(PIECES_S);
    }
    expect((await takePieces(look.redis, [...way], 3))!.equals(Buffer.from(picture))).toBe(true);
    expect(await look.redis.keys('*')).toEqual([]);
    // taken by nobody else again
    expect(await takePieces(look.redis, [...way], 3)).toBeUndefined();
  });

  test('a server that is full ends the series in one sentence', async () => {
    await worker();
    const { hand } = await series();
    const { round } = adding([{ bytes: bytes(40 * PIECE_BYTES) }]);
    await look.redis.config('SET', 'maxmemory', '4mb');
    try {
      await expect(hand.askAll('add', round)).rejects.toThrow(/is full; give it more memory/);
    } finally {
      await look.redis.config('SET', 'maxmemory', '0');
    }
  });

  test('a picture that takes every worker down is given up, and named', async () => {
    const { hand } = await series();
    const asked = hand.askAll('add', adding([{ bytes: bytes(1) }]).round);
    await expect.poll(async () => (await readStatus(look.redis)).jobs.waiting, until).toBe(1);
    // what the queue notes when a fourth worker is lost with it
    const pictures = openPictures(look.redis);
    const [job] = await pictures.getJobs(['prioritized']);
    await look.redis.hset(`seamwright:pictures:${job!.id}`, 'stc', MOST_LOST + 1, 'defa', LOST_TOO_OFTEN);
    await pictures.close();
    await worker();
    const [error] = await asked;
    expect(error).toBeInstanceOf(UserError);
    expect(error!.message).toMatch(/^Every worker that took this picture stopped partway, 4 in all/);
  });

  test('a server that throws data away to make room is refused', async () => {
    await look.redis.config('SET', 'maxmemory-policy', 'allkeys-lru');
    try {
      await expect(connect(readAddress(server.url))).rejects.toThrow(/set maxmemory-policy to noeviction/);
    } finally {
      await look.redis.config('SET', 'maxmemory-policy', 'noeviction');
    }
  });

  test('another version is refused on both sides, and what is left of a lost series is cleared away', async () => {
    // says once that it is there, and never again
    const { hand } = await series('lost', 'one', noLog, 2 ** 30);
    await expect(worker(noLog, 'two')).rejects.toThrow(/is used by one, and this is two/);
    await expect(series('x', 'two')).rejects.toThrow(UserError);
    const asked = hand.askAll('add', adding([{ bytes: bytes(2) }]).round);
    asked.catch(() => {});
    await expect.poll(async () => (await readStatus(look.redis)).jobs.waiting, until).toBe(1);
    // as after a power cut: its word runs out, and nobody takes its jobs away
    const gone = 'abcdef';
    await look.redis.sadd(KEYS.runs, gone);
    const { hand: next } = await series('next');
    expect(await look.redis.smembers(KEYS.runs)).not.toContain(gone);
    expect((await readStatus(look.redis)).jobs.waiting).toBe(1);
    await next.close();
    await look.redis.unlink(KEYS.run(hand.run));
    await series('last');
    await expect.poll(async () => (await readStatus(look.redis)).jobs.waiting, { timeout: 10_000 }).toBe(0);
  });
});
