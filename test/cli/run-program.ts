// The command as a person calls it: the built program, in a process of its own.
import { execFile } from 'node:child_process';
import { join } from 'node:path';

export const root = join(import.meta.dirname, '..', '..');
export const fixture = (name: string): string => join(root, 'fixtures', name);

export interface Said {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

export const runProgram = (args: readonly string[], folder: string): Promise<Said> =>
  new Promise((done) =>
    execFile(process.execPath, [join(root, 'dist', 'seamwright.js'), ...args], { cwd: folder }, (e, out, err) =>
      done({ code: e ? Number(e.code) : 0, out, err }),
    ),
  );
