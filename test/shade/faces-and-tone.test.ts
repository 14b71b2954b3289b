import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { lightness } from '../../src/colour/difference.ts';
import { labDistance, oklabOfHex } from '../../src/colour/oklab.ts';
import type { Picture } from '../../src/data.ts';
import { readPicture } from '../../src/picture/read-picture.ts';
import { averageCells } from '../../src/shade/cells.ts';
import { evenTone, planTone } from '../../src/shade/even-tone.ts';
import { findFaces } from '../../src/shade/find-faces.ts';
import { seePicture } from '../../src/shade/see-picture.ts';
import { shadePicture } from '../../src/shade/shade-picture.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const read = (name: string): Promise<Picture> =>
  readPicture(readFileSync(join(root, 'fixtures', name)), name, { aspect: 1 });

const CAT = `<svg xmlns="http://www.w3.org/2000/svg" width="400" height="400"><rect width="400" height="400" fill="#6a7a60"/>
<path d="M110 200 L115 80 L175 130 L225 130 L285 80 L290 200 Q290 300 200 310 Q110 300 110 200Z" fill="#a08060"/>
<path d="M125 110 L128 165 L160 138Z M275 110 L272 165 L240 138Z" fill="#5a4034"/>
<ellipse cx="155" cy="195" rx="22" ry="17" fill="#20201a"/><ellipse cx="245" cy="195" rx="22" ry="17" fill="#20201a"/>
<ellipse cx="200" cy="270" rx="46" ry="30" fill="#e0d0c0"/>
<path d="M182 238 h36 l-18 22z M200 258 v16 M200 274 q-16 14 -30 4 M200 274 q16 14 30 4" fill="#40302a" stroke="#40302a" stroke-width="4"/>
<path d="M190 135 v40 M210 135 v40 M170 140 v25 M230 140 v25" stroke="#5a4034" stroke-width="6"/></svg>`;
const PERSON = `<svg xmlns="http://www.w3.org/2000/svg" width="400" height="400"><rect width="400" height="400" fill="#7a8a70"/>
<ellipse cx="200" cy="190" rx="92" ry="118" fill="#5a4030"/><ellipse cx="200" cy="205" rx="74" ry="98" fill="#e0b898"/>
<path d="M140 178 q20 -14 44 0 M216 178 q24 -14 44 0" stroke="#5a4030" stroke-width="9" fill="none"/>
<ellipse cx="163" cy="196" rx="18" ry="9" fill="#4a342a"/><ellipse cx="237" cy="196" rx="18" ry="9" fill="#4a342a"/>
<path d="M188 236 q12 10 24 0" stroke="#9a6a50" stroke-width="8" fill="none"/>
<path d="M196 195 L192 232" stroke="#f0d0b4" stroke-width="10"/>
<path d="M168 262 q32 20 64 0" stroke="#8a4038" stroke-width="12" fill="none"/></svg>`;

const SIDE = 192;
/** A disc of fur on grass; its lightness (0..255) falls from left to right by `range` about `middle`, with some noise. */
function furry(middle: number, range: number): { picture: Picture; mask: Uint8Array } {
  const pixels = new Uint8Array(3 * SIDE * SIDE);
  const mask = new Uint8Array(SIDE * SIDE);
  for (let i = 0; i < SIDE * SIDE; i++) {
    const [x, y] = [i % SIDE, Math.floor(i / SIDE)];
    mask[i] = Math.hypot(x - 96, y - 96) < 64 ? 1 : 0;
    const noise = ((x * 7919 + y * 104729) % 7) - 3;
    const v = Math.round(middle + range * ((x - 96) / 128) + noise);
    pixels.set(mask[i] ? [v, v, v] : [96, 140 + noise, 70], 3 * i);
  }
  const source = { sha256: '', pixels: [SIDE, SIDE] as const, crop: [0, 0, SIDE, SIDE] as const, format: 'png' };
  return { picture: { width: SIDE, height: SIDE, pixels, source, notes: [] }, mask };
}

const options = { size: [305, 305], smallest: 12.7, shades: 4, background: 'plain', seed: 1, kind: 'photo' } as const;

describe('tones of black and white fur', () => {
  it.each([
    ['dark', 36, 20],
    ['light', 238, 22],
  ] as const)(
    '%s fur of nearly one tone gets shades of its own that can be told apart',
    async (part, middle, range) => {
      const { picture, mask } = furry(middle, range);
      const guess = {
        part: picture.source.crop,
        likely: Float32Array.from(mask, (v) => 0.95 * v),
        side: SIDE,
        sure: 0.95,
      };
      const shadesIn = async (tone: 'even' | 'keep') => {
        const { fabrics, labels, choices } = await shadePicture(picture, { ...options, tone, guess });
        const own = new Map<number, number>();
        labels.forEach((l, i) => {
          if (Math.hypot((i % SIDE) - 96, Math.floor(i / SIDE) - 96) < 60) own.set(l, (own.get(l) ?? 0) + 1);
        });
        const levels = [...own].filter(([, n]) => n > 500).map(([l]) => lightness(fabrics[l]!.colour));
        return { levels: levels.sort((a, b) => a - b), drawn: choices.tone };
      };
      const even = await shadesIn('even');
      expect(even.drawn).toHaveLength(1);
      expect(even.drawn![0]!.part).toBe(part);
      expect(even.levels.length).toBeGreaterThanOrEqual(2);
      for (let i = 1; i < even.levels.length; i++) expect(even.levels[i]! - even.levels[i - 1]!).toBeGreaterThan(4);
      const kept = await shadesIn('keep');
      expect(kept.drawn).toBeUndefined();
      const span = (levels: number[]): number => levels.at(-1)! - levels[0]!;
      expect(span(even.levels)).toBeGreaterThan(1.5 * span(kept.levels));
    },
  );

  it('leaves fur alone that has its tones, and what lies outside the subject', () => {
    const wide = furry(100, 150);
    const cells = averageCells(wide.picture.pixels, SIDE, SIDE, SIDE, SIDE);
    expect(planTone(cells, wide.mask).drawn).toEqual([]);
    const dark = furry(36, 20);
    const own = averageCells(dark.picture.pixels, SIDE, SIDE, SIDE, SIDE);
    const after = evenTone(own, dark.mask, planTone(own, dark.mask).curve);
    dark.mask.forEach((v, i) => {
      if (!v) expect(after.lab[3 * i]).toBe(own.lab[3 * i]);
    });
  });

  it('keeps the order of light and dark', () => {
    const { picture, mask } = furry(36, 20);
    const { curve } = planTone(averageCells(picture.pixels, SIDE, SIDE, SIDE, SIDE), mask);
    for (let L = 0; L < 1; L += 0.01) expect(curve(L + 0.01)).toBeGreaterThan(curve(L));
  });
});

describe('faces', () => {
  it.each([
    ['a cat', CAT],
    ['a person', PERSON],
  ])('finds the face of %s', async (_, svg) => {
    const { data } = await sharp(Buffer.from(svg)).blur(2).removeAlpha().raw().toBuffer({ resolveWithObject: true });
    const [face, ...more] = await findFaces({ pixels: new Uint8Array(data), width: 400, height: 400 });
    expect(more).toEqual([]);
    expect(Math.hypot(face!.x - 0.5, face!.y - 0.52)).toBeLessThan(0.05);
    expect(face!.r).toBeGreaterThan(0.2);
    expect(face!.r).toBeLessThan(0.33);
  });

  it('finds none in a duck and a sheep', async () => {
    for (const name of ['duck-white-on-black.jpg', 'sheep-white-on-green.jpg'])
      expect(await findFaces(await read(`photos/${name}`))).toEqual([]);
  });

  it('shows a face truer than the rest where nothing else is known of the photo', async () => {
    const picture = await read('photos/duck-white-on-black.jpg');
    const settings = { ...options, shades: 5, background: 'keep' } as const;
    const { likely, ...seen } = await seePicture(picture, settings);
    expect(likely).toBeDefined();
    const face = { x: 0.77, y: 0.2, r: 0.12 };
    const off = async (faces: (typeof face)[]): Promise<number> => {
      const { labels, fabrics, choices } = await shadePicture(picture, settings, undefined, { ...seen, faces });
      expect(choices.faces ?? []).toEqual(faces);
      const colours = fabrics.map((f) => oklabOfHex(f.colour));
      const plain = seen.plain.lab;
      let [sum, n] = [0, 0];
      labels.forEach((l, i) => {
        if (Math.hypot((i % 192) / 192 - face.x, Math.floor(i / 192) / 192 - face.y) > face.r) return;
        sum += labDistance(colours[l]!, [plain[3 * i]!, plain[3 * i + 1]!, plain[3 * i + 2]!]);
        n++;
      });
      return sum / n;
    };
    expect(await off([face])).toBeLessThan(await off([]));
  });

  it('keeps the models that the list beside them names', () => {
    const readme = readFileSync(join(root, 'src/shade/face-model/README.md'), 'utf8');
    for (const name of ['cat-face.xml', 'human-face.xml']) {
      const bytes = readFileSync(join(root, 'src/shade/face-model', name));
      expect(readme).toContain(createHash('sha256').update(bytes).digest('hex'));
      expect(bytes.toString('utf8')).toContain('Redistribution and use in source and binary forms');
    }
  });
});
