// Long work over many threads that a person may stop with Ctrl-C.
import type { UserError } from '../problems/problem.ts';

/** Runs with a signal that is aborted with `reason` when one of the signals of the system comes. What was under way when it was
 *  stopped fails for that reason alone. */
export async function stoppable<T>(
  signals: readonly NodeJS.Signals[],
  reason: UserError,
  run: (signal: AbortSignal) => Promise<T>,
): Promise<T> {
  const stop = new AbortController();
  const stopped = (): void => stop.abort(reason);
  for (const signal of signals) process.once(signal, stopped);
  try {
    return await run(stop.signal);
  } catch (e) {
    throw stop.signal.aborted ? stop.signal.reason : e;
  } finally {
    for (const signal of signals) process.removeListener(signal, stopped);
  }
}
