// The pool of threads, over jobs that do hardly anything: who goes first and where, and what becomes of the rest when one fails.
import { afterEach, describe, expect, test } from 'vitest';
import { UserError } from '../../src/problems/problem.ts';
import { askAll } from '../../src/threads/ask-all.ts';
import { Cancelled, ThreadDied } from '../../src/threads/call.ts';
import { Pool, type PoolOptions } from '../../src/threads/pool.ts';
import { Gate, type TestJobs } from './jobs.ts';

const entry = new URL('./jobs.ts', import.meta.url);
const pools: Pool<TestJobs>[] = [];
const gates: Gate[] = [];
const poolOf = (threads: number, more: Partial<PoolOptions> = {}): Pool<TestJobs> => {
  const pool = new Pool<TestJobs>({ entry, threads, ...more });
  pools.push(pool);
  return pool;
};
const newGate = (): Gate => {
  const gate = new Gate();
  gates.push(gate);
  return gate;
};
afterEach(async () => {
  for (const gate of gates.splice(0)) gate.open();
  await Promise.all(pools.splice(0).map((p) => p.close()));
});

/** What was thrown; fails where nothing was. */
const thrownBy = (promise: Promise<unknown>): Promise<unknown> =>
  promise.then(
    (answer) => expect.fail(`it answered ${JSON.stringify(answer)}`),
    (e: unknown) => e,
  );

describe('order', () => {
  test('of those that wait the greatest priority goes first, of equals the one asked first', async () => {
    const pool = poolOf(1);
    const gate = newGate();
    const holding = pool.ask('wait', gate.memory);
    const priorities = [0, 2, 1, 2, 0];
    const waiting = priorities.map((priority, i) => pool.ask('echo', `${i}`, { priority }));
    gate.open();
    expect(await holding.answer).toBe('waited');
    const answers = await Promise.all(waiting.map((t) => t.answer));
    expect(answers.sort((a, b) => a.nth - b.nth).map((a) => a.said)).toEqual(['1', '3', '2', '0', '4']);
  });

  test('a priority that is changed while it waits counts', async () => {
    const pool = poolOf(1);
    const gate = newGate();
    pool.ask('wait', gate.memory);
    const [one, two] = [pool.ask('echo', 'one', { priority: 1 }), pool.ask('echo', 'two')];
    two.priority = 2;
    gate.open();
    expect((await two.answer).nth).toBeLessThan((await one.answer).nth);
  });

  test('no more jobs at once than threads', async () => {
    const pool = poolOf(2);
    const gate = newGate();
    const asked = [1, 2, 3].map(() => pool.ask('wait', gate.memory).answer);
    await gate.reached(2);
    expect(pool.workers).toHaveLength(2);
    expect(pool.spare).toBe(-1);
    gate.open();
    expect(await Promise.all(asked)).toEqual(Array(3).fill('waited'));
    expect(pool.workers).toHaveLength(2);
    expect(pool.spare).toBe(2);
  });

  test('many of a kind: answers in the order of the inputs, the largest begun first, each with its own outcome', async () => {
    const pool = poolOf(1);
    const done: number[] = [];
    const outcomes = await askAll(pool, 'echo', ['a', 'b', 'c'], { sizes: [1, 3, 2], done: (i) => done.push(i) });
    expect(outcomes.map((o) => o.result?.said)).toEqual(['a', 'b', 'c']);
    expect(outcomes.map((o) => o.result?.nth)).toEqual([3, 1, 2]);
    expect(done).toEqual([1, 2, 0]);
    const refused = await askAll(pool, 'throwUserError', ['no', 'neither']);
    expect(refused.map((o) => o.error)).toMatchObject([{ values: { path: 'no' } }, { values: { path: 'neither' } }]);
  });
});

describe('affinity', () => {
  test('jobs of one key go to the thread that had it, and another key to a thread with nothing to lose', async () => {
    const pool = poolOf(2);
    const threadOf = async (affinity: string): Promise<number> =>
      (await pool.ask('echo', affinity, { affinity }).answer).thread;
    const [fox, owl] = [await threadOf('fox'), await threadOf('owl')];
    expect(owl).not.toBe(fox);
    for (let i = 0; i < 3; i++) expect([await threadOf('owl'), await threadOf('fox')]).toEqual([owl, fox]);
    expect(pool.workers).toHaveLength(2);
  });

  test('a thread that was started ahead takes the first key, before another is started', async () => {
    const pool = poolOf(2);
    expect(pool.warm).toBe(false);
    pool.start(1, ['echo'], ['steps']);
    expect(pool.warm).toBe(true);
    await pool.ask('echo', 'hen', { affinity: 'hen' }).answer;
    expect(pool.workers).toHaveLength(1);
  });

  test('where that thread is busy any other does', async () => {
    const pool = poolOf(2);
    const gate = newGate();
    const { thread } = await pool.ask('echo', 'fox', { affinity: 'fox' }).answer;
    pool.ask('wait', gate.memory, { affinity: 'fox' });
    expect((await pool.ask('echo', 'fox', { affinity: 'fox' }).answer).thread).not.toBe(thread);
  });
});

describe('cancelling', () => {
  test('a job that runs leaves off, and its thread takes the next', async () => {
    const pool = poolOf(1);
    const gate = newGate();
    const task = pool.ask('listen', { gate: gate.memory, said: 'never' });
    const next = pool.ask('echo', 'next');
    await gate.reached();
    task.cancel();
    expect(await thrownBy(task.answer)).toBeInstanceOf(Cancelled);
    expect((await next.answer).said).toBe('next');
    expect(pool.workers).toHaveLength(1);
  });

  test('a job that waits is not done at all; one that is done stays done', async () => {
    const pool = poolOf(1);
    const gate = newGate();
    const holding = pool.ask('wait', gate.memory);
    const waiting = pool.ask('echo', 'never');
    waiting.cancel();
    gate.open();
    await holding.answer;
    holding.cancel();
    expect(await thrownBy(waiting.answer)).toBeInstanceOf(Cancelled);
    expect((await pool.ask('echo', 'first').answer).nth).toBe(1);
    expect(await holding.answer).toBe('waited');
  });

  test('closed or aborted: what runs and what waits is cancelled, and so is what is asked for later', async () => {
    const closed = poolOf(1);
    const gate = newGate();
    const tasks = [1, 2].map(() => closed.ask('listen', { gate: gate.memory, said: '' }));
    await closed.close();
    for (const task of [...tasks, closed.ask('echo', 'late')])
      expect(await thrownBy(task.answer)).toBeInstanceOf(Cancelled);

    const stop = new AbortController();
    const all = askAll(poolOf(1, { signal: stop.signal }), 'wait', [gate.memory, gate.memory]);
    stop.abort(new UserError('stopped', {}, 130));
    expect(await thrownBy(all)).toMatchObject({ code: 'stopped', exitCode: 130 });
  });
});

describe('making room', () => {
  test('a job that may be begun again leaves off for one of greater priority, and is done afterwards', async () => {
    const pool = poolOf(1);
    const [gate, open] = [newGate(), newGate()];
    const parts: string[] = [];
    open.open();
    const long = pool.ask(
      'listen',
      { gate: gate.memory, said: 'first' },
      {
        priority: 1,
        restart: () => ({ gate: open.memory, said: 'again' }),
        part: (part) => {
          parts.push(part);
          long.priority = 0;
        },
      },
    );
    await gate.reached();
    const urgent = await pool.ask('echo', 'urgent', { priority: 1 }).answer;
    expect(urgent.nth).toBe(1);
    expect(await long.answer).toBe('again');
    expect(parts).toEqual(['part of first', 'part of again']);
  });

  test('none leaves off for its equal, nor where it did not agree to', async () => {
    const pool = poolOf(2);
    const gate = newGate();
    const input = { gate: gate.memory, said: 'to the end' };
    const equal = pool.ask('listen', input, { priority: 1, restart: () => ({ ...input, said: 'again' }) });
    const stubborn = pool.ask('listen', input);
    await gate.reached(2);
    const waiting = pool.ask('echo', 'after', { priority: 1 });
    gate.open();
    expect(await Promise.all([equal.answer, stubborn.answer])).toEqual(['to the end', 'to the end']);
    expect((await waiting.answer).said).toBe('after');
  });
});

describe('what goes wrong', () => {
  test('what the user can mend comes back as that; other errors keep their message and the stack of where they were', async () => {
    const pool = poolOf(1);
    const refused = await thrownBy(pool.ask('throwUserError', 'wide.png').answer);
    expect(refused).toBeInstanceOf(UserError);
    expect(refused).toMatchObject({ code: 'no-file', values: { path: 'wide.png' }, exitCode: 2 });
    const fault = await thrownBy(pool.ask('throwCoded', 'it broke').answer);
    expect(fault).not.toBeInstanceOf(UserError);
    expect(fault).toMatchObject({ message: 'it broke' });
    expect((fault as Error).stack).toContain('test/threads/jobs.ts');
    expect((await pool.ask('echo', 'on').answer).nth).toBe(1);
  });

  test('what cannot be handed over fails its own job', async () => {
    const pool = poolOf(1);
    expect(await thrownBy(pool.ask('answerFunction', null).answer)).toBeInstanceOf(Error);
    expect(await thrownBy(pool.ask('echo', (() => {}) as never).answer)).toBeInstanceOf(Error);
    expect((await pool.ask('echo', 'on').answer).said).toBe('on');
  });

  test.each([
    ['ends', 'die', null, {}],
    ['runs out of memory', 'fill', 100, { memory: { maxOldGenerationSizeMb: 32 } }],
  ] as const)('a thread that %s costs only its own job', async (_, name, input, more) => {
    const pool = poolOf(1, more);
    const [dying, next] = [pool.ask(name, input as never), pool.ask('echo', 'next')];
    expect(await thrownBy(dying.answer)).toBeInstanceOf(ThreadDied);
    expect((await next.answer).said).toBe('next');
    expect(pool.workers).toHaveLength(1);
  });

  test('a listener that throws ends the job with what it threw', async () => {
    const pool = poolOf(1);
    const gate = newGate();
    const throws = (): void => {
      throw new Error('no longer wanted');
    };
    const heard = pool.ask('listen', { gate: gate.memory, said: '' }, { progress: throws });
    const next = pool.ask('echo', 'next');
    await expect(heard.answer).rejects.toThrow('no longer wanted');
    expect((await next.answer).said).toBe('next');
  });
});

test('progress names its stage, grows, and ends at all of it', async () => {
  const heard: [string, number][] = [];
  const steps = 200_000;
  const count = await poolOf(1).ask('steps', steps, { progress: (...said) => heard.push(said) }).answer;
  expect(count).toBe(steps);
  expect(heard[0]).toEqual(['counting', 0]);
  expect(heard.at(-1)).toEqual(['counting', 1]);
  const shares = heard.map(([, share]) => share);
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  // not each of them: words cost more than the work
  expect(heard.length).toBeLessThan(steps / 100);
});
