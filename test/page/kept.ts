import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Work, WorkLine } from '../../src/page/api.ts';
import { openTab, startProgram } from './browser.ts';

import {
  ask,
  beginBlock,
  chrome,
  clickPiece,
  FOX,
  folder,
  idOf,
  open,
  PATIENT,
  pieces,
  READY,
  ready,
} from './opened.ts';

export function testKept(): void {
  describe('nothing is lost', () => {
    test('two tabs show the same work', async () => {
      const one = await open();
      await beginBlock(one, 'shared');
      const two = await open(new URL(one.url()).hash);
      await ready(two);
      await clickPiece(one, 'A1');
      const name = (await one.locator('.fabric-button').last().textContent())!;
      await one.locator('.fabric-button').last().click();
      await expect
        .poll(() => two.locator('[data-piece="A1"]').getAttribute('aria-label'), PATIENT)
        .toContain(name.trim());
      await two.getByRole('button', { name: /^Undo/ }).click();
      await expect
        .poll(() => one.locator('[data-piece="A1"]').getAttribute('aria-label'), PATIENT)
        .not.toContain(name.trim());
    });

    test('reloading in the middle of a fit', async () => {
      const page = await open();
      await page.getByLabel('Picture or block file').setInputFiles(FOX);
      await page.waitForURL(/#\/work\//);
      await page.getByRole('slider', { name: 'Pieces, at most' }).fill('60');
      const pieces = async (): Promise<number> => (await ask<Work>(`works/${idOf(page)}`)).settings.pieces;
      await expect.poll(pieces, PATIENT).toBe(60);
      await page.reload();
      await ready(page);
      expect(await page.getByRole('slider', { name: 'Pieces, at most' }).inputValue()).toBe('60');
      await page.getByRole('link', { name: /All projects/ }).click();
      await page.getByRole('heading', { name: 'Your projects' }).waitFor();
    });

    test('the program stopped in the middle and started again', async () => {
      const works = join(folder, 'other-works');
      const own = await startProgram(works);
      const tab = await openTab(chrome.browser, own.address);
      const { page } = tab;
      try {
        await page.getByLabel('Picture or block file').setInputFiles(FOX);
        await page.waitForURL(/#\/work\//);
        await pieces(page).first().waitFor(READY);
        await own.stop();
        await page.getByRole('alert').filter({ hasText: 'does not answer' }).waitFor(READY);
        await page.getByRole('slider', { name: 'Pieces, at most' }).fill('25');
        await page.getByText('will then carry out what you changed last').waitFor();
        const again = await startProgram(works, own.port);
        try {
          expect(again.address).toBe(own.address);
          await expect.poll(() => page.locator('.away').count(), PATIENT).toBe(0);
          await ready(page);
          const work = (await (await fetch(new URL(`api/works/${idOf(page)}`, again.address))).json()) as Work;
          expect(work.settings.pieces).toBe(25);
          expect(tab.faults).toEqual([]);
        } finally {
          await again.stop();
        }
      } finally {
        await tab.close();
      }
    });

    test('put away and taken out again; copied', async () => {
      const page = await open();
      await beginBlock(page, 'kept');
      const id = idOf(page);
      await page.getByLabel('More', { exact: true }).click();
      await page.getByRole('button', { name: 'Make a copy' }).click();
      await expect.poll(() => idOf(page), PATIENT).not.toBe(id);
      await page.getByRole('link', { name: /All projects/ }).click();
      await page.getByRole('button', { name: 'Put away kept' }).first().click();
      const away = async (): Promise<number> => (await ask<WorkLine[]>('works')).filter((w) => w.away).length;
      await expect.poll(away, PATIENT).toBe(1);
      await page.getByText(/^Put away \(1\)$/).click();
      await page.getByRole('button', { name: 'Take out again kept' }).click();
      await expect.poll(away, PATIENT).toBe(0);
    });
  });
}
