import { describe, expect, test } from 'vitest';
import { readBlock } from '../../src/block.ts';
import type { Work, WorkLine } from '../../src/page/api.ts';
import { fixture } from '../cli/run-program.ts';
import { dropFile } from './browser.ts';

import { ask, download, FOX, idOf, judgePacket, open, pieces, READY, radio, ready } from './opened.ts';

export function testWholeWay(): void {
  describe('from a picture to a packet', () => {
    test('dropped, looked at, printed', async () => {
      const page = await open();
      await dropFile(page, FOX, 'fox.svg', 'image/svg+xml');
      await page.waitForURL(/#\/work\//);
      await pieces(page).first().waitFor(READY);
      await ready(page);
      await page.getByRole('link', { name: 'Print it' }).click();
      await radio(page, 'Paper', 'Letter').check();
      await ready(page);
      await page.getByRole('button', { name: /^Sheet 1: / }).waitFor(READY);
      const id = idOf(page);
      const pdf = await download(page, () => page.getByRole('link', { name: 'Save the packet (PDF)' }).click());
      await judgePacket(pdf, id);
      await page.getByText('Other files').click();
      const file = await download(page, () => page.getByRole('link', { name: 'Block file' }).click());
      const block = readBlock(new TextDecoder().decode(file), 'fox.block.json');
      expect(block.sections.length).toBe((await ask<Work>(`works/${id}`)).block!.sections.length);
      for (const name of ['Picture of the block', /for an editor/, /DXF|for a cutter$/, /as pictures/, /as a table/]) {
        const bytes = await download(page, () => page.getByRole('link', { name }).first().click());
        expect(bytes.length).toBeGreaterThan(200);
      }
      await page.getByRole('button', { name: /^Sheet 1: / }).click();
      await page.getByRole('dialog').getByRole('img').waitFor();
      await page.keyboard.press('Escape');
      expect(await page.getByRole('dialog').count()).toBe(0);
    });

    test('with the keyboard alone', async () => {
      const page = await open();
      const tabTo = async (name: RegExp): Promise<void> => {
        for (let n = 0; n < 80; n++) {
          await page.keyboard.press('Tab');
          const focused = page.locator('*:focus');
          if ((await focused.count()) && name.test((await focused.first().textContent())!.trim())) return;
        }
        throw new Error(`Tab never came to ${name}`);
      };
      // listened for before it can come: the browser is told to keep its own window away
      const chooser = page.waitForEvent('filechooser', READY);
      await tabTo(/^Choose a picture$/);
      await page.keyboard.press('Enter');
      await (await chooser).setFiles(FOX);
      await page.waitForURL(/#\/work\//);
      await ready(page);
      await tabTo(/^Print it$/);
      await page.keyboard.press('Enter');
      await page.waitForURL(/\/paper$/);
      await radio(page, 'Paper', 'Letter').waitFor();
      await tabTo(/^Save the packet/);
      const pdf = await download(page, () => page.keyboard.press('Enter'));
      expect(new TextDecoder('latin1').decode(pdf.slice(0, 5))).toBe('%PDF-');
    });

    test('a file that is no picture says so, and nothing is begun', async () => {
      const page = await open();
      const before = (await ask<WorkLine[]>('works')).length;
      await page.getByLabel('Picture or block file').setInputFiles(fixture('hostile/html-named.jpg'));
      const alert = page.getByRole('alert').filter({ hasText: 'html-named.jpg' });
      await alert.waitFor(READY);
      expect((await alert.textContent())!.length).toBeGreaterThan(30);
      await page.getByRole('button', { name: 'OK' }).click();
      expect(await ask<WorkLine[]>('works')).toHaveLength(before);
    });
  });
}
