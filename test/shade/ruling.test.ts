import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Picture } from '../../src/data.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { eraseRuling } from '../../src/shade/erase-ruling.ts';
import { inkOf } from '../../src/shade/find-ink.ts';
import { shadePicture } from '../../src/shade/shade-picture.ts';

const root = fileURLToPath(new URL('../../fixtures/lines/', import.meta.url));
const read = (name: string): Promise<Picture> => readPicture(readFileSync(join(root, name)), name, { aspect: 1 });

/** The drawing on paper with pale blue lines every 24th of its height, slanted by `slant`; squares where `down` is set. */
function ruled(picture: Picture, slant: number, down = false): Picture {
  const { width: w, height: h } = picture;
  const gap = h / 24;
  const wide = Math.max(2, h / 450);
  const on = (t: number): boolean => t - gap * Math.floor(t / gap) < wide;
  const pixels = Uint8Array.from(picture.pixels);
  for (let i = 0; i < w * h; i++) {
    const [x, y] = [i % w, Math.floor(i / w)];
    if (on(y - slant * x) || (down && on(x + slant * y)))
      [0.7, 0.8, 0.95].forEach((v, c) => {
        pixels[3 * i + c] = Math.round(v * pixels[3 * i + c]!);
      });
  }
  return { ...picture, pixels };
}

const options = { size: [305, 305], smallest: 12.7, shades: 5, background: 'keep', seed: 1 } as const;

describe('the ruling of notebook paper', () => {
  it.each([
    ['lines', 0.02, false],
    ['squares', -0.015, true],
  ])('%s are taken out, and what is drawn on them stays', async (_, slant, down) => {
    const picture = await read('oc-sleeping-cat.svg');
    const page = ruled(picture, slant, down);
    const { picture: clean, lines } = eraseRuling(page, inkOf(page));
    expect(lines).toBeGreaterThanOrEqual(down ? 44 : 22);
    const ink = (p: Picture): Uint8Array => Uint8Array.from(inkOf(p), (v) => (v > 0.3 ? 1 : 0));
    const [before, after] = [ink(picture), ink(clean)];
    const changed = before.reduce((t, v, i) => (v !== after[i] ? t + 1 : t), 0);
    expect(changed).toBeLessThan(0.03 * before.reduce((t, v) => t + v, 0));
    const pale = inkOf(clean).reduce((t, v, i) => (v > 0.08 && !before[i] ? t + 1 : t), 0);
    expect(pale).toBeLessThan(0.02 * before.length);
  });

  it('leaves a block as on plain paper, and says so', async () => {
    const picture = await read('oc-dove.svg');
    const plain = await shadePicture(picture, options);
    const page = await shadePicture(ruled(picture, 0.02), options);
    expect(page.notes.join(' ')).toContain('ruling');
    expect(plain.notes.join(' ')).not.toContain('ruling');
    expect(page.kind.kind).toBe('drawing');
    const ground = (s: typeof page): Uint8Array => Uint8Array.from(s.labels, (l) => (l === s.labels[0] ? 1 : 0));
    const [a, b] = [ground(plain), ground(page)];
    expect(a.reduce((t, v, i) => (v !== b[i] ? t + 1 : t), 0)).toBeLessThan(0.02 * a.length);
  });

  it.each(['oc-owl-engraving.png', 'notomono-hedgehog.png', 'simscan-duck-ink-shadow.jpg'])(
    'none is seen in %s',
    async (name) => {
      const picture = await read(name);
      expect(eraseRuling(picture, inkOf(picture))).toEqual({ picture, lines: 0 });
    },
  );
});
