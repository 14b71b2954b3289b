import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { Work } from '../../src/page/api.ts';
import {
  ask,
  beginBlock,
  caughtUp,
  clickPiece,
  foxWork,
  idOf,
  open,
  PATIENT,
  program,
  READY,
  ready,
} from './opened.ts';

type Box = { x: number; y: number; width: number; height: number };

const picked = (page: Page): Promise<number> => page.locator('[data-piece][aria-selected="true"]').count();
/** Where a place of the block is on the screen. */
const onScreen = (page: Page, at: readonly [number, number]): Promise<[number, number]> =>
  page.evaluate(`(() => {
    const p = new DOMPoint(${at[0]}, ${at[1]}).matrixTransform(document.querySelector('svg.block').getScreenCTM());
    return [p.x, p.y];
  })()`) as Promise<[number, number]>;
const viewBox = (page: Page): Promise<number[]> =>
  page.evaluate(`document.querySelector('svg.block').getAttribute('viewBox').split(' ').map(Number)`) as Promise<
    number[]
  >;

export function testEditor(): void {
  describe('the editor', () => {
    test('fits the block to every window under a slim bar; wheel, fingers, keys and buttons bring it nearer', async () => {
      const page = await open('', { hasTouch: true });
      await beginBlock(page, 'fitted');
      for (const [width, height] of [
        [390, 844],
        [820, 1180],
        [1280, 800],
        [1920, 1080],
      ] as const) {
        await page.setViewportSize({ width, height });
        const bar = (await page.locator('.work-bar').boundingBox()) as Box;
        expect(bar.height, `bar at ${width}`).toBeLessThanOrEqual(width < 1100 ? 104 : 60);
        const block = (await page.locator('svg.block').boundingBox()) as Box;
        expect(block.x).toBeGreaterThanOrEqual(0);
        expect(block.x + block.width).toBeLessThanOrEqual(width);
        expect(block.y).toBeGreaterThanOrEqual(bar.height - 1);
        expect(block.y + block.height).toBeLessThanOrEqual(height);
        // as large as it can be: at least half of the shorter side on a phone, of the height else
        expect(block.width, `block at ${width}`).toBeGreaterThan(width < 720 ? width / 2 : height * 0.33);
        // in sight while the settings are scrolled to their end
        await page.mouse.wheel(0, 0);
        await page.evaluate('scrollTo(0, document.body.scrollHeight)');
        await expect
          .poll(async () => ((await page.locator('svg.block').boundingBox()) as Box).y, PATIENT)
          .toBeGreaterThanOrEqual(0);
        const still = (await page.locator('svg.block').boundingBox()) as Box;
        expect(still.y + still.height).toBeLessThanOrEqual(height);
        await page.evaluate('scrollTo(0, 0)');
      }
      await page.setViewportSize({ width: 1280, height: 800 });
      const whole = await viewBox(page);
      const [x, y] = await onScreen(page, [76, 76]);
      await page.mouse.move(x, y);
      await page.mouse.wheel(0, -400);
      await expect.poll(async () => (await viewBox(page))[2]! < whole[2]! * 0.8, PATIENT).toBe(true);
      // what was under the pointer is there still
      const [x2, y2] = await onScreen(page, [76, 76]);
      expect(Math.hypot(x2 - x, y2 - y)).toBeLessThan(2);
      await page.keyboard.press('Shift+ArrowRight');
      await expect.poll(async () => (await onScreen(page, [76, 76]))[0], PATIENT).toBeLessThan(x - 20);
      await page.keyboard.press('0');
      await expect.poll(() => viewBox(page), PATIENT).toEqual(whole);
      await page.keyboard.press('+');
      await expect.poll(async () => (await viewBox(page))[2]! < whole[2]!, PATIENT).toBe(true);
      await page.getByRole('button', { name: 'Fit the block to the window' }).click();
      await expect.poll(() => viewBox(page), PATIENT).toEqual(whole);
      // two fingers apart
      await page.evaluate(`(() => {
        const svg = document.querySelector('svg.block');
        const send = (kind, id, x, y) => (kind === 'pointerdown' ? svg : window).dispatchEvent(
          new PointerEvent(kind, { pointerId: id, clientX: x, clientY: y, bubbles: true, pointerType: 'touch', button: 0, buttons: 1 }));
        const b = svg.getBoundingClientRect();
        const [cx, cy] = [b.x + b.width / 2, b.y + b.height / 2];
        send('pointerdown', 11, cx - 20, cy);
        send('pointerdown', 12, cx + 20, cy);
        send('pointermove', 11, cx - 60, cy);
        send('pointermove', 12, cx + 60, cy);
        send('pointerup', 11, cx - 60, cy);
        send('pointerup', 12, cx + 60, cy);
      })()`);
      await expect.poll(async () => (await viewBox(page))[2]! < whole[2]! / 2, PATIENT).toBe(true);
      // the panel folds, and the block takes its room
      await page.keyboard.press('0');
      const before = (await page.locator('.canvases').boundingBox()) as Box;
      await page.getByRole('button', { name: 'Hide settings' }).click();
      const after = (await page.locator('.canvases').boundingBox()) as Box;
      expect(after.width).toBeGreaterThan(before.width + 200);
      await page.getByRole('button', { name: 'Show settings' }).click();
    });

    test('nothing is lost in silence: a name fits nothing again; another fit asks, keeps a copy, ends picks', async () => {
      const page = await open();
      await page.goto(`${program.address}#/work/${await foxWork(page)}`);
      await page.reload();
      await ready(page);
      const id = idOf(page);
      const before = await ask<Work>(`works/${id}`);
      await page.getByLabel('Name of the block').fill('garden fox');
      await page.keyboard.press('Enter');
      await expect.poll(async () => (await ask<Work>(`works/${id}`)).name, PATIENT).toBe('garden fox');
      const named = await ask<Work>(`works/${id}`);
      expect(named.stage).toBe('full');
      expect(named.block!.sections).toEqual(before.block!.sections);
      // likeness is said in words
      expect(await page.locator('.likeness h3').textContent()).toMatch(/^Likeness: (Very close|Close|Fair|Loose)$/);
      // a change by hand, and marks on pieces
      await page.getByRole('link', { name: 'Edit', exact: true }).click();
      await page.getByRole('button', { name: 'Pick pieces' }).waitFor();
      await clickPiece(page, 'A1');
      await page.locator('.fabric-button').last().click();
      await expect.poll(async () => (await ask<Work>(`works/${id}`)).byHand, PATIENT).toBe(1);
      await caughtUp(page);
      expect(await picked(page)).toBe(1);
      // another task begins at its top
      await page.evaluate('scrollTo(0, 400)');
      await page.getByRole('link', { name: 'Design', exact: true }).click();
      await expect.poll(() => page.evaluate('scrollY'), PATIENT).toBe(0);
      const slider = page.getByRole('slider', { name: 'Pieces, at most' });
      await slider.fill('20');
      const dialog = page.getByRole('dialog', { name: 'Your change would be set aside' });
      await dialog.waitFor(READY);
      await dialog.getByRole('button', { name: 'Cancel' }).click();
      await expect.poll(() => slider.inputValue(), PATIENT).toBe(String(before.settings.pieces));
      expect((await ask<Work>(`works/${id}`)).byHand).toBe(1);
      await slider.fill('20');
      await dialog.getByRole('button', { name: 'Keep them in a copy, then refit' }).click();
      await expect.poll(async () => (await ask<Work>(`works/${id}`)).settings.pieces, PATIENT).toBe(20);
      await expect
        .poll(async () => (await ask<Work[]>('works')).filter((w) => w.name === 'garden fox').length, PATIENT)
        .toBe(2);
      const copy = (await ask<Work[]>('works')).find((w) => w.name === 'garden fox' && w.id !== id)!;
      expect((await ask<Work>(`works/${copy.id}`)).byHand).toBe(1);
      // the block is another: what was picked is picked no more
      await expect.poll(() => picked(page), PATIENT).toBe(0);
      await expect
        .poll(async () => (await ask<Work>(`works/${id}`)).notes.join(' '), PATIENT)
        .toMatch(/your (1 )?changes/i);
    });

    test('a quilt is planned on the page; ticks and the tablet’s door are the program’s', async () => {
      const page = await open();
      const block = await beginBlock(page, 'quilted');
      const id = idOf(page);
      await page.getByRole('link', { name: 'Sew', exact: true }).click();
      await page.getByRole('button', { name: 'Done, next' }).click();
      await expect.poll(async () => (await ask<string[]>(`works/${id}/ticks`)).length, PATIENT).toBe(1);
      // on a phone the press that comes after every step is on the screen
      await page.setViewportSize({ width: 390, height: 844 });
      const next = (await page.getByRole('button', { name: 'Done, next' }).boundingBox()) as Box;
      expect(next.y + next.height).toBeLessThanOrEqual(844);
      await page.setViewportSize({ width: 1280, height: 900 });
      await page.getByRole('button', { name: 'Use on a tablet at home' }).click();
      expect(await page.locator('.ask-dialog').textContent()).toContain('not encrypted');
      await page.getByRole('button', { name: 'Cancel' }).click();
      expect((await ask<{ tablet?: unknown }>('here')).tablet).toBeUndefined();

      await page.getByRole('link', { name: 'All projects' }).click();
      await page.getByRole('button', { name: 'Make a series, a class or a quilt' }).click();
      await page.getByRole('radio', { name: 'A quilt', exact: true }).check({ force: true });
      await page.getByRole('checkbox', { name: /^quilted: / }).check();
      await page.getByText('Finished top').waitFor(READY);
      await page.getByRole('slider', { name: 'Rows' }).fill('2');
      await page.getByRole('slider', { name: 'Columns' }).fill('2');
      await expect.poll(() => page.locator('.quilt-block').count(), PATIENT).toBe(4);
      // 2 blocks of 12 in, 3 sashings of 1 in, 2 borders of 3 in
      const side = Math.round((2 * block.size[0]) / 25.4 + 3 + 6);
      await page.getByText(`Finished top ${side} x ${side} in`).waitFor(READY);
      // turned by a press
      const place = page.locator('[data-place="0"]');
      const name = await place.getAttribute('aria-label');
      await place.press('r');
      await expect.poll(() => place.getAttribute('aria-label'), PATIENT).not.toBe(name);
      await page.getByRole('radio', { name: 'A class', exact: true }).check({ force: true });
      await page.getByText(/^11 blocks/).waitFor(READY);
    });
  });
}
