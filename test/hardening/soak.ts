// The page as a program of its own, asked for minutes for whatever it can be asked: its memory is flat once it is warm.
import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { randomNumbers } from '../check/random-block.ts';
import { fixture, root } from '../cli/run-program.ts';
import { newFolder, remove } from '../page/visit.ts';
import { cutOff, damagedUpload, requestOnce } from './requests.ts';

export interface Soaked {
  readonly minutes: number;
  readonly requests: number;
  readonly faults: readonly string[];
  /** MB a minute, by least squares over what was measured after the first two minutes */
  readonly slope: number;
  /** MB, mean of the third minute and of the last */
  readonly early: number;
  readonly late: number;
  readonly peak: number;
}

/** Starts the page as a person does. */
export async function startPage(folder: string): Promise<{ child: ChildProcess; address: string }> {
  const words = [
    join(root, 'dist', 'seamwright.js'),
    'page',
    '--folder',
    folder,
    '--port',
    '0',
    '--no-open',
    '--workers',
    '1',
  ];
  const child = spawn(process.execPath, words, { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  const address = await new Promise<string>((found, fail) => {
    const look = (chunk: Buffer): void => {
      said += chunk;
      const at = /http:\/\/127\.0\.0\.1:\d+\/[\w-]+\//.exec(said);
      if (at) found(at[0]);
    };
    child.stdout!.on('data', look);
    child.stderr!.on('data', look);
    child.on('exit', () => fail(new Error(said)));
  });
  return { child, address };
}

const PAGE_SIZE = 4096;
/** MB of memory that a process has, on Linux. */
const memoryOf = (pid: number): number =>
  (Number(readFileSync(`/proc/${pid}/statm`, 'utf8').split(' ')[1]) * PAGE_SIZE) / 1e6;

const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;

function slopeOf(samples: readonly { at: number; mb: number }[]): number {
  const [t, m] = [mean(samples.map((s) => s.at)), mean(samples.map((s) => s.mb))];
  const top = samples.reduce((sum, s) => sum + (s.at - t) * (s.mb - m), 0);
  return top / samples.reduce((sum, s) => sum + (s.at - t) ** 2, 0);
}

/** Works that there are at most: more would be memory that is asked for, not lost. */
const WORKS = 8;
const WARM_MINUTES = 2;

export async function soak(minutes: number): Promise<Soaked> {
  const folder = await newFolder();
  const { child, address } = await startPage(folder);
  const faults: string[] = [];
  const samples: { at: number; mb: number }[] = [];
  const random = randomNumbers(26);
  const begun = performance.now();
  const now = (): number => (performance.now() - begun) / 60_000;
  const measuring = setInterval(() => samples.push({ at: now(), mb: memoryOf(child.pid!) }), 2000);
  let requests = 0;
  let died = false;
  child.on('exit', () => {
    died = true;
  });
  try {
    const upload = async (file: Uint8Array, name: string): Promise<string | undefined> => {
      const headers = { 'x-file-name': encodeURIComponent(name) };
      const answer = await fetch(`${address}api/works`, {
        method: 'POST',
        headers,
        body: file as Uint8Array<ArrayBuffer>,
      });
      const { id, says } = (await answer.json()) as { id?: string; says?: string };
      if (answer.status >= 500) faults.push(`upload: ${answer.status} ${says}`);
      return id;
    };
    const files = [
      '../test/page/fox.block.json',
      'flat/noto-fox.svg',
      'photos/cat-chelsea-face.jpg',
      'photos/fmt-heic-duck.heic',
    ];
    const ids: string[] = [];
    for (let i = 0; i < WORKS; i++) {
      const file = files[i % files.length]!;
      const id = await upload(readFileSync(fixture(file)), file.replace(/^.*\//, ''));
      if (id) ids.push(id);
    }
    while (now() < minutes && !died) {
      requests++;
      const kind = random();
      const id = ids[Math.floor(random() * ids.length)]!;
      const at = `${address}api/works/${id}`;
      if (kind < 0.02) await cutOff(address, Math.floor(random() * 300_000));
      else if (kind < 0.06) {
        if (!(await upload(damagedUpload(random), 'damaged.block.json'))) continue;
        // a change that harms nothing: one more work, which is no leak
        ids.push(ids.shift()!);
      } else if (kind < 0.1) {
        const stop = new AbortController();
        const events = await fetch(`${address}api/events`, { signal: stop.signal });
        await events.body!.getReader().read();
        stop.abort();
      } else if (kind < 0.14) {
        const body = JSON.stringify({ pieces: 10 + Math.floor(random() * 30), effort: 'quick' });
        await (await fetch(`${at}/settings`, { method: 'PATCH', body })).text();
      } else if (kind < 0.18) {
        const answer = await fetch(`${at}/files/${random() < 0.3 ? 'packet.pdf' : 'sections-svg.zip'}`);
        await answer.arrayBuffer();
        if (answer.status >= 500) faults.push(`file of ${id}: ${answer.status}`);
      } else if (kind < 0.4)
        for (const what of ['', '/face.svg', '/shades.png', '/sheets']) await (await fetch(at + what)).text();
      else {
        const { what, fault } = await requestOnce(address, ids, random);
        if (fault) faults.push(`${what}: ${fault}`);
      }
    }
    if (died) faults.push('the page ended');
    else if ((await fetch(`${address}api/works`)).status !== 200) faults.push('the list of works is gone');
    const left = (await readdir(folder, { recursive: true })).filter((f) => f.endsWith('.part'));
    if (left.length) faults.push(`${left[0]} stayed`);
  } finally {
    clearInterval(measuring);
    child.kill('SIGTERM');
    if (!died) await new Promise((done) => child.once('exit', done));
    await remove(folder);
  }
  const warm = samples.filter((s) => s.at > Math.min(WARM_MINUTES, minutes / 2));
  const of = (from: number, to: number): number =>
    mean(warm.filter((s) => s.at >= from && s.at <= to).map((s) => s.mb));
  return {
    ...{ minutes, requests, faults, slope: slopeOf(warm), peak: Math.max(...samples.map((s) => s.mb)) },
    ...{ early: of(warm[0]!.at, warm[0]!.at + 1), late: of(minutes - 1, minutes + 1) },
  };
}
