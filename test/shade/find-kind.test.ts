import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readPicture } from '../../src/picture/read-picture.ts';
import { findKind } from '../../src/shade/find-kind.ts';

const root = fileURLToPath(new URL('../../fixtures/', import.meta.url));

describe('findKind', () => {
  // the labelled list: the folder a picture lies in says what it is
  const list = (['photos', 'lines', 'flat'] as const).flatMap((folder) =>
    readdirSync(join(root, folder))
      // the same pictures in other formats, and every other SVG, say no more and take their time
      .filter((name, i) => !name.startsWith('fmt-') && (i % 2 || !name.endsWith('.svg')))
      .map((name) => [`${folder}/${name}`, { photos: 'photo', lines: 'drawing', flat: 'flat' }[folder]] as const),
  );
  it('is right on at least 95 % of the labelled list', async () => {
    const wrong: string[] = [];
    for (const [name, kind] of list) {
      const found = findKind(await readPicture(readFileSync(join(root, name)), name, { aspect: 1 }));
      expect(found.reason.length).toBeGreaterThan(5);
      if (found.kind !== kind) wrong.push(`${name}: ${found.kind}`);
    }
    expect(list.length).toBeGreaterThan(30);
    expect(wrong.length, wrong.join(', ')).toBeLessThanOrEqual(0.05 * list.length);
  });
});
