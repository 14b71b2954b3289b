import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import type { Work } from '../../src/page/api.ts';
import { ask, beginBlock, caughtUp, clickPiece, idOf, open, PATIENT, program } from './opened.ts';

type Box = { x: number; y: number; width: number; height: number };

const fill = (page: Page, name: string): Promise<string | null> =>
  page.locator(`[data-piece="${name}"]`).getAttribute('fill');
const picked = (page: Page): Promise<number> => page.locator('[data-piece][aria-selected="true"]').count();
/** Where a place of the block is on the screen. */
const onScreen = (page: Page, at: readonly [number, number]): Promise<[number, number]> =>
  page.evaluate(`(() => {
    const p = new DOMPoint(${at[0]}, ${at[1]}).matrixTransform(document.querySelector('svg.block').getScreenCTM());
    return [p.x, p.y];
  })()`) as Promise<[number, number]>;

export function testHeld(): void {
  describe('the hand on the block', () => {
    test('the hand first: a recolouring is drawn before the program has answered, in any color, from one shelf', async () => {
      const page = await open();
      const block = await beginBlock(page, 'hand');
      const id = idOf(page);
      await clickPiece(page, 'A1');
      let answer: () => void = () => {};
      const held = new Promise<void>((go) => (answer = go));
      await page.route('**/changes', async (route) => {
        await held;
        await route.continue();
      });
      const [other] = block.fabrics.filter((f) => f.id !== block.sections[0]!.pieces[0]!.fabric);
      await page.getByRole('button', { name: other!.name, exact: true }).click();
      // nothing has been answered, and it is drawn
      await expect.poll(() => fill(page, 'A1'), PATIENT).toBe(other!.colour);
      expect((await ask<Work>(`works/${id}`)).stage).toBe('changed');
      expect((await ask<Work>(`works/${id}`)).undo).toBeUndefined();
      answer();
      await expect.poll(async () => (await ask<Work>(`works/${id}`)).undo, PATIENT).toContain('A1');
      await page.unroute('**/changes');
      // Ctrl+Z and Ctrl+Y
      await caughtUp(page);
      await page.keyboard.press('Control+z');
      await expect.poll(() => fill(page, 'A1'), PATIENT).not.toBe(other!.colour);
      await caughtUp(page);
      await page.keyboard.press('Control+y');
      await expect.poll(() => fill(page, 'A1'), PATIENT).toBe(other!.colour);
      await caughtUp(page);
      // any color at all
      await page.getByLabel('Any color').fill('#12a4b8');
      await page.getByLabel('Called').fill('teal');
      await page.getByRole('button', { name: 'Use it' }).click();
      await expect.poll(() => fill(page, 'A1'), PATIENT).toBe('#12a4b8');
      const newest = async () => (await ask<Work>(`works/${id}`)).block!.fabrics.at(-1);
      await expect.poll(newest, PATIENT).toMatchObject({ name: 'teal', colour: '#12a4b8' });
      const now = (await ask<Work>(`works/${id}`)).block!;
      expect(checkBlock(now).faults).toEqual([]);
      // put on the shelf at another time, it is there for this one
      await fetch(new URL('api/shelf', program.address), {
        method: 'POST',
        body: JSON.stringify({ fabrics: [{ name: 'clover', colour: '#8a3f73' }] }),
      });
      await page.getByRole('button', { name: 'clover', exact: true }).click();
      await expect.poll(() => fill(page, 'A1'), PATIENT).toBe('#8a3f73');
    });

    test('seams and pieces are taken hold of on the block: dragged, refused live, boxed, looped, divided by a double tap', async () => {
      const page = await open();
      const block = await beginBlock(page, 'held');
      const id = idOf(page);
      const shape = async (): Promise<string> =>
        JSON.stringify(((await ask<Work>(`works/${id}`)).block as Block).sections);
      const first = await shape();
      // the longest seam of a piece, by its middle
      const seams = block.sections.flatMap((s) => s.pieces.flatMap((p) => (p.seam ? [p.seam] : [])));
      const length = ([a, b]: (typeof seams)[number]): number => Math.hypot(b[0] - a[0], b[1] - a[1]);
      const seam = seams.reduce((a, b) => (length(b) > length(a) ? b : a));
      const middle = [(seam[0][0] + seam[1][0]) / 2, (seam[0][1] + seam[1][1]) / 2] as const;
      const along = [(seam[1][0] - seam[0][0]) / length(seam), (seam[1][1] - seam[0][1]) / length(seam)] as const;
      const from = await onScreen(page, middle);
      const off = (mm: number): Promise<[number, number]> =>
        onScreen(page, [middle[0] - along[1] * mm, middle[1] + along[0] * mm]);
      await page.mouse.move(...from);
      await page.locator('.seam-under-hand').waitFor({ state: 'attached' });
      await page.mouse.down();
      // far off: the line turns, a word says why, and letting go leaves it where it was
      await page.mouse.move(...(await off(150)), { steps: 3 });
      await page.locator('.refused-seam').waitFor({ state: 'attached' });
      expect((await page.locator('.live-refusal').textContent())!.length).toBeGreaterThan(15);
      await page.mouse.up();
      await page.getByRole('alert').filter({ hasText: 'where it was' }).waitFor();
      // the refusal is on the screen
      const said = (await page.locator('.refusal').boundingBox()) as Box;
      expect(said.y + said.height).toBeLessThan(900);
      await page.getByRole('button', { name: 'OK' }).click();
      expect(await shape()).toBe(first);
      // a little: it is so, and can be sewn
      await page.mouse.move(...from);
      await page.mouse.down();
      await page.mouse.move(...(await off(3)), { steps: 4 });
      await page.locator('.held .new-seam').waitFor({ state: 'attached' });
      await page.mouse.up();
      await expect.poll(shape, PATIENT).not.toBe(first);
      expect(checkBlock((await ask<Work>(`works/${id}`)).block!).faults).toEqual([]);
      await caughtUp(page);
      // Escape lets go
      const second = await shape();
      await page.mouse.move(...(await off(3)));
      await page.mouse.down();
      await page.mouse.move(...(await off(8)), { steps: 3 });
      await page.keyboard.press('Escape');
      await page.mouse.up();
      expect(await shape()).toBe(second);

      // which seam: those about the picked piece, not all there are
      await clickPiece(page, 'A1');
      await page.getByRole('button', { name: 'Seam: move it' }).click();
      const offered = await page.getByLabel('Which seam').locator('option').count();
      expect(offered).toBeGreaterThan(1);
      expect(offered).toBeLessThan(seams.length / 2);
      await page.getByRole('button', { name: 'Pick pieces' }).click();
      await page.getByRole('button', { name: 'Clear selection' }).click();

      // a box takes whole pieces; a loop too
      const box = (await page.locator('svg.block').boundingBox()) as Box;
      await page.mouse.move(box.x + 3, box.y + 3);
      await page.mouse.down();
      await page.mouse.move(box.x + box.width - 3, box.y + box.height - 3, { steps: 4 });
      await page.mouse.up();
      await expect.poll(() => picked(page), PATIENT).toBe(block.sections.flatMap((s) => s.pieces).length);
      await page.getByRole('button', { name: 'Clear selection' }).click();
      await page.getByRole('button', { name: 'Loop around pieces' }).click();
      await page.mouse.move(box.x + 6, box.y + 6);
      await page.mouse.down();
      for (const [u, v] of [
        [1, 0],
        [1, 0.5],
        [0, 0.5],
      ] as const)
        await page.mouse.move(box.x + 6 + u * (box.width - 12), box.y + 6 + v * (box.height - 12), { steps: 3 });
      await page.locator('.held .loop').waitFor({ state: 'attached' });
      await page.mouse.up();
      await expect.poll(async () => (await picked(page)) > 2, PATIENT).toBe(true);
      await page.getByRole('button', { name: 'Pick pieces' }).click();
      await page.getByRole('button', { name: 'Clear selection' }).click();

      // a double tap lays the shortest cut across the piece
      const area = (q: readonly (readonly [number, number])[]): number =>
        Math.abs(q.reduce((t, a, i) => t + a[0] * q[(i + 1) % q.length]![1] - q[(i + 1) % q.length]![0] * a[1], 0)) / 2;
      const largest = block.sections
        .flatMap((s) => s.pieces.map((p) => ({ name: `${s.id}${p.number}`, p })))
        .reduce((a, b) => (area(b.p.outline) > area(a.p.outline) ? b : a));
      const centre = [0, 1].map((k) => largest.p.outline.reduce((t, q) => t + q[k]!, 0) / largest.p.outline.length);
      await page.mouse.dblclick(...(await onScreen(page, [centre[0]!, centre[1]!])));
      await page.locator('.divide .new-seam').waitFor({ state: 'attached' });
      await page.getByRole('button', { name: `Divide ${largest.name} along the line` }).click();
      const count = async (): Promise<number> =>
        (await ask<Work>(`works/${id}`)).block!.sections.flatMap((s) => s.pieces).length;
      await expect.poll(count, PATIENT).toBe(block.sections.flatMap((s) => s.pieces).length + 1);
    });
  });
}
