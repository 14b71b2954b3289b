// `npm run bench -- page [PICTURE]`: from a change on the page to its first look and to the whole block, over HTTP as a browser
// asks, the median of five works. Beside the time the processor time of server and threads, which other work on the machine moves less.
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { cpus, loadavg, tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import type { Event, Settings, Work } from '../../src/page/api.ts';
import { servePage } from '../../src/page/server/serve.ts';
import { inches } from '../../src/units.ts';
import { median } from './settings.ts';

const ROUNDS = 5;
/** works that are being fitted while the hand changes another */
const FITTING = 9;
const PICTURE = join(import.meta.dirname, '..', '..', 'fixtures', 'photos', 'dog-shepherd-dry-grass.jpg');

/** In this order on each work: what a change leaves known helps the next, as it does under a person's hand. */
const CHANGES: readonly (readonly [title: string, set: Partial<Settings>, back?: Partial<Settings>])[] = [
  ['another number of pieces', { pieces: 65 }],
  ['another number of shades', { shades: 6 }],
  ['another narrowest piece', { smallest: inches(3 / 8) }],
  ['another crop', { crop: [0.2, 0.05, 0.6, 0.9] }, { crop: 'middle' }],
  ['the background calm', { background: 'calm' }],
  ['the background plain', { background: 'plain' }],
  ['the background calm again, other shades', { background: 'calm', shades: 7 }],
  ['a crop by hand of that', { crop: [0.2, 0.05, 0.6, 0.9] }],
  ['another size', { size: [inches(10), inches(12)] }],
];

interface Measured {
  /** ms; absent where the whole block came first */
  readonly look?: number;
  readonly lookProcessor?: number;
  readonly full: number;
}

export async function benchPage([picture = PICTURE]: readonly string[]): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), 'seamwright-bench-'));
  const page = await servePage({ folder, port: 0, workers: 2 });
  const events = new Heard(page.address);
  try {
    const bytes = await readFile(picture);
    const found = new Map<string, Measured[]>();
    for (let round = -1; round < ROUNDS; round++) {
      const begin = async (): Promise<Work> =>
        call(page.address, 'works', 'POST', bytes, { 'x-file-name': encodeURIComponent(basename(picture)) });
      const [first, id] = await measure(page.address, events, begin);
      const note = (title: string, m: Measured): void => {
        // the first work warms the threads
        if (round >= 0) found.set(title, [...(found.get(title) ?? []), m]);
      };
      note('the picture itself', first);
      const set = (given: Partial<Settings>) => (): Promise<Work> =>
        call(page.address, `works/${id}/settings`, 'PATCH', JSON.stringify(given));
      for (const [title, given, back] of CHANGES) {
        note(title, (await measure(page.address, events, set(given)))[0]);
        if (back) await measure(page.address, events, set(back));
      }
    }
    console.log(`${basename(picture)}, median of ${ROUNDS}, ms (processor time in brackets)`);
    for (const [title, all] of found) {
      const looks = all.filter((m) => m.look !== undefined);
      const look = looks.length
        ? `${ms(looks.map((m) => m.look!))} (${ms(looks.map((m) => m.lookProcessor!)).trim()})`
        : 'none';
      console.log(`${title.padEnd(42)} first look ${look.padEnd(16)} whole block ${ms(all.map((m) => m.full))}`);
    }
    await benchHand(page.address, bytes, basename(picture));
    console.log(`load of this machine over the last minute ${loadavg()[0]!.toFixed(1)} on ${cpus().length} cores`);
  } finally {
    events.close();
    await page.close();
    await rm(folder, { recursive: true, force: true });
  }
}

/** Changes by hand while nine works are being fitted, and settings that fit nothing: from the call to its answer. */
async function benchHand(address: string, bytes: Uint8Array<ArrayBuffer>, name: string): Promise<void> {
  const headers = { 'x-file-name': encodeURIComponent(name) };
  const own = await call<Work>(address, 'works', 'POST', bytes, headers);
  let { block } = own;
  while (!block) {
    const now = await call<Work>(address, `works/${own.id}`);
    if (now.stage === 'full') block = now.block;
    await new Promise((r) => setTimeout(r, 50));
  }
  for (let n = 0; n < FITTING; n++) {
    const { id } = await call<Work>(address, 'works', 'POST', bytes, headers);
    await call(address, `works/${id}/settings`, 'PATCH', JSON.stringify({ pieces: 150 + n, effort: 'long' }));
  }
  const timed = async (title: string, path: string, method: string, bodies: readonly unknown[]): Promise<void> => {
    const all: number[] = [];
    for (const body of bodies) {
      const start = performance.now();
      await call(address, `works/${own.id}/${path}`, method, JSON.stringify(body));
      all.push(performance.now() - start);
    }
    console.log(
      `${title.padEnd(42)} ${FITTING} works fitting  answered ${ms(all)}, the longest ${Math.max(...all).toFixed(0)}`,
    );
  };
  const rounds = Array.from({ length: ROUNDS }, (_, n) => n);
  const names = rounds.map((n) => ({ name: `bench ${n}`, designer: `Pepper ${n}` }));
  await timed('a name and a designer', 'settings', 'PATCH', names);
  const { fabrics, sections } = block;
  await timed(
    'a piece in another fabric',
    'changes',
    'POST',
    rounds.map((n) => ({ kind: 'fabric', pieces: ['A1'], fabric: fabrics[n % fabrics.length]!.id })),
  );
  const seam = sections.flatMap((s) => s.pieces.filter((p) => p.seam).map((p) => `${s.id}${p.number}`))[0]!;
  await timed(
    'a seam moved',
    'changes',
    'POST',
    rounds.map((n) => ({ kind: 'move', seam, by: n % 2 ? -0.4 : 0.4 })),
  );
}

const ms = (values: readonly number[]): string => median(values).toFixed(0).padStart(6);

/** What the page's stream says, one after another. */
class Heard {
  readonly #stop = new AbortController();
  #wake: () => void = () => {};
  #said = 0;

  constructor(address: string) {
    void this.#listen(address).catch(() => {});
  }

  async #listen(address: string): Promise<void> {
    const answer = await fetch(new URL('api/events', address), { signal: this.#stop.signal });
    for await (const text of answer.body!.pipeThrough(new TextDecoderStream())) {
      const works = text.split('\n').filter((l) => l.startsWith('data: '));
      if (!works.some((l) => (JSON.parse(l.slice(6)) as Event).kind === 'work')) continue;
      this.#said++;
      this.#wake();
    }
  }

  /** How much has been said of works so far. */
  get said(): number {
    return this.#said;
  }

  async after(said: number): Promise<void> {
    while (this.#said <= said) await new Promise<void>((done) => (this.#wake = done));
  }

  close(): void {
    this.#stop.abort();
  }
}

async function call<T>(
  address: string,
  path: string,
  method = 'GET',
  body?: string | Uint8Array<ArrayBuffer>,
  headers: Record<string, string> = {},
): Promise<T> {
  const type = typeof body === 'string' ? { 'content-type': 'application/json' } : {};
  const answer = await fetch(new URL(`api/${path}`, address), {
    ...{ method, headers: { ...headers, ...type, origin: new URL(address).origin } },
    ...(body && { body }),
  });
  if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`);
  return (await answer.json()) as T;
}

async function measure(address: string, events: Heard, act: () => Promise<Work>): Promise<[Measured, string]> {
  const start = performance.now();
  const used = process.cpuUsage();
  let seen = events.said;
  let work = await act();
  let look: number | undefined;
  let lookProcessor: number | undefined;
  while (work.stage === 'waiting' || work.stage === 'coarse') {
    if (work.stage === 'coarse' && look === undefined) {
      look = performance.now() - start;
      const { user, system } = process.cpuUsage(used);
      lookProcessor = (user + system) / 1000;
    }
    await events.after(seen);
    seen = events.said;
    work = await call<Work>(address, `works/${work.id}`);
  }
  if (work.failed) throw new Error(work.failed);
  const full = performance.now() - start;
  return [{ full, ...(look !== undefined && { look, lookProcessor: lookProcessor! }) }, work.id];
}
