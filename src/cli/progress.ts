// Progress on stderr: a spinner and a share where someone watches, plain lines where nobody does. Nothing on stdout.
import type { Command } from 'commander';
import ora from 'ora';
import type { Progress } from '../pipeline/work.ts';
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

/** Progress over many pictures: how many are done, which was last, how long it may still take. */
export function showSeries(timed = false): {
  stage(name: string, jobs: number): void;
  step(name: string): void;
  finish(): void;
} {
  const watched = process.stderr.isTTY === true;
  const spinner = ora({ stream: process.stderr, isEnabled: watched });
  let [stage, jobs, done, since] = ['', 0, 0, 0];
  const close = (): void => {
    if (timed && stage) sayTime(stage, (performance.now() - since) / 1000);
    stage = '';
  };
  return {
    stage(name, count) {
      close();
      [stage, jobs, done, since] = [name, count, 0, performance.now()];
      if (watched) spinner.start(`${stage} …`);
      else tell(`${stage} …\n`);
    },
    step(name) {
      done++;
      if (!watched) tell(`${done} of ${jobs}: ${name}\n`);
      const left = ((performance.now() - since) / done) * (jobs - done);
      spinner.text = `${stage} … ${bar(done / jobs)} ${done} of ${jobs}, ${timeLeft(left / 1000)} (${name})`;
    },
    finish() {
      if (watched) spinner.stop();
      close();
    },
  };
}

const timeLeft = (seconds: number): string =>
  seconds < 90 ? `about ${Math.max(1, Math.round(seconds))} s left` : `about ${Math.round(seconds / 60)} min left`;

const BAR = 20;
const bar = (share: number): string => {
  const full = Math.round(Math.max(0, Math.min(1, share)) * BAR);
  return `[${'='.repeat(full)}${' '.repeat(BAR - full)}]`;
};
