import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Series, Work } from '../../src/page/api.ts';
import { fixture } from '../cli/run-program.ts';

import { ask, FOX, idOf, open, PATIENT, READY } from './opened.ts';

export function testComingIn(): void {
  describe('pictures come in', () => {
    test('pasted, and as a phone writes them', async () => {
      const page = await open();
      const shown = (): Promise<unknown> => page.evaluate(`document.querySelector('.picture-stage img')?.naturalWidth`);
      const isShown = (): Promise<void> => expect.poll(async () => Number(await shown()) > 100, PATIENT).toBe(true);
      await page.evaluate(`(() => {
        const transfer = new DataTransfer();
        transfer.items.add(new File([${JSON.stringify(readFileSync(FOX, 'utf8'))}], 'pasted.svg', { type: 'image/svg+xml' }));
        document.body.dispatchEvent(new ClipboardEvent('paste', { clipboardData: transfer, bubbles: true }));
      })()`);
      await page.waitForURL(/#\/work\/pasted/);
      await isShown();

      await page.getByRole('link', { name: 'Seamwright' }).click();
      await page.getByLabel('Picture or block file').setInputFiles(fixture('photos/fmt-heic-duck.heic'));
      await page.waitForURL(/#\/work\/fmt-heic-duck/);
      await isShown();
      expect((await ask<Work>(`works/${idOf(page)}`)).picture!.width).toBeGreaterThan(100);
    });

    test('several at once become a series with a gallery', async () => {
      const page = await open();
      const names = ['twemoji-sunflower', 'fluent-emoji-flat-butterfly'];
      await page.getByLabel('Picture or block file').setInputFiles(names.map((n) => fixture(`flat/${n}.svg`)));
      for (const name of names) await page.locator('.card-name', { hasText: name }).waitFor(READY);
      // they are ticked for one, and nothing else is
      const make = page.locator('.make-series button[type=submit]');
      await expect.poll(() => page.locator('.make-series .tick-list input:checked').count(), PATIENT).toBe(2);
      for (const name of names) expect(await page.getByRole('checkbox', { name }).isChecked()).toBe(true);
      await page.getByRole('checkbox', { name: names[0]! }).uncheck();
      expect(await make.isDisabled()).toBe(true);
      await page.getByRole('checkbox', { name: names[0]! }).check();
      await page.getByLabel('Name of the series').fill('garden');
      await make.click();
      await page.getByRole('heading', { name: 'garden' }).waitFor(READY);
      await page
        .getByRole('status')
        .filter({ hasText: /^2 blocks from \d fabrics/ })
        .waitFor(READY);
      const id = /#\/series\/([^/]+)/.exec(page.url())![1]!;
      const series = await ask<Series>(`series/${id}`);
      expect(await page.locator('.common-fabrics li').count()).toBe(series.fabrics.length);
      const known = new Set(series.fabrics.map((f) => `${f.code} ${f.colour}`));
      for (const w of series.works) {
        const { block } = await ask<Work>(`works/${w}`);
        expect(block!.fabrics.filter((f) => !known.has(`${f.code} ${f.colour}`))).toEqual([]);
      }
      // every card shows its block, also the one that was not there when the card was
      const drawn = "[...document.querySelectorAll('.card img')].map((i) => i.naturalWidth > 0)";
      await expect.poll(() => page.evaluate(drawn), PATIENT).toEqual([true, true]);
      expect(await page.locator('#series-files ~ ul a').count()).toBe(series.files.length);
    });
  });
}
