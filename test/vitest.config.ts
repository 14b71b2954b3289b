// How the tests are run: the fast tier, the rest, and those of the page (README.md).
import { defineConfig } from 'vitest/config';
import { TEST_PATIENCE_MS } from './patience.ts';

/** Kernels and stages on small made-up input: no browser, no built program, no whole fit. Under a minute on two cores. */
const FAST = [
  'test/check/**',
  'test/colour/**',
  'test/design/**',
  'test/drawing/**',
  'test/fabric/**',
  'test/outline/**',
  'test/section/**',
  'test/template/**',
  'test/fit/weigh-cells.test.ts',
  'test/packet/packet.test.ts',
  'test/packet/true-size.test.ts',
  'test/packet/yardage.test.ts',
  'test/shade/own-fabrics.test.ts',
  'test/shade/smooth-edges.test.ts',
  'test/units.test.ts',
].map((path) => (path.endsWith('.ts') ? path : `${path}/*.test.ts`));

/** Whatever starts a browser. */
const PAGE = ['test/page/**/*.test.ts', 'test/examples/check-in-browser.test.ts'];
const NEVER = ['**/node_modules/**'];

export default defineConfig({
  test: {
    testTimeout: TEST_PATIENCE_MS,
    hookTimeout: TEST_PATIENCE_MS,
    teardownTimeout: TEST_PATIENCE_MS,
    maxWorkers: 2,
    projects: [
      // pure functions: what one file has loaded serves the next
      { extends: true, test: { name: 'fast', include: FAST, exclude: NEVER, isolate: false } },
      {
        extends: true,
        test: { name: 'whole', include: ['test/**/*.test.ts'], exclude: [...NEVER, ...FAST, ...PAGE] },
      },
      // one file after another, when nothing else runs: the browser takes both cores
      {
        extends: true,
        test: { name: 'page', include: PAGE, exclude: NEVER, maxWorkers: 1, sequence: { groupOrder: 1 } },
      },
    ],
  },
});
