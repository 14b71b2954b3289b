// A round's jobs in lots: each lot is a flow, a parent with a child for every picture. The parent comes up when its children are all
// through, done or failed. Only so many lie in the queue that every worker finds one, so a long series takes no more room than a short one.
import { FlowProducer, Worker } from 'bullmq';
import type { Redis } from './connection.ts';
import { lotsQueue, PICTURES, PREFIX } from './keys.ts';
import { base, type LotData, type Stub, stubOptions } from './tasks.ts';

/** One job of a round. */
export interface Task {
  /** the series' own name for it */
  readonly job: string;
  readonly index: number;
  readonly label: string;
  settled: boolean;
  error?: Error;
}

/** jobs dealt out together, and jobs that lie in the queue at least as long as there are more */
const LOT = 100;
const LEAST_OPEN = 200;
/** jobs in the queue for each thread that was seen */
const OPEN_PER_THREAD = 3;

interface Lot {
  readonly parent: string;
  /** by the queue's ids */
  readonly tasks: ReadonlyMap<string, Task>;
}

export interface LotsOptions {
  readonly redis: Redis;
  readonly run: string;
  /** a job that ended badly without a letter, and why */
  readonly failed: (task: Task, reason: string) => void;
  readonly dealt: (jobs: number) => void;
  /** nothing is left to wait for */
  readonly through: () => void;
  readonly fault: (e: unknown) => void;
}

export class Lots {
  readonly #o: LotsOptions;
  readonly #flows: FlowProducer;
  readonly #parents: Worker<LotData>;
  readonly #open = new Map<string, Lot>();
  #name = '';
  #waiting: Task[] = [];
  #count = 0;
  #threads = 0;
  #dealing: Promise<void> | undefined;

  constructor(o: LotsOptions) {
    this.#o = o;
    this.#flows = new FlowProducer(base(o.redis));
    this.#parents = new Worker<LotData>(
      lotsQueue(o.run),
      async (job) => this.#end(job.data.lot, await job.getIgnoredChildrenFailures()),
      { ...base(o.redis), concurrency: 4, removeOnComplete: { count: 0 }, removeOnFail: { count: 0 } },
    );
    // the connection says itself that it is lost
    this.#flows.on('error', () => {});
    this.#parents.on('error', () => {});
  }

  /** Deals out a round's tasks, in this order. */
  begin(name: string, tasks: readonly Task[]): void {
    this.#name = name;
    this.#waiting = [...tasks];
    this.deal();
  }

  /** Fills the queue up to what the workers need. */
  deal(threads = this.#threads): void {
    this.#threads = threads;
    this.#dealing ??= this.#fill()
      .catch(this.#o.fault)
      .finally(() => {
        this.#dealing = undefined;
        if (!this.#open.size && !this.#waiting.length) this.#o.through();
      });
  }

  async #fill(): Promise<void> {
    while (this.#waiting.length && this.#inQueue() < Math.max(LEAST_OPEN, this.#threads * OPEN_PER_THREAD))
      await this.#add(this.#waiting.splice(0, LOT).filter((t) => !t.settled));
  }

  #inQueue(): number {
    let open = 0;
    for (const { tasks } of this.#open.values()) for (const t of tasks.values()) if (!t.settled) open++;
    return open;
  }

  async #add(tasks: readonly Task[]): Promise<void> {
    if (!tasks.length) return;
    const { run } = this.#o;
    const parent = `${run}-${++this.#count}`;
    const byId = new Map(tasks.map((t, i) => [`${parent}-${i}`, t]));
    this.#open.set(parent, { parent, tasks: byId });
    await this.#flows.add({
      name: 'lot',
      queueName: lotsQueue(run),
      data: { lot: parent } satisfies LotData,
      opts: { jobId: parent, removeOnComplete: true, removeOnFail: true },
      children: [...byId].map(([jobId, { job, label }], place) => ({
        ...{ name: this.#name, queueName: PICTURES, data: { run, job, label } satisfies Stub },
        opts: stubOptions(jobId, place),
      })),
    });
    this.#o.dealt(tasks.length);
  }

  /** A parent came up. */
  #end(id: string, failures: Readonly<Record<string, string>>): void {
    const lot = this.#open.get(id);
    if (!lot) return;
    for (const [key, reason] of Object.entries(failures)) {
      const task = lot.tasks.get(key.slice(key.lastIndexOf(':') + 1));
      if (task && !task.settled) this.#o.failed(task, reason);
    }
    this.#close(lot);
  }

  /** What is still to be done of a lot is dealt out once more: its workers took this series for gone. */
  #close(lot: Lot): void {
    this.#open.delete(lot.parent);
    this.#waiting.unshift(...[...lot.tasks.values()].filter((t) => !t.settled));
    this.deal();
  }

  /** Looks whether the queue still knows the lots: a server that was started again without its file has forgotten them. */
  async look(): Promise<void> {
    for (const lot of [...this.#open.values()]) {
      const known = await this.#o.redis.exists(`${PREFIX}:${lotsQueue(this.#o.run)}:${lot.parent}`);
      if (!known && this.#open.has(lot.parent) && !this.#dealing) this.#close(lot);
    }
  }

  async close(): Promise<void> {
    await Promise.allSettled([this.#parents.close(true), this.#flows.close()]);
  }
}
