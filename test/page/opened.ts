// What the tests of the page share: one browser, one program on a folder of works, and tabs that are judged when a test ends.
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import { type Block, readBlock, writeBlock } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import type { SheetLine, Work, WorkLine } from '../../src/page/api.ts';
import { inches } from '../../src/units.ts';
import { fixture } from '../cli/run-program.ts';
import { readBackSheets } from '../packet/judge-packet.ts';
import { WAIT_PATIENCE_MS } from '../patience.ts';
import { type Chrome, openTab, type Program, startBrowser, startProgram, type Tab } from './browser.ts';

/** a fox of some 60 pieces, made once with `block fixtures/flat/noto-fox.svg --pieces 60` */
const BLOCK = join(import.meta.dirname, 'fox.block.json');
export const FOX = fixture('flat/noto-fox.svg');
const LETTER = [215.9, 279.4] as const;
/** how long anything is waited for: on a machine that has other work even what is done at once may take long */
export const READY = { timeout: WAIT_PATIENCE_MS };
export const PATIENT = { timeout: WAIT_PATIENCE_MS, interval: 40 };

export let chrome: Chrome;
export let folder = '';
export let program: Program;
const tabs: Tab[] = [];

/** Starts browser and program before all tests, and ends them after. */
export function shareBrowser(): void {
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'seamwright-page-'));
    [chrome, program] = await Promise.all([startBrowser(), startProgram(join(folder, 'works'))]);
  });
  afterAll(async () => {
    await chrome?.close();
    await program?.stop();
    await rm(folder, { recursive: true, force: true });
  });

  /** Whatever a test did: no error in the page, and nothing asked of anyone but the program. */
  afterEach(async () => {
    for (const tab of tabs.splice(0)) {
      expect(tab.faults).toEqual([]);
      for (const url of tab.asked) expect(url).toMatch(/^(http:\/\/127\.0\.0\.1:\d+\/|blob:|data:)/);
      for (const url of tab.asked.filter((u) => u.startsWith('http')))
        expect(new URL(url).origin).toBe(new URL(program.address).origin);
      await tab.close();
    }
  });
}

export const open = async (hash = '', options: Parameters<typeof openTab>[2] = {}): Promise<Page> => {
  const tab = await openTab(chrome.browser, `${program.address}${hash}`, options);
  tabs.push(tab);
  return tab.page;
};
export const ask = async <T>(path: string): Promise<T> => {
  const answer = await fetch(new URL(`api/${path}`, program.address));
  expect(answer.status, path).toBe(200);
  return (await answer.json()) as T;
};
export const idOf = (page: Page): string => /#\/work\/([^/]+)/.exec(page.url())![1]!;
export const ready = (page: Page): Promise<void> =>
  page.getByRole('status').filter({ hasText: 'The block is ready' }).waitFor(READY);
/** The page has heard of all that the program knows of its work: it offers the same steps back and forward. */
export const caughtUp = (page: Page): Promise<void> =>
  expect
    .poll(async () => {
      const { undo = '', redo = '' } = await ask<Work>(`works/${idOf(page)}`);
      const shown = ['Undo', 'Redo'].map((name) =>
        page.getByRole('button', { name: new RegExp(`^${name}`) }).getAttribute('title'),
      );
      const [back, forward] = await Promise.all(shown);
      return back === undo && forward === redo;
    }, PATIENT)
    .toBe(true);
export const pieces = (page: Page): Locator => page.getByRole('listbox').getByRole('option');
export const radio = (page: Page, group: string, name: string): Locator =>
  page.getByRole('group', { name: group, exact: true }).getByRole('radio', { name, exact: true });

/** A work begun from a block file, which needs no fitting. */
export async function beginBlock(page: Page, name: string): Promise<Block> {
  const block = { ...readBlock(await readFile(BLOCK, 'utf8'), BLOCK), name };
  const file = join(folder, `${name}.block.json`);
  await writeFile(file, writeBlock(block));
  await page.getByLabel('Picture or block file').setInputFiles(file);
  await page.waitForURL(/#\/work\//);
  await ready(page);
  return block;
}

export async function download(page: Page, click: () => Promise<void>): Promise<Uint8Array> {
  const [file] = await Promise.all([page.waitForEvent('download', READY), click()]);
  return readFile(await file.path());
}

/** The packet's templates at true size, each section once, and the block sewn in the mind. */
export async function judgePacket(pdf: Uint8Array, id: string): Promise<void> {
  const work = await ask<Work>(`works/${id}`);
  const sheets = await ask<SheetLine[]>(`works/${id}/sheets`);
  expect(checkBlock(work.block!).faults).toEqual([]);
  const back = await readBackSheets(pdf, work.block!, [], LETTER, inches(1 / 4));
  // only template sheets carry the square to measure
  const squareless = back.faults.filter((f) => f.endsWith('has no square of 1 in'));
  expect(back.faults.filter((f) => !squareless.includes(f))).toEqual([]);
  expect(sheets.flatMap((s) => s.sections).sort()).toEqual(work.block!.sections.map((s) => s.id).sort());
  expect(back.pages - squareless.length).toBeGreaterThanOrEqual(sheets.length);
}

/** Clicks a piece in its middle, wherever it lies now. */
export async function clickPiece(page: Page, name: string, add = false): Promise<void> {
  const piece = page.locator(`[data-piece="${name}"]`);
  await piece.scrollIntoViewIfNeeded();
  const [x, y] = (await page.evaluate(`(() => {
    const path = document.querySelector('[data-piece="${name}"]');
    const corners = path.getAttribute('d').slice(1, -1).split('L').map((q) => q.split(' ').map(Number));
    const sum = [0, 1].map((k) => corners.reduce((t, q) => t + q[k], 0) / corners.length);
    const at = new DOMPoint(sum[0], sum[1]).matrixTransform(path.getScreenCTM());
    return [at.x, at.y];
  })()`)) as [number, number];
  if (add) await page.keyboard.down('Shift');
  await page.mouse.click(x, y);
  if (add) await page.keyboard.up('Shift');
}

/** A work with a picture whose block is ready: one that is there, or a new one. */
export async function foxWork(page: Page): Promise<string> {
  const there = (await ask<WorkLine[]>('works')).find((w) => w.stage === 'full');
  if (there) return there.id;
  await page.getByLabel('Picture or block file').setInputFiles(FOX);
  await page.waitForURL(/#\/work\//);
  await ready(page);
  return idOf(page);
}
