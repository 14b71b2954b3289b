// The figures behind "What you can rely on" (README.md), counted afresh: what the sewing check refuses and accepts, what hostile files
// come to, and seeded damage for as long as is asked: `npm run hardening -- --minutes 10`.
import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { checkBlock } from '../src/check/check-block.ts';
import { HARMLESS } from '../test/check/harmless.ts';
import { MUTANTS } from '../test/check/mutants.ts';
import { randomBlock, randomNumbers } from '../test/check/random-block.ts';
import { FUZZ_KINDS, fuzzOnce } from '../test/hardening/fuzz.ts';
import { HOSTILE } from '../test/hardening/hostile-inputs.ts';

const { values } = parseArgs({
  options: { minutes: { type: 'string', default: '0.2' }, from: { type: 'string', default: '0' } },
});
const BLOCKS = 60;
let bad = 0;
const line = (text: string): void => void process.stdout.write(`${text}\n`);
const fault = (text: string): void => {
  bad++;
  line(`  FAULT ${text}`);
};

function countChecks(): void {
  let [refused, accepted] = [0, 0];
  let [wrong, harmless] = [0, 0];
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
  line(`Sewing check: ${refused} of ${wrong} wrong blocks refused (${Object.keys(MUTANTS).length} kinds),`);
  line(`  ${accepted} of ${harmless} harmless changes accepted (${Object.keys(HARMLESS).length} kinds).`);
}

async function countHostile(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'seamwright-hostile-'));
  const program = join(import.meta.dirname, '..', 'dist', 'seamwright.js');
  const watch = `data:text/javascript,process.on('exit',()=>{const u=process.resourceUsage();process.stderr.write('\\npeak='+u.maxRSS+' cpu='+(u.userCPUTime+u.systemCPUTime)/1e6)})`;
  let [answered, slowest, largest] = [0, 0, 0];
  try {
    for (const [i, { name, ending, text, words = [] }] of HOSTILE.entries()) {
      const file = join(folder, `${i}.${ending}`);
      writeFileSync(file, text());
      const said = await new Promise<string>((done) =>
        execFile(
          process.execPath,
          ['--import', watch, program, 'check', file, ...words],
          { maxBuffer: 1e8 },
          (_, __, err) => done(err),
        ),
      );
      const [, peak, cpu] = /peak=(\d+) cpu=([\d.]+)/.exec(said) ?? [];
      if (peak && !/fault of the program|\n\s+at /.test(said) && Number(cpu) < 15 && Number(peak) < 1024 * 1024)
        answered++;
      else fault(`${name}: ${said.slice(0, 200)}`);
      [slowest, largest] = [Math.max(slowest, Number(cpu)), Math.max(largest, Number(peak))];
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
  line(
    `Hostile block files and drawings: ${answered} of ${HOSTILE.length} answered, at most ${slowest.toFixed(1)} s of processor time and ${Math.round(largest / 1024)} MB.`,
  );
}

function countFuzz(): void {
  const until = performance.now() + Number(values.minutes) * 60_000;
  const counts = new Map(FUZZ_KINDS.map((k) => [k, { taken: 0, refused: 0, fault: 0 }]));
  let seed = Number(values.from);
  do {
    const { kind, fate, says } = fuzzOnce(seed);
    counts.get(kind)![fate]++;
    if (fate === 'fault') fault(`${kind}, seed ${seed}: ${says}`);
    seed++;
  } while (performance.now() < until);
  for (const [kind, n] of counts)
    line(`Damaged ${kind}: ${n.refused} refused in a sentence, ${n.taken} sound all the same, ${n.fault} faults.`);
}

countChecks();
await countHostile();
countFuzz();
line(bad ? `${bad} faults.` : 'No fault.');
process.exitCode = bad ? 1 : 0;
