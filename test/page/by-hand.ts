import { describe, expect, test } from 'vitest';
import type { Block } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import type { Work } from '../../src/page/api.ts';
import { pointsOn } from '../../src/page/view/hand/points-on.ts';
import { moveSeam } from '../../src/section/move-seam.ts';
import { fixture } from '../cli/run-program.ts';

import { ask, beginBlock, caughtUp, clickPiece, idOf, open, PATIENT } from './opened.ts';

export function testByHand(): void {
  describe('changes by hand', () => {
    test('happen, are refused with a reason, and are taken back', async () => {
      const page = await open();
      await beginBlock(page, 'changed');
      const id = idOf(page);
      const block = async (): Promise<Block> => (await ask<Work>(`works/${id}`)).block!;
      const count = async (): Promise<number> => (await block()).sections.flatMap((s) => s.pieces).length;
      const before = await block();
      const [other] = before.fabrics.filter((f) => f.id !== before.sections[0]!.pieces[0]!.fabric);

      await clickPiece(page, 'A1');
      await page.getByRole('button', { name: other!.name, exact: true }).click();
      await expect.poll(async () => (await block()).sections[0]!.pieces[0]!.fabric, PATIENT).toBe(other!.id);
      await page.keyboard.press('Control+z');
      await expect
        .poll(async () => (await block()).sections[0]!.pieces[0]!.fabric, PATIENT)
        .toBe(before.sections[0]!.pieces[0]!.fabric);
      await page.keyboard.press('Control+Shift+z');
      await expect.poll(async () => (await block()).sections[0]!.pieces[0]!.fabric, PATIENT).toBe(other!.id);

      await caughtUp(page);

      // two far apart cannot be one
      const last = before.sections.at(-1)!;
      await page.getByRole('button', { name: 'Clear selection' }).click();
      await clickPiece(page, 'A1');
      await clickPiece(page, `${last.id}1`, true);
      await page.getByRole('button', { name: /^Make A1 and / }).click();
      const refused = page.getByRole('alert').filter({ hasText: 'A1' });
      await refused.waitFor();
      expect(await count()).toBe(before.sections.flatMap((s) => s.pieces).length);
      await page.getByRole('button', { name: 'OK' }).click();

      // divided between two numbered points, then by a line drawn with the pointer
      const facts = before.sections.flatMap((s) => s.pieces.map((p) => ({ name: `${s.id}${p.number}`, p })));
      const large = facts.reduce((a, b) => (span(b.p.outline) > span(a.p.outline) ? b : a));
      await clickPiece(page, `${large.name}`);
      await page.getByRole('button', { name: 'Divide a piece' }).click();
      const divide = page.getByRole('button', { name: /along the line$/ });
      const points = pointsOn(large.p.outline);
      const middles = points.filter((p) => !large.p.outline.some((q) => q[0] === p.at[0] && q[1] === p.at[1]));
      const [from, to] = [middles[0]!, middles[Math.floor(middles.length / 2)]!];
      await page.getByLabel('From point').selectOption(String(from.number));
      await page.getByLabel('To point').selectOption(String(to.number));
      await page.getByLabel('The new part in').selectOption({ index: 1 });
      await divide.click();
      await expect.poll(count, PATIENT).toBe(facts.length + 1);
      await page.getByRole('button', { name: /^Undo/ }).click();
      await expect.poll(count, PATIENT).toBe(facts.length);
      await caughtUp(page);
      await page.locator('.catch').waitFor();
      const at = (await page.locator(`[data-piece="${large.name}"]`).boundingBox())!;
      await page.mouse.click(at.x + at.width / 2, at.y + at.height / 2);
      await page.mouse.move(at.x + at.width / 2, at.y - 4);
      await page.mouse.down();
      await page.mouse.move(at.x + at.width / 2 + 1, at.y + at.height + 4, { steps: 3 });
      await page.mouse.up();
      await divide.click();
      await expect.poll(count, PATIENT).toBe(facts.length + 1);
      await page.keyboard.press('Control+z');
      await expect.poll(count, PATIENT).toBe(facts.length);
      await caughtUp(page);

      // a seam: by button, by keys, by pointer
      await page.getByRole('button', { name: 'Seam: move it' }).click();
      const seamed = facts.find((f) => f.p.seam && bearsMoves(before, f.name))!;
      await page.getByLabel('Which seam').selectOption(seamed.name);
      const outline = async (): Promise<string> =>
        JSON.stringify((await block()).sections.flatMap((s) => s.pieces.map((p) => p.outline)));
      let shape = await outline();
      const changed = async (): Promise<void> => {
        await expect.poll(outline, PATIENT).not.toBe(shape);
        await caughtUp(page);
        shape = await outline();
      };
      await page.getByRole('button', { name: `${seamed.name} smaller` }).click();
      await changed();
      await page.getByRole('button', { name: `${seamed.name} larger` }).click();
      await changed();
      await page.getByRole('button', { name: 'Tilt right' }).click();
      await changed();
      await page.getByRole('button', { name: /^Move the seam of / }).press('ArrowDown');
      await changed();
      await page.getByRole('button', { name: /^Tilt the seam of / }).press('ArrowLeft');
      await changed();
      const handle = (await page.getByRole('button', { name: /^Move the seam of / }).boundingBox())!;
      const piece = (await page.locator(`[data-piece="${seamed.name}"]`).boundingBox())!;
      const [hx, hy] = [handle.x + handle.width / 2, handle.y + handle.height / 2];
      const [px, py] = [piece.x + piece.width / 2, piece.y + piece.height / 2];
      const reach = 9 / Math.hypot(px - hx, py - hy);
      await page.mouse.move(hx, hy);
      await page.mouse.down();
      await page.mouse.move(hx + (px - hx) * reach, hy + (py - hy) * reach, { steps: 3 });
      await page.mouse.up();
      await changed();

      // papers
      await page.getByText('Combine or split sections').click();
      const sections = (await block()).sections;
      const partable = sections.find((s) => s.pieces.length > 2)!;
      await page.getByRole('combobox', { name: 'Section', exact: true }).nth(1).selectOption(partable.id);
      await page.getByRole('button', { name: 'Part into two papers' }).click();
      await expect.poll(async () => (await block()).sections.length, PATIENT).toBe(sections.length + 1);
      await caughtUp(page);
      const known = new Set(sections.map((s) => s.id));
      const parted = (await block()).sections.find((s) => !known.has(s.id))!;
      await page.getByRole('combobox', { name: 'Section', exact: true }).first().selectOption(partable.id);
      await page.getByRole('combobox', { name: 'and section' }).selectOption(parted.id);
      await page.getByRole('button', { name: 'Sew on one paper' }).click();
      await expect.poll(async () => (await block()).sections.length, PATIENT).toBe(sections.length);

      // a whole shade
      const code = before.fabrics[0]!.code;
      await page.getByLabel(`Name of ${code}`).fill('barn red');
      await page.keyboard.press('Enter');
      await expect.poll(async () => (await block()).fabrics[0]!.name, PATIENT).toBe('barn red');
      await page.getByLabel('Colour of barn red').fill('#a33b2e');
      await page.getByLabel('Colour of barn red').dispatchEvent('change');
      await expect.poll(async () => (await block()).fabrics[0]!.colour, PATIENT).toBe('#a33b2e');
      await page
        .getByLabel('Snapshot of cloth for barn red')
        .setInputFiles(fixture('flat/raster-horse-jpeg-artefacts.jpg'));
      await expect
        .poll(async () => Object.keys((await ask<Work>(`works/${id}`)).shown), PATIENT)
        .toEqual([before.fabrics[0]!.id]);
      // and is shown in it at once
      await expect.poll(() => page.getByLabel('in my fabrics').isChecked(), PATIENT).toBe(true);
      await expect.poll(() => page.locator('svg.block pattern image').count(), PATIENT).toBe(1);
      expect(checkBlock(await block()).faults).toEqual([]);
    });
  });
}

/** Whether a seam can be moved and swung as this test does, and back again. */
function bearsMoves(block: Block, name: string): boolean {
  const limits = { mostPieces: 10, paper: [190, 254], allowance: 6.35, narrowest: 14 } as const;
  try {
    for (const [by, turn] of [
      [-6, 0],
      [3, 0],
      [0, 4],
      [0, -4],
      [-5, 3],
    ] as const)
      moveSeam(block, name, { by, turn }, limits);
    return true;
  } catch {
    return false;
  }
}

const span = (outline: readonly (readonly [number, number])[]): number => {
  const xs = outline.map((q) => q[0]);
  const ys = outline.map((q) => q[1]);
  return Math.min(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys));
};
