// A worker of no work, as a process of its own: tsx queue-echo.ts ADDRESS THREADS. Ends with SIGTERM.
import { readAddress } from '../../src/queue/address.ts';
import { connect } from '../../src/queue/connection.ts';
import { noLog } from '../../src/queue/log.ts';
import { WorkOff } from '../../src/queue/work-off.ts';
import { Pool } from '../../src/threads/pool.ts';
import type { EchoJobs } from './queue-jobs.ts';

const connected = await connect(readAddress(process.argv[2]!));
const pool = new Pool<EchoJobs>({
  entry: new URL('./queue-jobs.ts', import.meta.url),
  threads: Number(process.argv[3]),
});
const stop = new AbortController();
process.once('SIGTERM', () => stop.abort());
const work = await WorkOff.open<EchoJobs>({
  ...{ connected, pool, version: 'bench', jobs: { echo: 'echoed' }, signal: stop.signal, log: noLog, lostAfter: 60 },
});
await work.run();
await pool.close();
connected.close();
