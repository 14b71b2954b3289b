// The figures behind "What you can rely on" (README.md), counted afresh: npm run hardening, after npm run build, which takes half an hour
// and writes them into the README. Parts of it alone: npm run fuzz -- --minutes 10, npm run soak -- --minutes 10, or
// npm run hardening -- --only checks,hostile.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { checkBlock } from '../src/check/check-block.ts';
import { HARMLESS } from '../test/check/harmless.ts';
import { MUTANTS } from '../test/check/mutants.ts';
import { randomBlock, randomNumbers } from '../test/check/random-block.ts';
import { fixture } from '../test/cli/run-program.ts';
import { FAILURES, type Failure, failEverywhere } from '../test/hardening/failing-disk.ts';
import { writeFigures } from '../test/hardening/figures.ts';
import { FUZZ_KINDS, fuzzOnce } from '../test/hardening/fuzz.ts';
import { HOSTILE } from '../test/hardening/hostile-inputs.ts';
import { giveHostile } from '../test/hardening/hostile-run.ts';
import { killCommands, killPage } from '../test/hardening/killed.ts';
import { type Losses, loseOutputs, losePage, loseSeries } from '../test/hardening/lost-power-runs.ts';
import { cutOff, requestOnce } from '../test/hardening/requests.ts';
import { soak } from '../test/hardening/soak.ts';
import { newFolder, remove, visit } from '../test/page/visit.ts';

const { values } = parseArgs({
  options: {
    only: { type: 'string' },
    /** into the README, where there was no fault */
    write: { type: 'boolean', default: false },
    /** of the fuzz and of the soak, each */
    minutes: { type: 'string', default: '10' },
    /** the fuzz's first seed */
    from: { type: 'string', default: '0' },
  },
});
const MINUTES = Number(values.minutes);
const BLOCKS = 60;
const counted: Record<string, [what: string, figure: string][]> = {};
let part = '';
let bad = 0;
const row = (what: string, figure: string): void => {
  counted[part]!.push([what, figure]);
  process.stdout.write(`${what}: ${figure}\n`);
};
const fault = (text: string): void => {
  bad++;
  process.stdout.write(`  FAULT ${text}\n`);
};
const faultsOf = (what: string, faults: readonly string[]): string => {
  for (const f of faults) fault(`${what}: ${f}`);
  return `${faults.length} faults`;
};
const n = (value: number): string => value.toLocaleString('en-US');

function checks(): void {
  let [refused, wrong, accepted, harmless] = [0, 0, 0, 0];
  for (const [name, change] of Object.entries(MUTANTS)) {
    // not every block offers a place for every mistake: the first so many that do
    for (let [seed, made] = [0, 0]; made < BLOCKS && seed < 20 * BLOCKS; seed++) {
      const block = change(
        randomBlock(seed, { pieces: 4 + ((seed * 7) % 40), most: 2 + (seed % 12) }),
        randomNumbers(seed),
      );
      if (!block) continue;
      made++;
      wrong++;
      if (checkBlock(block).faults.length) refused++;
      else fault(`${name}, seed ${seed}: accepted`);
    }
  }
  for (const [name, change] of Object.entries(HARMLESS))
    for (let seed = 0; seed < BLOCKS; seed++) {
      harmless++;
      const found = checkBlock(change(randomBlock(seed), randomNumbers(seed))).faults[0];
      if (!found) accepted++;
      else fault(`${name}, seed ${seed}: ${found.text}`);
    }
  row(`Wrong changes of blocks, ${Object.keys(MUTANTS).length} kinds`, `${n(refused)} of ${n(wrong)} refused`);
  row(`Harmless changes, ${Object.keys(HARMLESS).length} kinds`, `${n(accepted)} of ${n(harmless)} accepted`);
}

async function hostile(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'seamwright-hostile-'));
  let [answered, slowest, largest] = [0, 0, 0];
  try {
    for (const one of HOSTILE) {
      const taken = await giveHostile(one, folder);
      if (taken.fault) fault(`${one.name}: ${taken.fault}`);
      else answered++;
      [slowest, largest] = [Math.max(slowest, taken.seconds), Math.max(largest, taken.megabytes)];
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
  const most = `at most ${slowest.toFixed(1)} s of processor time and ${Math.round(largest)} MB`;
  row(
    'Block files and drawings made to hang, to grow or to reach out',
    `${answered} of ${HOSTILE.length} answered, ${most}`,
  );
}

async function fuzz(): Promise<void> {
  const counts = { taken: 0, refused: 0, fault: 0 };
  const kinds = new Map(FUZZ_KINDS.map((k) => [k, { ...counts }]));
  const folder = await newFolder();
  const v = await visit(folder);
  const faults: string[] = [];
  let requests = 0;
  let seed = Number(values.from);
  try {
    const { body } = await v.upload(fixture('../test/page/fox.block.json'));
    for (const until = performance.now() + MINUTES * 60_000; performance.now() < until; ) {
      for (let i = 0; i < 100; i++, seed++) {
        const { kind, fate, says } = fuzzOnce(seed);
        kinds.get(kind)![fate]++;
        counts[fate]++;
        if (fate === 'fault') fault(`${kind}, seed ${seed}: ${says}`);
      }
      for (let i = 0; i < 20; i++, requests++) {
        const answer = await requestOnce(v.page.address, [body.id], randomNumbers(Number(values.from) + requests));
        if (answer.fault) faults.push(`request ${Number(values.from) + requests}, ${answer.what}: ${answer.fault}`);
      }
    }
  } finally {
    await v.close();
    await remove(folder);
  }
  for (const [kind, k] of kinds)
    process.stdout.write(
      `  ${kind}: ${n(k.refused)} refused in a sentence, ${n(k.taken)} sound all the same, ${k.fault} faults\n`,
    );
  const all = counts.taken + counts.refused + counts.fault;
  row(`Damaged ${FUZZ_KINDS.map((k) => `${k}s`.replace('ss', 's')).join(', ')}`, `${n(all)}, ${counts.fault} faults`);
  row('Requests by chance to the page', `${n(requests)}, ${faultsOf('requests', faults)}`);
}

async function cut(): Promise<void> {
  const folder = await newFolder();
  const v = await visit(folder);
  const UPLOADS = 300;
  const faults: string[] = [];
  try {
    for (let i = 0; i < UPLOADS; i += 10)
      await Promise.all(Array.from({ length: 10 }, (_, k) => cutOff(v.page.address, (i + k) % 3 ? 150_000 : 10)));
    const { status } = await v.upload(fixture('../test/page/fox.block.json'));
    if (status !== 200) faults.push(`the next upload: ${status}`);
  } finally {
    await v.close();
    await remove(folder);
  }
  row('Uploads to the page that were cut off', `${UPLOADS}, ${faultsOf('uploads', faults)}`);
}

async function disk(): Promise<void> {
  const faults: string[] = [];
  let failures = 0;
  for (const [i, code] of (Object.keys(FAILURES) as Failure[]).entries()) {
    const found = await failEverywhere([code], 9 + i);
    failures += found.failures;
    faults.push(...found.faults);
  }
  row(
    `Writes of the page that failed: disk ${Object.values(FAILURES).join(', ')}`,
    `${failures}, ${faultsOf('disk', faults)}`,
  );
}

async function killed(): Promise<void> {
  const page = await killPage(20);
  row(
    'SIGKILL of the page amid its writes',
    `${page.kills}; ${page.kept} things it had said to be kept, ${faultsOf('killed page', page.faults)}`,
  );
  const commands = await killCommands(10);
  row(
    'SIGKILL of commands',
    `${commands.kills}; ${commands.kept} files whole and the same after going on, ${faultsOf('killed commands', commands.faults)}`,
  );
}

async function power(): Promise<void> {
  for (const [what, lose, disks] of [
    ["a command's files", loseOutputs, 1000],
    ["the page's folder", losePage, 600],
    ["a series' folder", loseSeries, 300],
  ] as const) {
    const { kept, faults }: Losses = await lose(disks);
    row(
      `Power cuts, ${what}`,
      `${n(disks)} disks; ${n(kept)} things that were kept looked for, ${faultsOf(what, faults)}`,
    );
  }
}

async function soaked(): Promise<void> {
  const s = await soak(MINUTES);
  const slope = `${s.slope >= 0 ? '+' : ''}${s.slope.toFixed(1)} MB a minute`;
  row(
    `${s.minutes} minutes of mixed requests to the page`,
    `${n(s.requests)}, ${faultsOf('soak', s.faults)}; memory after the first two minutes ${slope} (${Math.round(s.early)} MB, at the end ${Math.round(s.late)} MB)`,
  );
}

const parts = { checks, hostile, fuzz, cut, disk, killed, power, soak: soaked };
const chosen = values.only?.split(',') ?? Object.keys(parts);
for (const [name, run] of Object.entries(parts)) {
  if (!chosen.includes(name)) continue;
  part = name;
  counted[part] = [];
  await run();
}
process.stdout.write(bad ? `${bad} faults.\n` : 'No fault.\n');
if (values.write && !bad) await writeFigures(Object.keys(parts), counted);
process.exit(bad ? 1 : 0);
