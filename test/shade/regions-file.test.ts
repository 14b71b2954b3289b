import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { UserError } from '../../src/problems/problem.ts';
import { readRegions, writeRegions } from '../../src/shade/regions-file.ts';

const root = fileURLToPath(new URL('../../fixtures/', import.meta.url));

describe('the regions file', () => {
  const fabrics = JSON.stringify([
    { name: 'white', colour: '#FFFFFF' },
    { id: 'x', code: 'xx', name: 'red', colour: '#c81e28', hatch: 4, note: 'kept' },
  ]);
  const names = { regions: 'r.png', fabrics: 'f.json' };
  const labels = Uint8Array.from({ length: 12 * 10 }, (_, i) => (i % 7 ? 0 : 1));

  it('comes back as it was written, byte for byte the same each time', async () => {
    const png = await writeRegions({ width: 12, height: 10, labels });
    expect(Buffer.compare(png, await writeRegions({ width: 12, height: 10, labels }))).toBe(0);
    // 8-bit greyscale (PNG, ISO/IEC 15948: bit depth in byte 24, colour type in byte 25), no profile
    expect([png[24], png[25]]).toEqual([8, 0]);
    expect(Buffer.from(png).includes('iCCP')).toBe(false);
    const back = await readRegions(png, fabrics, names);
    expect([back.width, back.height]).toEqual([12, 10]);
    expect(back.labels).toEqual(labels);
    expect(back.fabrics).toEqual([
      { id: 'f1', code: 'fa', name: 'white', colour: '#ffffff', hatch: 0 },
      { id: 'x', code: 'xx', name: 'red', colour: '#c81e28', hatch: 4, note: 'kept' },
    ]);
  });

  it.each([
    ['{', /f.json is not a list of fabrics: it is not JSON/],
    ['[]', /f.json: the list/],
    ['[{"name":"a","colour":"red"}]', /fabric 1, colour: write the colour as #rrggbb/],
    ['[{"name":"a","colour":"#000000"}]', /r.png has the value 1 at column 1, row 1, but f.json lists only 1 fabrics/],
    [
      '[{"id":"a","name":"a","colour":"#000000"},{"id":"a","name":"b","colour":"#ffffff"}]',
      /two fabrics have the id "a"/,
    ],
  ])('refuses the list %s', async (list, reason) => {
    const png = await writeRegions({ width: 12, height: 10, labels });
    const call = readRegions(png, list, names);
    await expect(call).rejects.toBeInstanceOf(UserError);
    await expect(call).rejects.toThrow(reason);
  });

  it('refuses what is no greyscale PNG', async () => {
    const read = (bytes: Uint8Array) => readRegions(bytes, fabrics, names);
    await expect(read(readFileSync(join(root, 'photos/cat-chelsea-face.jpg')))).rejects.toThrow(/r.png is not a PNG/);
    await expect(read(readFileSync(join(root, 'photos/fmt-16bit-chelsea.png')))).rejects.toThrow(/not 8-bit greyscale/);
    const png = await writeRegions({
      width: 100,
      height: 100,
      labels: new Uint8Array(10_000).map((_, i) => (i * 7919) & 1),
    });
    await expect(read(png.subarray(0, png.length >> 1))).rejects.toThrow(/damaged or cut off/);
  });
});
