import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import type { Box, Settings, Work } from '../../src/page/api.ts';
import { fixture } from '../cli/run-program.ts';

import { judge } from './everyone.ts';
import { ask, idOf, open, PATIENT, program, READY, radio } from './opened.ts';

const CAT = fixture('photos/cat-chelsea-face.jpg');
/** a dog so far away that its face is only guessed */
const DOG = fixture('photos/dog-shepherd-dry-grass.jpg');
/** CSS pixels that a finger needs (WCAG 2.2, 2.5.5) */
const TARGET = 44;
/** shares: a pixel of the page is about a third of a percent of the picture */
const NEAR = 0.01;

type Spot = Exclude<Settings['eyes'], 'auto'>[number];

export function testFace(): void {
  describe('eyes and nose on the picture', () => {
    test('are found, and can be moved, removed, placed and found again by mouse and keys', async () => {
      const page = await open();
      await page.getByLabel('Picture or block file').setInputFiles(CAT);
      await page.waitForURL(/#\/work\//);
      const id = idOf(page);
      const handle = (name: string) => page.getByRole('button', { name, exact: true });
      await page.getByRole('button', { name: 'Decide later' }).click();
      await handle('Left eye, found automatically').waitFor(READY);
      await handle('Nose, found automatically').waitFor(READY);
      const work = await ask<Work>(`works/${id}`);
      const figure = work.choices!.figure!;
      expect(figure).toMatchObject({ show: 'head', eyes: [{}, {}], nose: {} });
      const settings = async (): Promise<Settings> => (await ask<Work>(`works/${id}`)).settings;
      const spots = async (part: 'eyes' | 'nose'): Promise<readonly Spot[]> => {
        const now = (await settings())[part];
        return now === 'auto' ? [] : now;
      };
      const becomes = (part: Partial<Settings>): Promise<void> => expect.poll(settings, PATIENT).toMatchObject(part);

      await judge(page, 'a photo');
      // the handle is over what was found, and large enough for a finger
      const stage = (await page.locator('.picture-stage').boundingBox())!;
      for (const [name, part] of [
        ['Left eye, found automatically', figure.eyes[0]!],
        ['Right eye, found automatically', figure.eyes[1]!],
        ['Nose, found automatically', figure.nose!],
      ] as const) {
        const box = (await handle(name).boundingBox())!;
        expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(TARGET - 0.5);
        expect((box.x + box.width / 2 - stage.x) / stage.width).toBeCloseTo(part.x, 2);
        expect((box.y + box.height / 2 - stage.y) / stage.height).toBeCloseTo(part.y, 2);
      }

      // dragged: it goes with the pointer, the other eye stays
      const at = (x: number, y: number) => [stage.x + x * stage.width, stage.y + y * stage.height] as const;
      const [left, right] = figure.eyes;
      await page.mouse.move(...at(left!.x, left!.y));
      await page.mouse.down();
      await page.mouse.move(...at(left!.x + 0.04, left!.y - 0.03), { steps: 4 });
      await page.mouse.up();
      await expect.poll(async () => (await spots('eyes')).length, PATIENT).toBe(2);
      const eyes = await spots('eyes');
      expect(Math.abs(eyes[0]!.x - left!.x - 0.04)).toBeLessThan(NEAR);
      expect(Math.abs(eyes[0]!.y - left!.y + 0.03)).toBeLessThan(NEAR);
      expect(eyes[1]).toEqual({ x: expect.closeTo(right!.x, 3), y: expect.closeTo(right!.y, 3) });
      // a drag is no tap: a second one soon after removes nothing
      await handle('Left eye').press('Shift+ArrowRight');
      await expect.poll(async () => (await spots('eyes'))[0]!.x, PATIENT).toBeCloseTo(eyes[0]!.x + 0.0125, 3);

      // two taps remove, and so does Delete
      await handle('Right eye').dblclick();
      await expect.poll(async () => (await spots('eyes')).length, PATIENT).toBe(1);
      await handle('Eye').press('Delete');
      await becomes({ eyes: [] });
      await page.locator('[data-face="nose-0"]').press('Delete');
      await becomes({ nose: [] });
      expect(await page.locator('[data-face]').count()).toBe(0);

      // placed by a click, and by keys
      await page.getByRole('button', { name: 'Place an eye' }).click();
      await page.mouse.click(...at(0.4, 0.4));
      await expect.poll(async () => (await spots('eyes')).length, PATIENT).toBe(1);
      await page.getByRole('button', { name: /^New eye/ }).waitFor();
      await page.mouse.click(...at(0.7, 0.45));
      await expect.poll(async () => (await spots('eyes')).length, PATIENT).toBe(2);
      expect(Math.abs((await spots('eyes'))[1]!.x - 0.7)).toBeLessThan(NEAR);
      await page.getByRole('button', { name: 'Place the nose' }).focus();
      await page.keyboard.press('Enter');
      await page.getByRole('button', { name: /^New nose/ }).waitFor();
      await page.keyboard.press('Shift+ArrowDown');
      await page.keyboard.press('Enter');
      await expect.poll(async () => (await spots('nose')).length, PATIENT).toBe(1);
      await expect.poll(() => page.evaluate('document.activeElement?.dataset.face'), PATIENT).toBe('nose-0');

      // step by step back, or all at once
      await page.getByRole('button', { name: /^Undo/ }).click();
      await becomes({ nose: [] });
      await page.getByRole('button', { name: 'Find them again' }).click();
      await becomes({ eyes: 'auto', nose: 'auto' });
      await handle('Left eye, found automatically').waitFor(READY);

      // the head's frame is tilted and reaches beyond the picture; taken hold of, it is upright, inside, and shows a head still
      await expect.poll(async () => (await ask<Work>(`works/${id}`)).choices?.turn, PATIENT).toBeGreaterThan(2);
      const { crop: found } = (await ask<Work>(`works/${id}`)).choices!;
      expect(Math.max(-found[0], -found[1], found[0] + found[2] - 1, found[1] + found[3] - 1)).toBeGreaterThan(0.05);
      await page.getByRole('button', { name: 'Move the block’s frame' }).press('ArrowRight');
      await expect.poll(async () => typeof (await settings()).crop, PATIENT).toBe('object');
      const { crop, show } = await settings();
      const [x, y, w, h] = crop as Box;
      expect(Math.min(x, y, 1 - x - w, 1 - y - h)).toBeGreaterThanOrEqual(-1e-3);
      expect(show).toBe('head');
      await expect.poll(() => radio(page, 'Show', 'My crop').isChecked(), PATIENT).toBe(true);
      expect(await page.locator('.refusal').count()).toBe(0);
    });

    test('a photo begins with finished designs, and the one that is pressed is made', async () => {
      const page = await open();
      await page.getByLabel('Picture or block file').setInputFiles(CAT);
      await page.waitForURL(/#\/work\//);
      const id = idOf(page);
      const designs = page.getByRole('region', { name: 'Choose a design to start with' });
      const animal = designs.getByRole('button', { name: 'Whole animal on a plain background' });
      for (const name of ['Head on a plain background', 'Whole animal on a plain background', 'Picture as it is'])
        await designs.getByRole('button', { name }).locator('svg path').first().waitFor(READY);
      const before = await ask<Work>(`works/${id}`);
      expect(before.undo).toBeUndefined();
      await animal.click();
      await expect
        .poll(async () => (await ask<Work>(`works/${id}`)).settings, PATIENT)
        .toMatchObject({ show: 'animal', crop: 'auto', background: 'auto' });
      expect(await designs.count()).toBe(0);

      // a look leaves the work as it is, and what makes no sense is refused
      const look = (body: unknown): Promise<Response> =>
        fetch(new URL(`api/works/${id}/looks`, program.address), { method: 'POST', body: JSON.stringify(body) });
      const small = (await (await look({ pieces: 12 })).json()) as Block;
      expect(checkBlock(small).faults).toEqual([]);
      // eyes and nose have pieces of their own beside the number
      expect(small.sections.flatMap((s) => s.pieces).length).toBeLessThan(before.settings.pieces / 2);
      expect((await ask<Work>(`works/${id}`)).settings.pieces).toBe(before.settings.pieces);
      expect((await look({ pieces: 1 })).status).toBe(422);
    });

    test('a guess is taken by one tap, also of a finger', async () => {
      const page = await open('', { hasTouch: true });
      await page.getByLabel('Picture or block file').setInputFiles(DOG);
      await page.waitForURL(/#\/work\//);
      const id = idOf(page);
      await page.getByRole('button', { name: 'Decide later' }).click();
      const guess = page.getByRole('button', { name: 'Left eye, a guess: press to confirm' });
      await guess.waitFor(READY);
      const { choices, notes } = await ask<Work>(`works/${id}`);
      const { eyes, nose } = choices!.figure!.guess!;
      expect(choices!.figure).toMatchObject({ eyes: [], show: 'animal' });
      // what is lost is said beside the block
      expect(await page.locator('#panel').getByText(notes[0]!).count()).toBe(1);
      // near enough to tell one from the other
      const apart = async (): Promise<number> => {
        const [a, b] = await Promise.all([0, 1].map((n) => page.locator(`[data-face="eye-${n}"]`).boundingBox()));
        return b!.x - a!.x;
      };
      const before = await apart();
      await page.getByRole('button', { name: 'Zoom to the face' }).click();
      await expect.poll(apart, PATIENT).toBeGreaterThan(2 * before);
      await guess.tap();
      const near = (p: { x: number; y: number }) => ({ x: expect.closeTo(p.x, 3), y: expect.closeTo(p.y, 3) });
      await expect
        .poll(async () => (await ask<Work>(`works/${id}`)).settings, PATIENT)
        .toMatchObject({ eyes: eyes.map(near), nose: [near(nose!)] });
      await page.getByRole('button', { name: 'Left eye', exact: true }).waitFor();
      await expect
        .poll(async () => (await ask<Work>(`works/${id}`)).choices?.figure, PATIENT)
        .toMatchObject({ show: 'head', eyes: [{ sure: 1 }, { sure: 1 }] });
    });
  });
}
