// How the tests are run: the fast tier, the rest, and those of the page (README.md).
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
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

/** What must have a process of its own: it puts something in a module's place, or weighs the memory of its process. */
const ALONE = ['test/cli/hostile.test.ts', 'test/hardening/on-disk.test.ts'];
/** Whatever starts a browser. */
const PAGE = ['test/page/**/*.test.ts', 'test/examples/check-in-browser.test.ts'];
const NEVER = ['**/node_modules/**'];

/** What takes longest, longest first: begun last, it would keep one core waiting for the other. */
const LONG = [
  'hardening/inputs',
  'cli/series-command',
  'cli/hostile',
  'cases/cases',
  'cli/compare-command',
  'examples/examples',
  'packet/set',
  'cli/pictures-in',
  'shade/drawing',
  'shade/shade-picture',
  'shade/subject',
].map((name) => `/test/${name}.test.ts`);

class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification): number => {
      const at = LONG.findIndex((path) => moduleId.endsWith(path));
      return at < 0 ? LONG.length : at;
    };
    const sorted = await super.sort(files);
    // files of one project stay together: they share what they have loaded
    const projects = [...new Set(sorted.map((f) => f.project.name))];
    return projects.flatMap((name) =>
      sorted.filter((f) => f.project.name === name).sort((a, b) => place(a) - place(b)),
    );
  }
}

export default defineConfig({
  test: {
    testTimeout: TEST_PATIENCE_MS,
    hookTimeout: TEST_PATIENCE_MS,
    teardownTimeout: TEST_PATIENCE_MS,
    maxWorkers: 2,
    sequence: { sequencer: LongestFirst },
    projects: [
      // what one file has loaded (OpenCV, fonts, the network) serves the next: no file may leave anything changed behind it
      { extends: true, test: { name: 'fast', include: FAST, exclude: NEVER, isolate: false } },
      {
        extends: true,
        test: {
          name: 'whole',
          include: ['test/**/*.test.ts'],
          exclude: [...NEVER, ...FAST, ...ALONE, ...PAGE],
          isolate: false,
        },
      },
      { extends: true, test: { name: 'alone', include: ALONE, exclude: NEVER } },
      // one file after another, when nothing else runs: the browser takes both cores
      {
        extends: true,
        test: { name: 'page', include: PAGE, exclude: NEVER, maxWorkers: 1, sequence: { groupOrder: 1 } },
      },
    ],
  },
});
