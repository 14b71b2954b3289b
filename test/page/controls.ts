import { describe, expect, test } from 'vitest';
import type { Box, Settings, Work } from '../../src/page/api.ts';
import { type Mm, mm } from '../../src/units.ts';

import { ask, beginBlock, FOX, idOf, open, PATIENT, pieces, READY, radio, ready } from './opened.ts';

export function testControls(): void {
  describe('every control', () => {
    test('of the settings is seen in the work', async () => {
      const page = await open();
      await page.getByLabel('Picture or block file').setInputFiles(FOX);
      await page.waitForURL(/#\/work\//);
      await pieces(page).first().waitFor(READY);
      const id = idOf(page);
      const settings = async (): Promise<Settings> => (await ask<Work>(`works/${id}`)).settings;
      const becomes = (part: Partial<Settings>): Promise<void> => expect.poll(settings, PATIENT).toMatchObject(part);
      const closed = page.locator('details:is(.question, .more-choices):not([open]) > summary');
      while (await closed.count()) await closed.first().click();

      // each line is sent as one change, as by a quick hand: every control once, and back where it has a way back
      const rounds: readonly (readonly (readonly [group: string, name: string, part: Partial<Settings>])[])[] = [
        [
          ['Show', 'Whole animal', { show: 'animal', crop: 'auto' }],
          ['Background', 'Simplified', { background: 'calm' }],
          ['Both sides alike', 'No', { mirror: 'no' }],
          ['Extra detail', 'Same everywhere', { focus: [] }],
          ['Kind of picture', 'Photo', { kind: 'photo' }],
          ['Measures', 'Centimeters', { units: 'metric' }],
          ['Paper', 'A4', { paper: 'a4' }],
          ['Fabrics on the templates', 'Pale color', { fill: 'tint' }],
          ['Packet', 'Short', { packet: 'short' }],
        ],
        [['Contrast in black or white fur', 'Increased', { tone: 'even' }]],
        [['Contrast in black or white fur', 'As in the picture', { tone: 'keep' }]],
        [['Contrast in black or white fur', 'Automatic', { tone: 'auto' }]],
        [
          ['Show', 'Head', { show: 'head', crop: 'auto' }],
          ['Background', 'Plain', { background: 'plain' }],
          ['Both sides alike', 'Yes', { mirror: 'yes' }],
          ['Extra detail', 'Automatic', { focus: 'auto' }],
          ['Kind of picture', 'Drawing', { kind: 'drawing' }],
          ['Measures', 'Inches', { units: 'inch' }],
          ['Paper', 'Letter', { paper: 'letter' }],
        ],
        [['Background color', 'My color', { backgroundColour: expect.stringMatching(/^#[0-9a-f]{6}$/) as string }]],
        [
          ['Background color', 'Automatic', { backgroundColour: '' }],
          ['Show', 'Whole picture', { show: 'picture', crop: 'middle' }],
          ['Both sides alike', 'Automatic', { mirror: 'auto' }],
        ],
        [
          ['Background', 'Keep', { background: 'keep' }],
          ['Strokes of the drawing', 'Leave them out', { lines: 'dissolve' }],
        ],
        [['Strokes of the drawing', 'Sew them', { lines: 'keep' }]],
        [['Strokes of the drawing', 'Wide ones only', { lines: 'auto' }]],
        [
          ['Kind of picture', 'Flat art', { kind: 'flat' }],
          ['Skill level', 'Beginner', { level: 'beginner', shades: 4, pieces: 30, mostPieces: 7 }],
        ],
        [['Background', 'Automatic', { background: 'auto' }]],
        [['Fabrics, background included', '3', { shades: 3 }]],
        [['Fabrics, background included', 'Automatic', { shades: 'auto' }]],
      ];
      for (const round of rounds) {
        for (const [group, name] of round) await radio(page, group, name).check();
        await becomes(Object.assign({}, ...round.map(([, , part]) => part)) as Partial<Settings>);
      }
      await page.getByLabel('Turn the block left to right').check();
      for (const [label, value] of [
        ['Pieces, at most', '40'],
        ['Narrowest piece', '10'],
        ['Pieces in a section, at most', '8'],
      ] as const)
        await page.getByRole('slider', { name: label }).fill(value);
      await becomes({ turn: true, pieces: 40, smallest: mm(15.875), mostPieces: 8 });
      await page.getByRole('button', { name: 'Another block from the same picture' }).click();
      await becomes({ seed: 2 });

      await page.getByLabel('Finished width').fill('10 1/2');
      await page.getByLabel('Finished width').press('Enter');
      await becomes({ size: [mm(266.7), expect.closeTo(304.8, 3) as Mm] });
      await page.getByLabel('Finished width').fill('wide');
      await page.getByLabel('Finished width').press('Enter');
      await page.getByRole('alert').filter({ hasText: 'is not a length' }).waitFor();
      await page.getByLabel('Finished width').fill('12');
      await page.getByLabel('Finished width').press('Enter');
      await becomes({ size: [expect.closeTo(304.8, 3) as Mm, expect.closeTo(304.8, 3) as Mm] });
      // half typed it stays, though the full fit arrives beneath it
      await page.getByLabel('Your name, for the foot of every page').fill('Shelter sewing room');
      await ready(page);
      await page.keyboard.press('Tab');
      await becomes({ designer: 'Shelter sewing room' });
      await page.getByLabel('Name of the block').fill('yard fox');
      await page.keyboard.press('Enter');
      await becomes({ name: 'yard fox' });

      // the frames and spots on the picture, by pointer and by keys
      await page.getByRole('button', { name: 'Size the block’s frame at its lower right corner' }).focus();
      for (let n = 0; n < 4; n++) await page.keyboard.press('Shift+ArrowLeft');
      await expect.poll(async () => (await settings()).crop, PATIENT).toEqual([0, 0, 0.8, 0.8]);
      const grip = (await page.getByRole('button', { name: 'Move the block’s frame' }).boundingBox())!;
      const stage = (await page.locator('.picture-stage').boundingBox())!;
      await page.mouse.move(grip.x + 20, grip.y + 20);
      await page.mouse.down();
      await page.mouse.move(grip.x + 20 + stage.width * 0.1, grip.y + 20 + stage.height * 0.15, { steps: 4 });
      await page.mouse.up();
      await expect
        .poll(async () => ((await settings()).crop as Box).map((v) => Math.round(v * 100)), PATIENT)
        .toEqual([10, 15, 80, 80]);
      await page.getByLabel(/Draw a frame around the animal/).check();
      await expect.poll(async () => (await settings()).subject?.length, PATIENT).toBe(4);
      const subject = (await settings()).subject!;
      await page.getByRole('button', { name: 'Move the frame around the animal' }).press('ArrowRight');
      await expect
        .poll(async () => (await settings()).subject![0], PATIENT)
        .toBeCloseTo(Math.min(subject[0] + 0.01, 1 - subject[2]), 3);
      await page.getByLabel(/Draw a frame around the animal/).uncheck();
      await becomes({ subject: null });
      await radio(page, 'Extra detail', 'My spots').check();
      await page.getByRole('button', { name: 'Move focus spot 1' }).press('Shift+ArrowDown');
      await expect.poll(async () => (await settings()).focus, PATIENT).not.toBe('auto');
      await page.getByRole('button', { name: 'Size focus spot 1' }).press('Shift+ArrowRight');
      await page.getByRole('group', { name: 'Spot 1' }).getByRole('slider', { name: 'Counts' }).fill('7');
      await expect.poll(async () => (await settings()).focus[0], PATIENT).toMatchObject({ weight: 7 });
      await page.getByRole('button', { name: 'Place another spot' }).click();
      const count = await page.getByRole('group', { name: /^Spot \d/ }).count();
      await expect.poll(async () => (await settings()).focus.length, PATIENT).toBe(count);
      await page.getByRole('button', { name: `Remove spot ${count}` }).click();
      await expect.poll(async () => (await settings()).focus.length, PATIENT).toBe(count - 1);

      // own fabrics
      await page.getByLabel('Name of a fabric').fill('barn red');
      await page.getByLabel('Color', { exact: true }).fill('#a33b2e');
      await page.getByRole('button', { name: 'Add it' }).click();
      await becomes({ cloths: [{ name: 'barn red', colour: '#a33b2e' }] });
      await page.getByLabel('Print of barn red').selectOption('directional');
      await becomes({ cloths: [{ name: 'barn red', colour: '#a33b2e', print: 'directional' }] });
      await page.getByLabel('One fabric may serve for several shades').check();
      await becomes({ again: true });
      await page.getByRole('button', { name: 'Remove barn red' }).click();
      await becomes({ cloths: [] });

      // and all of it back and forward again
      await page.getByRole('button', { name: /^Undo/ }).click();
      await expect.poll(async () => (await settings()).cloths.length, PATIENT).toBe(1);
      await page.getByRole('button', { name: /^Redo/ }).click();
      await becomes({ cloths: [] });
      await page.getByText('Show it in the block’s fabrics').click();
      await page.getByRole('img', { name: 'Posterised to the fabrics of the block' }).waitFor();
    });

    test('of looking is seen on the block', async () => {
      const page = await open();
      const block = await beginBlock(page, 'looked at');
      const first = pieces(page).first();
      const orange = block.sections.flatMap((s) =>
        s.pieces.filter((p) => p.fabric === 'f3').map((p) => `${s.id}${p.number}`),
      )[0]!;
      const fill = (): Promise<string | null> => page.locator(`[data-piece="${orange}"]`).getAttribute('fill');
      const colour = await fill();
      const view = page.locator('.looking-menu > summary');
      await view.click();
      const seen = new Set([colour]);
      for (const see of [
        'light and dark alone',
        'by eyes weak in green',
        'by eyes weak in red',
        'by eyes weak in blue',
      ]) {
        await page.getByRole('combobox', { name: 'Colours', exact: true }).selectOption({ label: see });
        seen.add(await fill());
      }
      expect(seen.size).toBeGreaterThan(2);
      await page.getByRole('combobox', { name: 'Colours', exact: true }).selectOption('fabrics');
      expect(await fill()).toBe(colour);
      await page.getByRole('checkbox', { name: 'numbers' }).check();
      expect(await page.locator('.piece-number').count()).toBe(block.sections.flatMap((s) => s.pieces).length);
      await page.getByRole('checkbox', { name: 'seams' }).uncheck();
      expect(await page.locator('.piece.seamed').count()).toBe(0);
      await page.getByRole('checkbox', { name: 'finished size' }).check();
      // 96 pixels of a page are an inch (CSS Values 4)
      const shown = (await page.locator('svg.block').boundingBox())!;
      expect(shown.width).toBeCloseTo((block.size[0] / 25.4) * 96, 0);
      await page.getByText('Measure with a card').click();
      await page.getByRole('slider', { name: 'Width of the outline' }).fill('5');
      expect((await page.locator('svg.block').boundingBox())!.width).toBeCloseTo(block.size[0] * 5, 0);
      // kept in this browser
      await page.reload();
      await ready(page);
      await view.click();
      expect(await page.getByRole('checkbox', { name: 'numbers' }).isChecked()).toBe(true);
      await page.getByRole('checkbox', { name: 'finished size' }).uncheck();

      // walking over the pieces
      for (
        let n = 0;
        n < 40 && !(await first.evaluate('document.activeElement?.getAttribute("role") === "option"'));
        n++
      )
        await page.keyboard.press('Tab');
      const start = await page.locator('*:focus').getAttribute('aria-label');
      expect(start).toMatch(/^A1, .+ wide, /);
      await page.keyboard.press('PageDown');
      expect(await page.locator('*:focus').getAttribute('aria-label')).toMatch(/^A2, .* second of section A$/);
      await page.keyboard.press('End');
      await page.keyboard.press('Home');
      expect(await page.locator('*:focus').getAttribute('aria-label')).toBe(start);
      await page.keyboard.press('Space');
      await expect.poll(() => first.getAttribute('aria-selected'), PATIENT).toBe('true');
      await page.keyboard.press('Escape');
      await expect.poll(() => first.getAttribute('aria-selected'), PATIENT).toBe('false');
    });
  });
}
