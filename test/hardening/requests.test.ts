// Requests by chance: an answer or one sentence each, and the page goes on.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { randomNumbers } from '../check/random-block.ts';
import { fixture } from '../cli/run-program.ts';
import { newFolder, remove, type Visit, visit } from '../page/visit.ts';
import { requestOnce } from './requests.ts';

const TIMES = 600;
let folder: string;
let v: Visit;
beforeAll(async () => {
  folder = await newFolder();
  v = await visit(folder);
});
afterAll(async () => {
  await v.close();
  await remove(folder);
});

test(`${TIMES} requests by chance`, async () => {
  const { body } = await v.upload(fixture('../test/page/fox.block.json'));
  const counts = new Map<number, number>();
  const faults: unknown[] = [];
  for (let seed = 0; seed < TIMES; seed++) {
    const answer = await requestOnce(v.page.address, [body.id], randomNumbers(seed));
    counts.set(answer.status, (counts.get(answer.status) ?? 0) + 1);
    if (answer.fault) faults.push({ seed, ...answer });
  }
  expect(faults).toEqual([]);
  // some of each: else the requests are too odd or too sound to tell anything
  for (const status of [200, 404, 422]) expect(counts.get(status) ?? 0, `${status}`).toBeGreaterThan(10);
  expect((await v.work(body.id)).id).toBe(body.id);
});
