// Progress on stderr: a spinner and a share where someone watches, plain lines where nobody does. Nothing on stdout.
import type { Command } from 'commander';
import ora from 'ora';
import type { Progress } from '../pipeline/work.ts';
import type { Log } from '../queue/log.ts';
import { tell } from './terminal.ts';

export interface ShownProgress extends Progress {
  /** seconds each stage took, in order */
  readonly timings: Record<string, number>;
  /** a line for the person, above what is going on */
  say(line: string): void;
  finish(): void;
}

/** With `timed` it says at the end how long each stage took. */
export function showProgress(timed = false): ShownProgress {
  const watched = process.stderr.isTTY === true;
  const spinner = ora({ stream: process.stderr, isEnabled: watched });
  const timings: Record<string, number> = {};
  let current = '';
  let since = performance.now();
  const close = (): void => {
    if (current) timings[current] = Math.round(performance.now() - since) / 1000;
  };
  return {
    timings,
    stage(name) {
      close();
      current = name;
      since = performance.now();
      if (watched) spinner.start(`${name} …`);
      else tell(`${name} …\n`);
    },
    done(share) {
      if (watched) spinner.text = `${current} … ${bar(share)} ${Math.round(share * 100)} %`;
    },
    say(line) {
      if (watched) spinner.stop();
      tell(`${line}\n`);
    },
    finish() {
      if (!current) return;
      close();
      current = '';
      if (watched) spinner.stop();
      if (timed) for (const [stage, seconds] of Object.entries(timings)) sayTime(stage, seconds);
    },
  };
}

/** `--timings` on every command: the whole of it, with what came before the work, and the most memory. */
export function addTimings(program: Command): void {
  let begun = 0;
  for (const command of program.commands)
    command.option('--timings', 'say where the time went, and how much memory it took');
  program.hook('preAction', () => {
    begun = process.uptime();
  });
  program.hook('postAction', (_, command) => {
    if (!command.opts<{ timings?: boolean }>().timings) return;
    sayTime('starting the program', begun);
    sayTime('in all', process.uptime());
    tell(`${String(Math.round(process.resourceUsage().maxRSS / 1024)).padStart(8)} MB of memory at most\n`);
  });
}

const sayTime = (what: string, seconds: number): void => tell(`${seconds.toFixed(2).padStart(8)} s  ${what}\n`);

export interface ShownSeries {
  stage(name: string, jobs: number): void;
  step(name: string): void;
  /** where others do the work: how many they are */
  seen(workers: number, threads: number): void;
  finish(): void;
}

/** Progress over many pictures: how many are done, which was last, how long it may still take, and who works on them. */
export function showSeries(timed = false): ShownSeries {
  const watched = process.stderr.isTTY === true;
  const spinner = ora({ stream: process.stderr, isEnabled: watched });
  let [stage, jobs, done, since] = ['', 0, 0, 0];
  let [crew, last] = ['', ''];
  const close = (): void => {
    if (timed && stage) sayTime(stage, (performance.now() - since) / 1000);
    stage = '';
  };
  const show = (): void => {
    if (!stage) return;
    const left = done ? `, ${timeLeft((((performance.now() - since) / done) * (jobs - done)) / 1000)}` : '';
    const far = done || crew ? ` ${bar(done / jobs)} ${done} of ${jobs}${left}` : '';
    spinner.text = `${stage} …${far}${crew && `, ${crew}`}${last && ` (${last})`}`;
  };
  return {
    stage(name, count) {
      close();
      [stage, jobs, done, since] = [name, count, 0, performance.now()];
      last = '';
      if (watched) spinner.start(`${stage} …`);
      else tell(`${stage} …\n`);
      show();
    },
    step(name) {
      done++;
      last = name;
      if (!watched) tell(`${done} of ${jobs}: ${name}\n`);
      show();
    },
    seen(workers) {
      const now = crewOf(workers);
      if (now === crew) return;
      crew = now;
      if (!watched) tell(`${now}\n`);
      show();
    },
    finish() {
      if (watched) spinner.stop();
      close();
    },
  };
}

const crewOf = (workers: number): string =>
  workers ? `${workers} ${workers === 1 ? 'worker' : 'workers'}` : 'no worker yet: start one with "seamwright worker"';

/** The same as lines of JSON. */
export function logSeries(log: Log): ShownSeries {
  let [stage, jobs, done] = ['', 0, 0];
  return {
    stage(name, count) {
      [stage, jobs, done] = [name, count, 0];
      log('stage', { stage, of: jobs });
    },
    step: (label) => log('step', { stage, label, done: ++done, of: jobs }),
    // the queue says so itself
    seen() {},
    finish() {},
  };
}

const timeLeft = (seconds: number): string =>
  seconds < 90 ? `about ${Math.max(1, Math.round(seconds))} s left` : `about ${Math.round(seconds / 60)} min left`;

const BAR = 20;
const bar = (share: number): string => {
  const full = Math.round(Math.max(0, Math.min(1, share)) * BAR);
  return `[${'='.repeat(full)}${' '.repeat(BAR - full)}]`;
};
