// SIGKILL amid the work; often, by `npm run hardening`.
import { expect, test } from 'vitest';
import { killPage } from './killed.ts';

test.runIf(process.platform !== 'win32')(
  'the page, killed three times amid its writes: all that it had said is there',
  async () => {
    const { kept, faults } = await killPage(3);
    expect(faults).toEqual([]);
    expect(kept).toBeGreaterThan(0);
  },
);
