// How a command meets the world: all side effects come in as one argument, so that a test can stay quiet.
import type { Beside, Progress } from '../pipeline/work.ts';

export interface Io {
  readonly progress: Progress;
  /** hears at once what the person should know before time is spent */
  note?(text: string): void;
  /** another thread, where there is one */
  readonly beside?: Beside | undefined;
}
