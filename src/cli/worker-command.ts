// `seamwright worker`: makes blocks for whatever series are handed out over a queue, on this computer, until it is stopped.
import type { Command } from 'commander';
import { UserError } from '../problems/problem.ts';
import type { SeriesJobs } from '../series/jobs.ts';
import { Pool } from '../threads/pool.ts';
import { WORKER } from '../worker-file.ts';
import { defaultWorkers, wholeNumber } from './options.ts';
import { addressOf, addWatching, logOf, type QueueCall, queueOption } from './queue-options.ts';
import { stoppable } from './stoppable.ts';
import { VERSION } from './version.ts';

interface Call extends QueueCall {
  workers?: string;
  lostAfter?: string;
}

const LOST_AFTER_S = 15;

export function addWorkerCommand(program: Command): void {
  const command = program
    .command('worker')
    .description('make blocks for the series that other computers hand out over a queue, until it is stopped')
    .addOption(queueOption('the queue to work for'))
    .option('--workers <number>', 'pictures worked on at once (default: as many as the machine has cores, 4 at most)')
    .option(
      '--lost-after <seconds>',
      'how long a worker may be silent before the others take over its pictures',
      String(LOST_AFTER_S),
    );
  addWatching(command).action(run);
}

async function run(call: Call): Promise<void> {
  const address = addressOf(call);
  const threads = call.workers ? wholeNumber(call.workers, 'workers', 1, 32) : defaultWorkers();
  const lostAfter = wholeNumber(call.lostAfter ?? String(LOST_AFTER_S), 'lostAfter', 2, 3600);
  const stopped = new UserError('stopped', {}, 130);
  try {
    await stoppable(['SIGINT', 'SIGTERM'], stopped, async (signal) => {
      // ended once the jobs are given back
      const pool = new Pool<SeriesJobs>({ entry: WORKER, threads });
      try {
        // loaded here: no other command needs any of it
        const { workForQueue } = await import('../commands/over-queue.ts');
        const { metrics } = call;
        await workForQueue({ address, version: VERSION, log: logOf(call), metrics, signal, lostAfter }, pool);
      } finally {
        await pool.close();
      }
    });
  } catch (e) {
    // stopping a worker is how it ends
    if (e !== stopped) throw e;
  }
}
