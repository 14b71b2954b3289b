// `seamwright/block` in a browser: the example's page is served as a project's folder is, and must come to the same as the sources do here.
import { readFile } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join } from 'node:path';
import ts from 'typescript';
import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  applyChange,
  changeLimits,
  defaultSettings,
  layOutTemplates,
  nextEdition,
  planYardage,
  readBlock,
  type Section,
  writeBlock,
  writeSvg,
} from '../../src/block-entry.ts';
import { root } from '../cli/run-program.ts';
import { type Chrome, openTab, startBrowser } from '../page/browser.ts';

const here = import.meta.dirname;
const fox = await readFile(join(root, 'test', 'page', 'fox.block.json'), 'utf8');
/** The fox with the first corner of its first piece moved to the right: a gap, or an overlap. */
const torn = (() => {
  const block = readBlock(fox, 'fox.block.json');
  const [first, ...others] = block.sections;
  return JSON.stringify({ ...block, sections: [pushCorner(first!), ...others] });
})();

function pushCorner({ pieces: [first, ...rest], ...own }: Section): Section {
  const [[x, y], ...corners] = first!.outline as [[number, number], ...[number, number][]];
  return { ...own, pieces: [{ ...first!, outline: [[x + 3, y], ...corners] }, ...rest] };
}

const KINDS: Record<string, string> = { '.html': 'text/html', '.js': 'text/javascript', '.json': 'application/json' };

/** What lies in the folder of somebody who has installed the package. */
async function answer(path: string): Promise<string | Buffer> {
  if (path === '/fox.block.json') return fox;
  if (path === '/torn.block.json') return torn;
  if (path === '/check-in-browser.html') return readFile(join(here, path));
  if (path === '/check-in-browser.js') {
    const compilerOptions = { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ES2022 };
    return ts.transpileModule(await readFile(join(here, 'check-in-browser.ts'), 'utf8'), { compilerOptions })
      .outputText;
  }
  const own = path.replace(/^\/node_modules\/seamwright\//, '/');
  return readFile(join(root, own));
}

/** What the page leaves behind for whoever looks at it from outside. */
interface Done {
  readonly problem?: string;
  readonly faults: readonly { readonly text: string }[];
  readonly sheets: readonly string[];
}

let server: Server;
let chrome: Chrome;
let home: string;
beforeAll(async () => {
  server = createServer((request, response) => {
    const path = new URL(request.url!, 'http://localhost').pathname;
    answer(path).then(
      (body) => response.writeHead(200, { 'content-type': KINDS[extname(path)] ?? 'font/ttf' }).end(body),
      () => response.writeHead(404).end(),
    );
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  home = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  chrome = await startBrowser();
});
afterAll(async () => {
  await chrome?.close();
  server?.close();
});

async function visit(query: string): Promise<{ done: Done; words: string; faults: readonly string[] }> {
  const tab = await openTab(chrome.browser, `${home}/check-in-browser.html?${query}`);
  await tab.page.waitForFunction('window.done');
  const done = (await tab.page.evaluate('window.done')) as Done;
  const words = (await tab.page.textContent('output')) ?? '';
  expect(tab.asked.filter((address) => !address.startsWith(home))).toEqual([]);
  await tab.close();
  return { done, words, faults: tab.faults };
}

test('a browser reads, checks, changes, lays out and plans as Node does', async () => {
  const block = readBlock(fox, 'fox.block.json');
  const [first, second] = block.fabrics;
  const pieces = block.sections[0]!.pieces.filter((p) => p.fabric === first!.id).map((p) => `A${p.number}`);
  expect(pieces.length).toBeGreaterThan(0);
  const { done, words, faults } = await visit(`pieces=${pieces}&fabric=${second!.code}`);
  expect(faults).toEqual([]);

  const { paper, margin, allowance, units: system, mostPieces } = defaultSettings('beginner');
  const limits = changeLimits(block, { mostPieces, paper, margin, allowance });
  const changed = nextEdition(block, (b) => applyChange(b, { kind: 'fabric', pieces, fabric: second!.code }, limits));
  expect(changed.edition).toBe('B');
  const { sheets } = layOutTemplates(changed, { paper, margin, allowance, system });
  expect(done).toEqual({
    faults: [],
    changed: writeBlock(changed),
    sheets: sheets.map(writeSvg),
    buy: planYardage([changed], { cloth: { system } }).shopping.buy,
  });
  expect(sheets.length).toBeGreaterThan(1);
  expect(words).toContain(`It can be sewn. ${sheets.length} sheets.`);
});

test('a browser says what is wrong with a block, and with a call', async () => {
  const { done, words } = await visit('block=torn.block.json');
  expect(done.faults.length).toBeGreaterThan(0);
  expect(words).toContain(done.faults[0]!.text);
  expect((await visit('pieces=Z9&fabric=fa')).done.problem).toBe('no-such-piece');
});
