import { join } from 'node:path';
import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { unlikeGolden } from '../look-alike.ts';

import { beginBlock, clickPiece, FOX, foxWork, open, program, READY, ready } from './opened.ts';

/** share of the pixels: letters, and what is drawn around them */
const MAY_DIFFER = 0.01;
const WIDTHS = [390, 820, 1280, 1920] as const;
/** CSS pixels: 1280 of them at 400 % (WCAG 2.2, 1.4.10) */
const NARROWEST = 320;

const sticksOut = (page: Page): Promise<number> =>
  page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth') as Promise<number>;

/** All that axe knows in the light; in the dark only the colours are others. Then in the narrowest window. */
export async function judge(page: Page, what: string): Promise<void> {
  for (const only of [undefined, 'color-contrast']) {
    if (only) await page.emulateMedia({ colorScheme: 'dark' });
    const result = (await page.evaluate(
      `(async () => {
        if (!window.axe) { ${axe.source}; }
        return axe.run(document, ${only ? `{ runOnly: ['${only}'], resultTypes: ['violations'] }` : "{ resultTypes: ['violations'] }"});
      })()`,
    )) as axe.AxeResults;
    expect(result.passes.length, what).toBeGreaterThan(only ? 0 : 10);
    const faults = result.violations.map((v) => `${what}: ${v.id} ${v.nodes.map((n) => n.html).slice(0, 3)}`);
    expect(faults).toEqual([]);
  }
  await page.emulateMedia({ colorScheme: 'light' });
  const size = page.viewportSize()!;
  await page.setViewportSize({ width: NARROWEST, height: 640 });
  expect(await sticksOut(page), `${what}, ${NARROWEST} pixels wide`).toBeLessThanOrEqual(0);
  await page.setViewportSize(size);
}

export function testEveryone(): void {
  describe('for everyone', () => {
    const SCREENS = ['picture', 'try', 'hand', 'fabric', 'paper', 'sew'];

    test('axe finds nothing on any screen, light and dark, and all fits 320 pixels', async () => {
      const page = await open();
      await judge(page, 'first screen');
      const id = await foxWork(page);
      for (const screen of SCREENS) {
        await page.goto(`${program.address}#/work/${id}/${screen}`);
        await ready(page);
        await page.evaluate(`document.querySelectorAll('details').forEach((d) => { d.open = true; })`);
        if (screen === 'hand') {
          await clickPiece(page, 'A2');
          await page.getByRole('button', { name: 'Divide a piece' }).click();
          await judge(page, 'dividing');
          await page.getByRole('button', { name: 'Seam: move it' }).click();
        }
        if (screen === 'picture') await page.getByRole('checkbox', { name: 'finished size' }).check();
        await judge(page, screen);
        if (screen === 'picture') await page.getByRole('checkbox', { name: 'finished size' }).uncheck();
        if (screen === 'sew') {
          // what folds out lies over the page
          await page.keyboard.press('Escape');
          await page.getByRole('button', { name: 'Full screen for sewing' }).click();
          await judge(page, 'sewing, large');
          await page.keyboard.press('Escape');
        }
      }
    });

    test('looks as it did at four widths, and nothing sticks out', async () => {
      const page = await open();
      await page.getByLabel('Picture or block file').setInputFiles(FOX);
      await page.waitForURL(/#\/work\//);
      const faults: (string | undefined)[] = [];
      const picture = async (name: string, width: number): Promise<void> => {
        await page.setViewportSize({ width, height: 900 });
        await page.emulateMedia({ colorScheme: width === 820 ? 'dark' : 'light' });
        await page.mouse.move(2, 2);
        expect(await sticksOut(page), `${name}, ${width}`).toBeLessThanOrEqual(0);
        const golden = join(import.meta.dirname, 'pictures', `${name}-${width}.png`);
        faults.push(await unlikeGolden(golden, await page.screenshot({ fullPage: true }), MAY_DIFFER));
      };
      await ready(page);
      await page.locator('.picture-stage img').first().waitFor();
      // the block itself is the fit's affair, and has tests of its own
      const hideBlock = (): Promise<void> =>
        page.evaluate(`(() => {
          for (const block of document.querySelectorAll('svg.block')) block.style.visibility = 'hidden';
          for (const part of document.querySelectorAll('.facts-pane, .first-note')) part.style.display = 'none';
        })()`);
      await hideBlock();
      for (const width of WIDTHS) await picture('picture', width);
      await page.goto(program.address);
      await page.reload();
      await beginBlock(page, 'pictured');
      await clickPiece(page, 'A2');
      await hideBlock();
      // nor are the fabrics its affair that other tests put on the shelf
      const shelf = page.getByRole('group', { name: 'From my shelf' }).or(page.getByText(/^Your shelf is empty/));
      await shelf.waitFor(READY);
      await shelf.evaluate((shown) => {
        (shown as unknown as { style: { display: string } }).style.display = 'none';
      });
      for (const width of WIDTHS) await picture('hand', width);
      await page.getByRole('link', { name: 'Sew', exact: true }).click();
      await page.getByText(/, patch \d/).waitFor(READY);
      for (const width of WIDTHS) await picture('sew', width);
      expect(faults.filter(Boolean)).toEqual([]);
    });

    test('light and dark as one likes, kept in this browser', async () => {
      const page = await open();
      const ground = async (): Promise<number> => {
        const colour = (await page.evaluate('getComputedStyle(document.body).backgroundColor')) as string;
        return colour
          .match(/\d+/g)!
          .slice(0, 3)
          .map(Number)
          .reduce((t, v) => t + v, 0);
      };
      const light = await ground();
      await page.getByLabel('Light or dark').selectOption('Dark');
      expect(await ground()).toBeLessThan(light / 3);
      await page.reload();
      expect(await ground()).toBeLessThan(light / 3);
      await page.getByLabel('Light or dark').selectOption('Light');
      expect(await ground()).toBe(light);
    });
  });
}
