import { describe, expect, test } from 'vitest';
import type { Work } from '../../src/page/api.ts';

import { ask, beginBlock, foxWork, idOf, open, PATIENT, pieces, program, READY, radio, ready } from './opened.ts';

export function testSewing(): void {
  describe('cloth, sewing, comparing', () => {
    test('a section is stepped through from both sides, and ticks stay', async () => {
      const page = await open();
      const block = await beginBlock(page, 'sewn');
      await page.getByRole('link', { name: 'Sew', exact: true }).click();
      await page.getByRole('button', { name: 'I’ve read these' }).click();
      await page.getByRole('heading', { name: 'A1', exact: true }).waitFor();
      const shape = (): Promise<string | null> => page.locator('.step-picture .paper-shape').first().getAttribute('d');
      const front = await shape();
      await radio(page, 'Seen from', 'the paper side').check();
      expect(await shape()).not.toBe(front);
      await page.getByRole('img', { name: 'Seen from the paper side' }).waitFor();
      await radio(page, 'Seen from', 'the front').check();
      expect(await shape()).toBe(front);
      await page.getByRole('button', { name: 'Done, next' }).click();
      const steps = block.sections.reduce((n, s) => n + s.pieces.length + 1, 0) + block.joins.length;
      await page.getByText(`1 of ${steps} steps ticked`).waitFor();
      await page.getByRole('button', { name: 'Full screen for sewing' }).click();
      const large = (await page.locator('.sew').boundingBox())!;
      expect([large.width, large.height]).toEqual([1280, 900]);
      await page.keyboard.press('Escape');
      await page.reload();
      await page.getByText(`1 of ${steps} steps ticked`).waitFor();
      expect(await page.getByRole('button', { name: 'I’ve read these' }).count()).toBe(0);
      await page.getByLabel('Go to').selectOption('joins');
      await page.getByRole('heading', { name: 'Join 1' }).waitFor();
      await page.getByRole('button', { name: 'Back', exact: true }).click();
      await page.getByRole('heading', { name: /^Trim section / }).waitFor();

      await page.getByRole('link', { name: 'Fabric', exact: true }).click();
      await page.getByText('For the block as it is now.').waitFor(READY);
      expect(await page.locator('.fabric-card').count()).toBe(
        new Set(block.sections.flatMap((s) => s.pieces.map((p) => p.fabric))).size,
      );
    });

    test('blocks side by side; the one that is clicked is made', async () => {
      const page = await open();
      await page.goto(`${program.address}#/work/${await foxWork(page)}`);
      await ready(page);
      await page.getByRole('link', { name: 'Compare', exact: true }).click();
      // no lists to type: a few ticks, of numbers about those that the block has
      for (const [group, wanted] of [
        ['Fabrics', ['3', '4']],
        ['Pieces', ['20', '30']],
      ] as const) {
        const box = page.getByRole('group', { name: group, exact: true }).getByRole('checkbox');
        await box.first().waitFor(READY);
        for (const one of await box.all()) await one.uncheck();
        for (const n of wanted)
          await page.getByRole('group', { name: group, exact: true }).getByLabel(n, { exact: true }).check();
      }
      await page.getByRole('button', { name: 'Compare', exact: true }).click();
      // first looks fill the cells while the whole blocks are made
      await page.locator('.first-look path').first().waitFor(READY);
      await page.locator('button.cell').first().waitFor(READY);
      expect(await page.locator('button.cell').count()).toBe(4);
      expect(await page.locator('.cell.best').count()).toBe(1);
      await page.locator('.cell.best').click();
      await page.waitForURL(/\/picture$/);
      const id = idOf(page);
      await expect.poll(async () => (await ask<Work>(`works/${id}`)).settings.pieces, PATIENT).toBeLessThan(31);
      await pieces(page).first().waitFor(READY);
    });
  });
}
