import axe from 'axe-core';
import { describe, expect, test } from 'vitest';
import { unlikeGolden } from './look-alike.ts';

import { beginBlock, clickPiece, foxWork, open, pieces, program, READY, ready } from './opened.ts';

export function testEveryone(): void {
  describe('for everyone', () => {
    const SCREENS = ['picture', 'try', 'hand', 'fabric', 'paper', 'sew'];

    test.each(['light', 'dark'] as const)(
      'axe finds nothing on any screen, %s',
      { timeout: 120_000 },
      async (colorScheme) => {
        const page = await open('', { colorScheme });
        // in the dark only the colours are others
        const rules = colorScheme === 'dark' ? ['color-contrast'] : [];
        const judge = async (what: string): Promise<void> => {
          const only = rules.length ? JSON.stringify({ runOnly: rules }) : '{}';
          const result = (await page.evaluate(
            `(async () => { ${axe.source}; return axe.run(document, ${only}); })()`,
          )) as axe.AxeResults;
          expect(result.passes.length, what).toBeGreaterThan(rules.length ? 0 : 10);
          const faults = result.violations.map((v) => `${what}: ${v.id} ${v.nodes.map((n) => n.html).slice(0, 3)}`);
          expect(faults).toEqual([]);
        };
        await judge('first screen');
        const id = await foxWork(page);
        for (const screen of SCREENS) {
          await page.goto(`${program.address}#/work/${id}/${screen}`);
          await ready(page);
          await page.evaluate(`document.querySelectorAll('details').forEach((d) => { d.open = true; })`);
          if (screen === 'hand') {
            await pieces(page).first().click();
            await page.getByRole('button', { name: 'Divide a piece' }).click();
            await judge('dividing');
            await page.getByRole('button', { name: 'Move a seam' }).click();
          }
          if (screen === 'picture') await page.getByRole('checkbox', { name: 'finished size' }).check();
          await judge(screen);
          if (screen === 'picture') await page.getByRole('checkbox', { name: 'finished size' }).uncheck();
          if (screen === 'sew') {
            await page.getByRole('button', { name: 'Large, beside the machine' }).click();
            await judge('sewing, large');
            await page.keyboard.press('Escape');
          }
        }
      },
    );

    test.each([390, 820, 1440])('looks as it did, %i pixels wide, and nothing sticks out', async (width) => {
      const page = await open('', { viewport: { width, height: 900 }, colorScheme: width === 820 ? 'dark' : 'light' });
      await beginBlock(page, 'pictured');
      await clickPiece(page, 'A2');
      await page.mouse.move(2, 2);
      const faults: (string | undefined)[] = [];
      for (const [screen, name] of [
        ['hand', 'Change pieces'],
        ['sew', 'Sew'],
      ] as const) {
        await page.getByRole('link', { name, exact: true }).click();
        await page.mouse.move(2, 2);
        if (screen === 'sew') await page.getByText(/, patch \d/).waitFor(READY);
        expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(width);
        faults.push(await unlikeGolden(`${screen}-${width}`, await page.screenshot({ fullPage: true })));
      }
      expect(faults.filter(Boolean)).toEqual([]);
    });

    test('fits 320 pixels, which is 1280 at 400 %', async () => {
      const page = await open('', { viewport: { width: 320, height: 640 } });
      const wide = async (): Promise<void> => {
        expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(320);
      };
      await wide();
      const id = await foxWork(page);
      for (const screen of SCREENS) {
        await page.goto(`${program.address}#/work/${id}/${screen}`);
        await ready(page);
        await wide();
      }
    });
  });
}
