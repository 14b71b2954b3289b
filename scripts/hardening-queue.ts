// What a series over a queue comes through, counted: `npm run hardening:queue`, after npm run build. Needs redis-server or valkey-server.
// --pictures 40   --kills 10 moments at which a worker is killed   --seed 1
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { isDeepStrictEqual, parseArgs } from 'node:util';
import { randomNumbers } from '../test/check/random-block.ts';
import { runProgram } from '../test/cli/run-program.ts';
import { type CrashResult, contents, crash, type Mishap } from '../test/queue/crash.ts';
import { drawPicture, QUICK } from '../test/queue/pictures.ts';
import { hasServer, startServer, type TestServer, WITH_FILE } from '../test/queue/redis.ts';

const { values } = parseArgs({
  options: {
    pictures: { type: 'string', default: '40' },
    kills: { type: 'string', default: '10' },
    seed: { type: 'string', default: '1' },
  },
});
const [pictures, kills] = [Number(values.pictures), Number(values.kills)];
const random = randomNumbers(Number(values.seed));
const line = (text: string): void => void process.stdout.write(`${text}\n`);
let faults = 0;
if (!hasServer) throw new Error('There is no redis-server or valkey-server on the path.');

/** A moment in both rounds, and in the middle of something. */
const moments = (what: Mishap['what'], count: number): Mishap[] =>
  Array.from({ length: count }, () => ({
    ...{ what, after: 1 + Math.floor(random() * (2 * pictures - 3)), wait: Math.floor(random() * 400) },
  }));

const folder = mkdtempSync(join(tmpdir(), 'seamwright-hardening-'));
const words = (out: string): string[] => ['friends', '--settings', 'series.yaml', '--out', out, '--json'];

async function one(
  name: string,
  server: TestServer,
  plain: Record<string, string>,
  workers: number,
  mishaps: Mishap[],
): Promise<CrashResult> {
  const out = name.replace(/\W+/g, '-');
  const begun = performance.now();
  const result = await crash({ folder, server, words: words(out), workers, mishaps });
  const seconds = ((performance.now() - begun) / 1000).toFixed(0);
  const same = isDeepStrictEqual(await contents(join(folder, out)), plain);
  const failed = JSON.parse(result.out || '{"failed":[]}').failed as { file: string }[];
  const whole = result.code === 1 && failed.length === 1 && failed[0]!.file === 'hostile.jpg';
  if (!same || !whole) faults++;
  const did = Object.entries(result.happened).filter(([, n]) => n);
  line(
    `${name}: ${same ? 'the same bytes' : 'FAULT: OTHER BYTES'}, ${whole ? 'the hostile picture is named once' : `FAULT: it ended with ${result.code}, ${result.err.slice(-300)}`}; ` +
      `${did.map(([what, n]) => `${what} ${n}`).join(', ') || 'nothing went wrong'}; ${result.jobsDone} jobs done of ${2 * pictures} needed, ${seconds} s`,
  );
  return result;
}

const server = await startServer(...WITH_FILE);
try {
  mkdirSync(join(folder, 'friends'));
  for (let i = 1; i <= pictures; i++) writeFileSync(join(folder, 'friends', `cat ${i}.svg`), drawPicture(i));
  writeFileSync(join(folder, 'friends', 'hostile.jpg'), 'no picture');
  writeFileSync(join(folder, 'series.yaml'), QUICK);
  const said = await runProgram(['series', ...words('plain')], folder);
  if (said.code !== 1) throw new Error(said.err);
  const plain = await contents(join(folder, 'plain'));
  line(`${pictures} pictures and a hostile one, without a queue: ${Object.keys(plain).length} files.`);
  for (const workers of [1, 2, 5]) await one(`${workers} workers`, server, plain, workers, []);
  await one('workers killed', server, plain, 2, moments('kill a worker', kills));
  await one('server stopped', server, plain, 2, moments('stop the server', 3));
  await one('coordinator killed', server, plain, 2, moments('kill the coordinator', 3));
  const deadly = 'cat 7.svg';
  const out = await crash({ folder, server, words: words('deadly'), workers: 2, mishaps: [], deadly });
  const failed = JSON.parse(out.out).failed as { file: string; error: string }[];
  const named = failed.find((f) => f.file === deadly)?.error ?? 'FAULT: it is not named';
  if (failed.length !== 2 || out.deaths !== 4 || !named.startsWith('Every worker')) faults++;
  line(
    `a picture that kills its worker: ${out.deaths} workers lost, ${JSON.parse(out.out).blocks.length} of ${pictures - 1} others made; "${named}"`,
  );
  await one('all of it', server, plain, 2, [
    ...moments('kill a worker', 4),
    ...moments('stop the server', 2),
    ...moments('kill the coordinator', 2),
  ]);
} finally {
  await server.remove();
  rmSync(folder, { recursive: true, force: true });
}
line(faults ? `${faults} faults.` : 'No fault.');
process.exitCode = faults ? 1 : 0;
