// V8's settings for a program whose threads keep every core busy. Measured against each other in EXPERIMENTS.md. They hold for
// threads that are started afterwards.
import { availableParallelism } from 'node:os';
import { setFlagsFromString } from 'node:v8';

/** Of the large libraries in WebAssembly only the functions that are called. */
const COMPILE_WHAT_RUNS = '--wasm-lazy-compilation';

/** A third of the usual: what most functions gain by having others within them is not worth the longer compiling here. */
const INLINE_LESS = '--max-inlined-bytecode-size-cumulative=300';

/** The helpers that compile and clear beside each thread: where every core has a thread they only take turns with it. */
const NO_HELPERS = '--no-concurrent-recompilation --no-parallel-scavenge';

/** V8 compiles a function anew when it has run so many bytes of its code (V8 11.3, Node 20). */
const USUAL_BUDGET_BYTES = 67_584;
const compileAfter = (timesTheUsual: number): string => `--interrupt-budget=${USUAL_BUDGET_BYTES * timesTheUsual}`;

/** For one block or one sheet, which is mostly code that runs for the first time: V8's helpers compile anew what has run a while, and
 *  where every core has a thread of ours they take more than they give. They begin later, and do less. */
export function prepareForFew(threads: number): void {
  setFlagsFromString(COMPILE_WHAT_RUNS);
  // the program's own thread works too
  if (threads + 1 >= availableParallelism()) setFlagsFromString(`${INLINE_LESS} ${compileAfter(6)}`);
}

/** For much work, which the program's own thread only hands out: the helpers are switched off too, a fifth of all time. A few jobs
 *  would wait for each other's compiling instead. */
export function prepareForMany(threads: number): void {
  setFlagsFromString(COMPILE_WHAT_RUNS);
  if (threads > 1 && threads >= availableParallelism())
    setFlagsFromString(`${NO_HELPERS} ${INLINE_LESS} ${compileAfter(8)}`);
}

/** For a worker of a queue: beside it there may be others on the same computer, so each keeps to one core a thread. */
export function prepareForSharing(): void {
  setFlagsFromString(COMPILE_WHAT_RUNS);
  setFlagsFromString(`${NO_HELPERS} ${INLINE_LESS} ${compileAfter(8)}`);
}
