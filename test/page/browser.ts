// A browser and the program behind the page, for tests: Chromium from its package with fonts and libraries of its own, so that it
// runs on a machine that has neither and draws alike on all; the built program in a process of its own.
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';
import { brotliDecompressSync } from 'node:zlib';
import { type Browser, type BrowserContextOptions, chromium as launcher, type Page } from 'playwright-core';
import { root } from '../cli/run-program.ts';
import { WAIT_PATIENCE_MS } from '../patience.ts';

export interface Chrome {
  readonly browser: Browser;
  close(): Promise<void>;
}

/** Unpacks the browser into a folder of its own, which goes with it. Elsewhere than on Linux: the Chrome that is installed. */
export async function startBrowser(): Promise<Chrome> {
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    const browser = await launcher.launch({ channel: 'chrome', timeout: WAIT_PATIENCE_MS });
    return { browser, close: () => browser.close() };
  }
  const folder = await mkdtemp(join(tmpdir(), 'seamwright-browser-'));
  const { default: packed } = await import('@sparticuz/chromium');
  const before = process.env.TMPDIR;
  process.env.TMPDIR = folder;
  const executablePath = await packed.executablePath().finally(() => {
    if (before === undefined) delete process.env.TMPDIR;
    else process.env.TMPDIR = before;
  });
  // libraries that a bare machine lacks lie beside the browser in its package
  const bin = join(dirname(createRequire(import.meta.url).resolve('@sparticuz/chromium')), '..', '..', 'bin');
  execFileSync('tar', ['xf', '-', '-C', folder], {
    input: brotliDecompressSync(readFileSync(join(bin, 'al2023.tar.br'))),
  });
  const fonts = join(folder, 'fonts.conf');
  writeFileSync(
    fonts,
    `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>${folder}/fonts</dir><cachedir>${folder}/font-cache</cachedir></fontconfig>`,
  );
  mkdirSync(join(folder, 'home'));
  const browser = await launcher.launch({
    executablePath,
    timeout: WAIT_PATIENCE_MS,
    args: ['--no-sandbox', '--disable-dev-shm-usage', '--disable-gpu', '--font-render-hinting=none'],
    env: {
      PATH: process.env.PATH ?? '',
      TMPDIR: folder,
      HOME: join(folder, 'home'),
      FONTCONFIG_FILE: fonts,
      LD_LIBRARY_PATH: join(folder, 'lib'),
    },
  });
  return {
    browser,
    close: async () => {
      await browser.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

export interface Program {
  readonly address: string;
  readonly port: number;
  /** what it has written to standard error */
  readonly said: () => string;
  stop(signal?: NodeJS.Signals): Promise<void>;
}

/** Starts `seamwright page` on a folder of works; ready when its first line, the address, is there. */
export async function startProgram(folder: string, port = 0): Promise<Program> {
  const args = [join(root, 'dist', 'seamwright.js'), 'page', '--no-open', '--port', `${port}`, '--folder', folder];
  const child: ChildProcess = spawn(process.execPath, args, {
    stdio: ['ignore', 'pipe', 'pipe'],
    // paper and measures follow the language
    env: { ...process.env, LANG: 'en_US.UTF-8', LC_ALL: 'en_US.UTF-8' },
  });
  let errors = '';
  child.stderr!.on('data', (d: Buffer) => {
    errors += d.toString();
  });
  const ended = new Promise<void>((done) => child.once('exit', () => done()));
  const address = await new Promise<string>((found, failed) => {
    createInterface({ input: child.stdout! }).once('line', found);
    child.once('exit', (code) => failed(new Error(`the page ended with ${code}: ${errors}`)));
  });
  return {
    address,
    port: Number(new URL(address).port),
    said: () => errors,
    stop: async (signal = 'SIGTERM') => {
      child.kill(signal);
      await ended;
    },
  };
}

export interface Tab {
  readonly page: Page;
  /** every address that was asked for */
  readonly asked: readonly string[];
  /** errors that the page itself made */
  readonly faults: readonly string[];
  close(): Promise<void>;
}

/** A tab of its own, as another person would have it, that remembers what it asked for. */
export async function openTab(browser: Browser, address: string, options: BrowserContextOptions = {}): Promise<Tab> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    reducedMotion: 'reduce',
    ...options,
  });
  context.setDefaultTimeout(WAIT_PATIENCE_MS);
  const page = await context.newPage();
  const asked: string[] = [];
  const faults: string[] = [];
  context.on('request', (r) => asked.push(r.url()));
  page.on('pageerror', (e) => faults.push(e.message));
  page.on('console', (m) => {
    // refusals and a server that is away are part of the game; they show as failed loads
    if (m.type() === 'error' && !m.text().startsWith('Failed to load resource')) faults.push(m.text());
  });
  await page.goto(address);
  return { page, asked, faults, close: () => context.close() };
}

/** Drops a file on the page, as from a folder of the computer. */
export async function dropFile(page: Page, path: string, name: string, type = ''): Promise<void> {
  const bytes = readFileSync(path).toString('base64');
  const transfer = await page.evaluateHandle(
    `(() => {
      const data = Uint8Array.from(atob(${JSON.stringify(bytes)}), (c) => c.charCodeAt(0));
      const transfer = new DataTransfer();
      transfer.items.add(new File([data], ${JSON.stringify(name)}, { type: ${JSON.stringify(type)} }));
      return transfer;
    })()`,
  );
  await page.dispatchEvent('#page', 'drop', { dataTransfer: transfer });
}
