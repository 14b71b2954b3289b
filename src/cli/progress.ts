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

const BAR = 20;
const bar = (share: number): string => {
  const full = Math.round(Math.max(0, Math.min(1, share)) * BAR);
  return `[${'='.repeat(full)}${' '.repeat(BAR - full)}]`;
};
