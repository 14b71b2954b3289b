// Progress on stderr: a spinner and a share where someone watches, plain lines where nobody does. Nothing on stdout.
import ora from 'ora';
import type { Progress } from '../pipeline.ts';

export interface ShownProgress extends Progress {
  /** seconds each stage took, in order */
  readonly timings: Record<string, number>;
  finish(): void;
}

export function showProgress(silent: boolean): ShownProgress {
  const watched = process.stderr.isTTY === true && !silent;
  const spinner = ora({ stream: process.stderr, isEnabled: watched, isSilent: silent });
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
      else if (!silent) process.stderr.write(`${name} …\n`);
    },
    done(share) {
      if (watched) spinner.text = `${current} … ${bar(share)} ${Math.round(share * 100)} %`;
    },
    finish() {
      close();
      current = '';
      if (watched) spinner.stop();
    },
  };
}

/** Progress over many pictures: how many are done, which was last, how long it may still take. */
export function showSeries(): { stage(name: string, jobs: number): void; step(name: string): void; finish(): void } {
  const watched = process.stderr.isTTY === true;
  const spinner = ora({ stream: process.stderr, isEnabled: watched });
  let [stage, jobs, done, since] = ['', 0, 0, 0];
  return {
    stage(name, count) {
      [stage, jobs, done, since] = [name, count, 0, performance.now()];
      if (watched) spinner.start(`${stage} …`);
      else process.stderr.write(`${stage} …\n`);
    },
    step(name) {
      done++;
      if (!watched) process.stderr.write(`${done} of ${jobs}: ${name}\n`);
      const left = ((performance.now() - since) / done) * (jobs - done);
      spinner.text = `${stage} … ${bar(done / jobs)} ${done} of ${jobs}, ${timeLeft(left / 1000)} (${name})`;
    },
    finish() {
      if (watched) spinner.stop();
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
