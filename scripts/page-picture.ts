// Makes the README's picture of the page again: a fixture brought to the running program, in the browser that the tests use.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { openTab, startBrowser, startProgram } from '../test/page/browser.ts';

const root = join(import.meta.dirname, '..');
const folder = await mkdtemp(join(tmpdir(), 'seamwright-picture-'));
const chrome = await startBrowser();
const program = await startProgram(folder);
try {
  const viewport = { width: 1440, height: 1100 };
  const { page } = await openTab(chrome.browser, program.address, { viewport, colorScheme: 'light' });
  await page
    .getByLabel('Picture or block file')
    .setInputFiles(process.argv[2] ?? join(root, 'fixtures', 'photos', 'sheep-white-on-green.jpg'));
  await page.waitForURL(/#\/work\//);
  await page.getByRole('status').filter({ hasText: 'The block is ready' }).waitFor({ timeout: 120_000 });
  await page.getByRole('button', { name: 'Decide later' }).click();
  const out = process.argv[3] ?? join(root, 'fixtures', 'gallery', 'page.png');
  await sharp(await page.screenshot())
    .png({ palette: true, colours: 128, effort: 10 })
    .toFile(out);
} finally {
  await chrome.close();
  await program.stop();
  await rm(folder, { recursive: true, force: true });
}
