// How long is waited: a busy machine makes a test slow, never wrong. These end what hangs; nothing else in the tests reads a clock.

/** ms for a test or a hook: some fifteen times what the slowest takes on two quiet cores */
export const TEST_PATIENCE_MS = 600_000;
/** ms for one thing that the page or a program does, also for what it does at once */
export const WAIT_PATIENCE_MS = 150_000;
