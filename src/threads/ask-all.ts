// One kind of job many times over: each with its own answer, the largest begun first.
import type { JobTypes } from './jobs.ts';
import type { PoolOf } from './pool.ts';

/** One of the two. */
export interface Outcome<T> {
  readonly result?: T;
  readonly error?: Error;
}

export interface AskAllOptions {
  /** one more has ended, well or not */
  readonly done?: (index: number) => void;
  /** of each job: the greatest are begun first, so that no long one is left for the end. In their order where absent */
  readonly sizes?: readonly number[];
}

/** Outcomes in the order of the inputs. Throws what the pool was aborted with. */
export async function askAll<J extends JobTypes<J>, K extends keyof J & string>(
  pool: PoolOf<J>,
  name: K,
  inputs: readonly J[K]['input'][],
  { done, sizes }: AskAllOptions = {},
): Promise<Outcome<J[K]['output']>[]> {
  const order = inputs.map((_, i) => i);
  if (sizes) order.sort((a, b) => sizes[b]! - sizes[a]! || a - b);
  const outcomes: Outcome<J[K]['output']>[] = new Array(inputs.length);
  await Promise.all(
    order.map(async (index) => {
      outcomes[index] = await pool.ask(name, inputs[index]).answer.then(
        (result) => ({ result }),
        (error: Error) => ({ error }),
      );
      if (!pool.signal?.aborted) done?.(index);
    }),
  );
  pool.signal?.throwIfAborted();
  return outcomes;
}
