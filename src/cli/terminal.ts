// What the command says: the one way to standard output and error. What would steer a terminal is written out, and whoever stops
// reading (a pager that is closed) ends the program without a word.
import { shownText } from '../names.ts';
import { whySystem } from '../problems/errno.ts';

export const printOut = (text: string): void => void process.stdout.write(shownText(text));
export const tell = (text: string): void => void process.stderr.write(shownText(text));

/** Once, by the program itself: what goes wrong with the two streams. */
export function watchStreams(): void {
  process.stdout.on('error', (e: NodeJS.ErrnoException) => {
    // nobody reads on: that is no fault
    if (e.code === 'EPIPE') process.exit(process.exitCode ?? 0);
    tell(`seamwright: What was to be printed cannot be written: ${whySystem(e)}.\n`);
    process.exit(1);
  });
  process.stderr.on('error', () => {});
}
