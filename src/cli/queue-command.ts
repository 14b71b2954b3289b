// `seamwright queue status`: who hands out, who works, what waits and what failed.
import { Argument, type Command } from 'commander';
import type { QueueStatus } from '../queue/status.ts';
import { addressOf, type QueueCall, queueOption } from './queue-options.ts';
import { printOut } from './terminal.ts';

interface Call extends QueueCall {
  json?: boolean;
}

export function addQueueCommand(program: Command): void {
  program
    .command('queue')
    .description('look at a queue: what waits, who works on it, and what failed')
    .addArgument(new Argument('<what>', 'what to show').choices(['status']))
    .addOption(queueOption('the queue to look at'))
    .option('--json', 'print the result as JSON')
    .action(run);
}

async function run(_what: string, call: Call): Promise<void> {
  const address = addressOf(call);
  const { queueStatus } = await import('../commands/over-queue.ts');
  const status = await queueStatus(address);
  printOut(call.json ? `${JSON.stringify(status)}\n` : inWords(status));
}

function inWords({ series, workers, jobs, failed, memory }: QueueStatus): string {
  const lines = [
    `Pictures: ${jobs.waiting} waiting, ${jobs.active} being worked on, ${jobs.later} to be tried again, ${jobs.failed} failed.`,
  ];
  if (!series.length) lines.push('No series is being made.');
  for (const s of series)
    lines.push(
      `Series ${s.name}, from ${s.host}: ${s.stage}, ${s.done} of ${s.of}${s.failed ? `, ${s.failed} failed` : ''}.`,
    );
  if (!workers.length) lines.push('There is no worker.');
  for (const w of workers) {
    const now = w.at.length ? `now ${w.at.join(', ')}` : 'free';
    lines.push(
      `Worker on ${w.host} (process ${w.pid}, ${w.threads} at once): ${w.done} done, ${w.failed} failed, ${now}.`,
    );
  }
  for (const f of failed) lines.push(`Failed: ${f.why}`);
  lines.push(`The server holds ${(memory / 1e6).toFixed(1)} MB.`);
  return `${lines.join('\n')}\n`;
}
