// Pictures with the blocks that they give, byte for byte, and what these look like.
import { expect, test } from 'vitest';
import { checkBlock, readBlock } from '../../src/index.ts';
import { caseNames, judgeCase, makeCase } from './case.ts';

test.each(caseNames())('%s gives the block that is kept', async (name) => {
  const made = await makeCase(name);
  expect(checkBlock(readBlock(made.block, name)).faults).toEqual([]);
  expect(
    await judgeCase(name, made),
    `Look at test/cases/${name}/*-changed.*. Where it is right: npm run cases -- --accept ${name}`,
  ).toEqual([]);
});

test('there are cases', () => {
  expect(caseNames().length).toBeGreaterThanOrEqual(8);
});
