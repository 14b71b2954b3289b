/** What went wrong, for the person who ran the program: one clear sentence that says what, where and what to do. */
export class UserError extends Error {
  override readonly name = 'UserError';
  /** 2: the call was wrong (an option, a missing file); 1: the call was right, the job could not be done; 130: stopped by hand. */
  readonly exitCode: 1 | 2 | 130;
  constructor(message: string, exitCode: 1 | 2 | 130 = 1) {
    super(message);
    this.exitCode = exitCode;
  }
}
