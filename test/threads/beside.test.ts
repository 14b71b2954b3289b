// The thread beside a single block: what it does is what the program's own thread would do.
import { afterEach, describe, expect, test } from 'vitest';
import { planFabric } from '../../src/fabric/plan-fabric.ts';
import { type FitOptions, fitPartitions } from '../../src/fit/fit-partition.ts';
import { previewOf } from '../../src/packet/preview.ts';
import { besideIn } from '../../src/pipeline/beside.ts';
import type { BlockJobs } from '../../src/pipeline/jobs.ts';
import { UserError } from '../../src/problems/problem.ts';
import { measureQuality } from '../../src/quality/measure-quality.ts';
import { numberPieces } from '../../src/section/number-pieces.ts';
import { Pool } from '../../src/threads/pool.ts';
import { mm } from '../../src/units.ts';
import { WORKER } from '../../src/worker-file.ts';
import { noisy } from '../fit/pictures.ts';

const sections = { mostPieces: 10, paper: [187.35, 231.3] as const, allowance: 6.35 };
const options: FitOptions = { size: [150, 150], smallest: 9.525, pieces: 20, sections, seed: 3, effort: 'quick' };
const shading = noisy(64, 3, 5);

const pools: Pool<BlockJobs>[] = [];
const poolOf = (threads: number): Pool<BlockJobs> => {
  const pool = new Pool<BlockJobs>({ entry: WORKER, threads });
  pools.push(pool);
  return pool;
};
afterEach(async () => {
  await Promise.all(pools.splice(0).map((p) => p.close()));
});

describe('beside the program', () => {
  test('pieces, cloth, preview and judgement are the same to the byte, and the fit says how far it is', async () => {
    const beside = besideIn(poolOf(1));
    const shares: number[] = [];
    const fits = await beside.fit(shading, options, [12, 20], (share) => shares.push(share));
    expect(fits).toEqual(fitPartitions(shading, options, [12, 20]));
    expect(shares.at(-1)).toBe(1);
    expect(shares.every((v, i) => i === 0 || v >= shares[i - 1]!)).toBe(true);
    const facts = { name: 'Mouse', smallest: mm(9.525), fabrics: shading.fabrics };
    const block = numberPieces(fits[1]!, facts, sections);
    const cloth = { system: 'metric', slack: mm(6.35), allowance: mm(6.35) } as const;
    const judged = { smallest: 9.525, mostPieces: sections.mostPieces };
    const [preview, shopping, quality] = await Promise.all([
      beside.preview(block),
      beside.cloth(block, cloth),
      beside.quality(block, shading, judged),
    ]);
    expect(quality).toEqual(measureQuality(block, shading, judged));
    expect(preview).toEqual(previewOf(block));
    expect(shopping).toEqual(planFabric([{ block }], cloth));
  });

  test('what the person can mend comes back as that', async () => {
    const beside = besideIn(poolOf(1));
    const tiny = { ...options, size: [15, 15] as const };
    const refusal = await beside.fit(shading, tiny, [20], () => {}).catch((e: unknown) => e);
    expect(refusal).toBeInstanceOf(UserError);
    expect(refusal).toMatchObject({ exitCode: 2, message: expect.stringContaining('cannot be cut into pieces') });
  });

  test('a listener that throws ends the fit, and the next job gets a thread', async () => {
    const beside = besideIn(poolOf(1));
    const long: FitOptions = { ...options, effort: 'long', pieces: 200 };
    const stopped = beside.fit(shading, long, [200], () => {
      throw new Error('no longer wanted');
    });
    const next = beside.fit(shading, options, [12], () => {});
    await expect(stopped).rejects.toThrow('no longer wanted');
    expect(await next).toEqual(fitPartitions(shading, options, [12]));
  });
});
