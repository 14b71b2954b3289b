// The command as a person calls it: the built program in a process of its own, or the same call from the sources in the test's own
// process, which spares the start where the process is not the point.
import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { callCommand } from '../../src/cli/call-command.ts';

export const root = join(import.meta.dirname, '..', '..');
export const fixture = (name: string): string => join(root, 'fixtures', name);

export interface Said {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

export const runProgram = (args: readonly string[], folder: string): Promise<Said> =>
  new Promise((done) =>
    execFile(
      process.execPath,
      [join(root, 'dist', 'seamwright.js'), ...args],
      { cwd: folder, maxBuffer: 1e8 },
      (e, out, err) => done({ code: e ? Number(e.code) : 0, out, err }),
    ),
  );

/** The same in this process; one call at a time. */
export async function callHere(args: readonly string[], folder: string): Promise<Said> {
  const said = { out: '', err: '' };
  const [{ stdout, stderr }, home, before] = [process, process.cwd(), process.exitCode];
  const writes = [stdout.write, stderr.write] as const;
  const keep = (to: 'out' | 'err') =>
    ((chunk: string | Uint8Array) => {
      said[to] += typeof chunk === 'string' ? chunk : new TextDecoder().decode(chunk);
      return true;
    }) as typeof stdout.write;
  stdout.write = keep('out');
  stderr.write = keep('err');
  process.chdir(folder);
  process.exitCode = 0;
  try {
    const code = await callCommand(args);
    return { code: code ?? Number(process.exitCode), ...said };
  } finally {
    [stdout.write, stderr.write] = writes;
    process.chdir(home);
    process.exitCode = before;
  }
}
