// Jobs for the pool's tests, and the entry of their threads: small, and under the test's hand. What a job waits for is a number in
// shared memory that the test sets, not a clock.
import { isMainThread } from 'node:worker_threads';
import { UserError } from '../../src/problems/problem.ts';
import { type JobTable, job } from '../../src/threads/jobs.ts';
import { serve } from '../../src/threads/serve.ts';

/** Two numbers: how many have come to the gate, and whether it is open. */
export class Gate {
  readonly memory = new SharedArrayBuffer(8);
  readonly #numbers = new Int32Array(this.memory);

  open(): void {
    Atomics.store(this.#numbers, 1, 1);
    Atomics.notify(this.#numbers, 1);
  }

  async reached(times = 1): Promise<void> {
    while (Atomics.load(this.#numbers, 0) < times) await new Promise((r) => setTimeout(r, 2));
  }
}

const comeTo = (gate: Int32Array): void => void Atomics.add(gate, 0, 1);
const isOpen = (gate: Int32Array): boolean => Atomics.load(gate, 1) === 1;

export interface TestJobs {
  /** says which thread it ran in, and as the how manieth job there */
  echo: { input: string; output: { said: string; thread: number; nth: number } };
  /** waits at a gate with its thread; deaf to cancelling */
  wait: { input: SharedArrayBuffer; output: string };
  /** shows its input early, and then says how far it is until its gate is open */
  listen: { input: { gate: SharedArrayBuffer; said: string }; output: string; part: string };
  steps: { input: number; output: number };
  throwUserError: { input: string; output: never };
  throwCoded: { input: string; output: never };
  answerFunction: { input: null; output: unknown };
  die: { input: null; output: never };
  /** so many times 8 MB of memory */
  fill: { input: number; output: number };
}

let nth = 0;
const own = async (): Promise<{ threadId: number }> => import('node:worker_threads');

export const testJobs: JobTable<TestJobs> = {
  echo: job(own, ({ threadId }, said) => ({ said, thread: threadId, nth: ++nth })),
  wait: job(own, (_, memory) => {
    const gate = new Int32Array(memory);
    comeTo(gate);
    Atomics.wait(gate, 1, 0);
    return 'waited';
  }),
  listen: job(own, (_, { gate: memory, said }, told) => {
    const gate = new Int32Array(memory);
    told.stage('listening');
    told.part(`part of ${said}`);
    comeTo(gate);
    while (!isOpen(gate)) told.done(0.5);
    return said;
  }),
  steps: job(own, (_, count, told) => {
    told.stage('counting');
    for (let i = 1; i <= count; i++) told.done(i / count);
    return count;
  }),
  throwUserError: job(own, (_, message) => {
    throw new UserError('no-file', { path: message }, 2);
  }),
  throwCoded: job(own, (_, message) => {
    throw Object.assign(new Error(message), { code: 'too-narrow', values: { width: 3 } });
  }),
  answerFunction: job(own, () => () => {}),
  die: job(own, () => process.exit(3)),
  fill: job(own, (_, times) => {
    const kept: number[][] = [];
    for (let i = 0; i < times; i++) kept.push(new Array(1e6).fill(i + 0.5));
    return kept.length;
  }),
};

if (!isMainThread) serve(testJobs);
