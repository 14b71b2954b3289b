import { type ExitCode, UserError as Problem } from './problems/problem.ts';

/** A problem that has no code yet: its sentence alone. */
export class UserError extends Problem<'plain'> {
  constructor(text: string, exitCode: ExitCode = 1) {
    super('plain', { text }, exitCode);
  }
}
