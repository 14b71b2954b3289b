// A job that is asked for: how it may be asked, what the asker holds of it, and what its pool does.

/** Nobody wanted the answer any more, or the pool was closed. */
export class Cancelled extends Error {
  constructor() {
    super('the work on it was stopped');
  }
}

/** The thread that had the job has ended: out of memory, most likely. No other job is touched. */
export class ThreadDied extends Error {}

export interface AskOptions<Input, Part = never> {
  /** of all that wait the greatest goes first; of equals, the one that was asked first. 0 where absent */
  readonly priority?: number;
  /** jobs of one key go to the thread that had that key before, where it is free: it may have kept something */
  readonly affinity?: string;
  /** What throws here ends the job, and is thrown by its answer; so for `progress`. */
  readonly part?: (part: Part) => void;
  readonly progress?: (stage: string, share: number) => void;
  /** Whoever gives it agrees that the job makes room for one of greater priority when no thread is free: it leaves off, waits for its
   *  turn, and begins again with what this makes of its input. */
  readonly restart?: (input: Input) => Input;
}

export interface Running<Output> {
  /** Throws UserError or Error as the job did, ThreadDied, or Cancelled. */
  readonly answer: Promise<Output>;
  /** may change while it runs: what has shown something can wait */
  priority: number;
  /** The answer throws Cancelled at once; the thread is free again as soon as the job looks. */
  cancel(): void;
}

/** One job that was asked for, as its pool holds it. */
export class Call {
  readonly name: string;
  input: unknown;
  readonly options: AskOptions<unknown, unknown>;
  priority: number;
  /** anything but 0 asks the thread to leave off */
  readonly stop = new Int32Array(new SharedArrayBuffer(4));
  readonly answer: Promise<unknown>;
  /** the answer is settled, whatever the thread still does about it */
  over = false;
  #resolve!: (answer: unknown) => void;
  #reject!: (e: unknown) => void;

  constructor(name: string, input: unknown, options: AskOptions<unknown, unknown>) {
    this.name = name;
    this.input = input;
    this.options = options;
    this.priority = options.priority ?? 0;
    this.answer = new Promise((resolve, reject) => {
      this.#resolve = resolve;
      this.#reject = reject;
    });
    // whoever cancels a job need not listen to its end
    this.answer.catch(() => {});
  }

  done(answer: unknown): void {
    this.over = true;
    this.#resolve(answer);
  }

  fail(e: unknown): void {
    this.over = true;
    this.#reject(e);
  }

  leaveOff(): void {
    Atomics.store(this.stop, 0, 1);
  }

  get leaving(): boolean {
    return Atomics.load(this.stop, 0) !== 0;
  }

  /** It has left off, and may be sent again. */
  beginAgain(): void {
    this.input = this.options.restart!(this.input);
    Atomics.store(this.stop, 0, 0);
  }
}
