// SIGKILL at any moment: what was said to be kept is there, nothing is half written, and what goes on gives the same bytes. Shared by the test,
// which kills a few times, and by the script.
import { spawn } from 'node:child_process';
import { cp, mkdir, readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readBlock } from '../../src/block.ts';
import { verifyFolder } from '../../src/commands/verify.ts';
import { randomNumbers } from '../check/random-block.ts';
import { fixture, root } from '../cli/run-program.ts';
import { newFolder, remove } from '../page/visit.ts';
import { startPage } from './soak.ts';

export interface Killed {
  readonly kills: number;
  /** things said to be kept that were looked for and found */
  readonly kept: number;
  readonly faults: readonly string[];
}

const wait = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));

/** The page, again and again over one folder, killed amid its writes. */
export async function killPage(kills: number): Promise<Killed> {
  const random = randomNumbers(9);
  const folder = await newFolder();
  const faults: string[] = [];
  const said = new Map<string, string>();
  let kept = 0;
  try {
    for (let k = 0; k < kills; k++) {
      const { child, address } = await startPage(folder);
      const gone = new Promise((done) => child.once('exit', done));
      const send = async (method: string, path: string, body?: unknown): Promise<{ id: string }> => {
        const answer = await fetch(`${address}api/${path}`, {
          method,
          ...(body !== undefined && { body: JSON.stringify(body) }),
        });
        if (answer.status !== 200) throw new Error(`${answer.status} ${await answer.text()}`);
        return (await answer.json()) as { id: string };
      };
      for (const [id, name] of said) {
        const work = (await send('GET', `works/${id}`)) as { id: string; block?: { fabrics: { name: string }[] } };
        const now = work.block?.fabrics[0]?.name;
        // one more may have been kept than was said
        if (now !== name && now !== `${Number(name) + 1}`)
          faults.push(`kill ${k}: "${name}" was said, there is "${now}"`);
        else kept++;
        said.set(id, now ?? name);
      }
      const block = await readFile(fixture('../test/page/fox.block.json'));
      const { code } = readBlock(block.toString(), 'fox').fabrics[0]!;
      let ended = false;
      const busy = (async () => {
        let id: string | undefined = [...said.keys()][k % 3];
        for (let n = id ? Number(said.get(id)) : 0; !ended; ) {
          if (!id) {
            const headers = { 'x-file-name': 'fox.block.json' };
            const answer = await fetch(`${address}api/works`, { method: 'POST', headers, body: block });
            id = ((await answer.json()) as { id: string }).id;
          }
          n++;
          await send('POST', `works/${id}/changes`, { kind: 'rename', fabric: code, name: `${n}` });
          said.set(id, `${n}`);
        }
      })().catch((e: Error) => {
        if (!ended && !/fetch failed|terminated|ECONN|socket/.test(`${e.message} ${e.cause}`))
          faults.push(`kill ${k}: ${e.message}`);
      });
      await wait(1500 + 1500 * random());
      ended = true;
      child.kill('SIGKILL');
      await gone;
      await busy;
    }
    const { lost } = await verifyFolder(folder);
    for (const { name, says } of lost) faults.push(`${name}: ${says}`);
    const { child } = await startPage(folder);
    const left = (await readdir(folder, { recursive: true })).filter((f) => f.endsWith('.part'));
    if (left.length) faults.push(`${left[0]} stayed`);
    const gone = new Promise((done) => child.once('exit', done));
    child.kill('SIGTERM');
    await gone;
  } finally {
    await remove(folder);
  }
  return { kills, kept, faults };
}

const run = (words: readonly string[], cwd: string, killAfter?: number): Promise<void> =>
  new Promise((done) => {
    const child = spawn(process.execPath, [join(root, 'dist', 'seamwright.js'), ...words], { cwd, stdio: 'ignore' });
    const timer = killAfter === undefined ? undefined : setTimeout(() => child.kill('SIGKILL'), killAfter);
    child.on('exit', () => {
      clearTimeout(timer);
      done();
    });
  });

const visible = async (folder: string): Promise<string[]> =>
  (await readdir(folder).catch(() => [])).filter((f) => !f.startsWith('.')).sort();

/** A command and a series, killed at moments spread over their time. What is there is whole; going on gives the same bytes. */
export async function killCommands(kills: number): Promise<Killed> {
  const folder = await newFolder();
  const faults: string[] = [];
  let kept = 0;
  try {
    await mkdir(join(folder, 'in'));
    for (const name of ['fox', 'owl']) await cp(fixture(`flat/noto-${name}.svg`), join(folder, 'in', `${name}.svg`));
    await cp(fixture('../test/page/fox.block.json'), join(folder, 'fox.block.json'));
    const sheets = (out: string): string[] => [
      'sheets',
      'fox.block.json',
      '--format',
      'svg',
      '--paper',
      'a4',
      '--force',
      '--out',
      out,
    ];
    const series = (out: string): string[] => ['series', 'in', '--out', out, '--workers', '1', '--resume'];
    const timed = async (words: string[]): Promise<number> => {
      const begun = performance.now();
      await run(words, folder);
      return performance.now() - begun;
    };
    for (const [what, words, share] of [
      ['sheets', sheets, 0.6],
      ['series', series, 0.4],
    ] as const) {
      const took = await timed(words(`${what}-whole`));
      const times = Math.max(1, Math.round(kills * share));
      for (let k = 0; k < times; k++) {
        const out = `${what}-${k}`;
        await run(words(out), folder, (took * (k + 0.5)) / times);
        for (const f of await visible(join(folder, out))) {
          if (what !== 'sheets') continue;
          const [a, b] = await Promise.all([out, 'sheets-whole'].map((o) => readFile(join(folder, o, f))));
          if (a!.equals(b!)) kept++;
          else faults.push(`${out}/${f} is half written`);
        }
        await run(words(out), folder);
        const names = await visible(join(folder, `${what}-whole`));
        const now = await visible(join(folder, out));
        if (names.join() !== now.join()) faults.push(`${out}: ${now.join()}`);
        else
          for (const f of (await readdir(join(folder, out), { recursive: true })).filter((g) =>
            /block\.json$|packet\.pdf$|\.svg$/.test(g),
          )) {
            const [a, b] = await Promise.all([out, `${what}-whole`].map((o) => readFile(join(folder, o, f))));
            if (a!.equals(b!)) kept++;
            else faults.push(`${out}/${f} is not the same`);
          }
      }
    }
  } finally {
    await remove(folder);
  }
  return { kills, kept, faults };
}
