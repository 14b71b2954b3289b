import { readFileSync } from 'node:fs';
import { unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { Series, Work } from '../../src/page/api.ts';
import { fixture } from '../cli/run-program.ts';

import { ask, download, FOX, idOf, open, PATIENT, program, READY } from './opened.ts';

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

      await page.getByRole('link', { name: 'All projects' }).click();
      await page.getByLabel('Picture or block file').setInputFiles(fixture('photos/fmt-heic-duck.heic'));
      await page.waitForURL(/#\/work\/fmt-heic-duck/);
      await isShown();
      expect((await ask<Work>(`works/${idOf(page)}`)).picture!.width).toBeGreaterThan(100);
    });

    test('several at once: named at once, a broken one said at once; a series of them keeps what is locked', async () => {
      const page = await open();
      const names = ['twemoji-sunflower', 'fluent-emoji-flat-butterfly'];
      const files = [...names.map((n) => fixture(`flat/${n}.svg`)), fixture('hostile/empty.jpg')];
      const asked = page.waitForRequest((r) => r.method() === 'POST' && r.url().endsWith('api/works'), READY);
      await page.getByLabel('Picture or block file').setInputFiles(files);
      await asked;
      // all of them by name, before the first is there
      expect(await page.locator('.bringing li').count()).toBe(3);
      await page.getByRole('alert').filter({ hasText: 'empty.jpg' }).waitFor(READY);
      await page.getByText('2 of 3 pictures are here').waitFor(READY);
      await page.locator('.bringing').getByRole('button', { name: 'OK' }).click();
      for (const name of names) await page.locator('.card-name', { hasText: name }).waitFor(READY);
      // they are ticked for one, and nothing else is
      const tick = (name: string) => page.getByRole('checkbox', { name: new RegExp(name) });
      await expect.poll(() => page.locator('.card input:checked').count(), PATIENT).toBe(2);
      for (const name of names) expect(await tick(name).isChecked()).toBe(true);
      const make = page.locator('.make-series button[type=submit]');
      await tick(names[0]!).uncheck();
      expect(await make.isDisabled()).toBe(true);
      await tick(names[0]!).check();
      // how many fabrics, and one that must be among them
      await fetch(new URL('api/shelf', program.address), {
        method: 'POST',
        body: JSON.stringify({ fabrics: [{ name: 'garden green', colour: '#2f8f3a' }] }),
      });
      await page.getByLabel('garden green').check();
      await page.getByRole('slider', { name: 'Fabrics for all together' }).fill('5');
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
      expect(series.fabrics).toHaveLength(5);
      expect(series.fabrics).toContainEqual(expect.objectContaining({ name: 'garden green', colour: '#2f8f3a' }));
      await page.getByText('Before and after').click();
      await expect.poll(() => page.locator('.before-after img').count(), PATIENT).toBe(4);
      const known = new Set(series.fabrics.map((f) => `${f.code} ${f.colour}`));
      for (const w of series.works) {
        const { block } = await ask<Work>(`works/${w}`);
        expect(block!.fabrics.filter((f) => !known.has(`${f.code} ${f.colour}`))).toEqual([]);
      }
      // all packets at one press
      const zip = await download(page, () => page.getByRole('link', { name: 'All packets (ZIP)' }).click());
      expect(Object.keys(unzipSync(zip)).sort()).toEqual(names.map((n) => `${n}-A.packet.pdf`).sort());
      // every card shows its block, also the one that was not there when the card was
      const drawn = "[...document.querySelectorAll('.card img')].map((i) => i.naturalWidth > 0)";
      await expect.poll(() => page.evaluate(drawn), PATIENT).toEqual([true, true]);
      expect(await page.locator('#series-files ~ ul a').count()).toBe(series.files.length);
    });
  });
}
