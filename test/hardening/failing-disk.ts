// A disk that fails once, at the n-th thing that the page writes: full, read-only, broken, out of handles. The call that met it is told so
// in one sentence; the page goes on, and what it had said before is kept. Shared by the test and by the script.
import fs from 'node:fs/promises';
import { syncBuiltinESMExports } from 'node:module';
import { resolve, sep } from 'node:path';
import { fixture } from '../cli/run-program.ts';
import { newFolder, remove, visit } from '../page/visit.ts';

export const FAILURES = {
  ENOSPC: 'full',
  EROFS: 'read-only',
  EIO: 'broken',
  EMFILE: 'out of handles',
  EACCES: 'forbidden',
};
export type Failure = keyof typeof FAILURES;

/** Lets the n-th writing call in the folder fail. Gives how many calls there were, and an end to it. */
function failAt(root: string, n: number, code: Failure): { calls(): number; stop(): void } {
  const own = { ...fs };
  let calls = 0;
  const meet = (path: unknown): void => {
    const at = resolve(String(path));
    if (!at.startsWith(root + sep)) return;
    if (++calls === n)
      throw Object.assign(new Error(`${code}: made up, '${at}'`), { code, errno: -1, syscall: 'write' });
  };
  const failing =
    (name: 'rename' | 'link' | 'mkdir' | 'cp') =>
    (from: string, ...more: never[]) =>
      Promise.resolve().then(() => {
        meet(name === 'mkdir' ? from : more[0]);
        return (own[name] as (...all: unknown[]) => unknown)(from, ...more);
      });
  const open = async (path: string, flags: string | number = 'r', mode?: number) => {
    const writes = typeof flags === 'string' && /[wa+]/.test(flags);
    if (writes) meet(path);
    const file = await own.open(path, flags, mode);
    if (!writes) return file;
    const { writeFile, sync } = file;
    file.writeFile = async (...args) => {
      meet(path);
      return writeFile.apply(file, args);
    };
    file.sync = async () => {
      meet(path);
      return sync.apply(file);
    };
    return file;
  };
  Object.assign(fs, {
    open,
    rename: failing('rename'),
    link: failing('link'),
    mkdir: failing('mkdir'),
    cp: failing('cp'),
  });
  syncBuiltinESMExports();
  return {
    calls: () => calls,
    stop() {
      Object.assign(fs, own);
      syncBuiltinESMExports();
    },
  };
}

export interface Failed {
  /** times that the disk failed */
  readonly failures: number;
  /** answers that were one sentence */
  readonly told: number;
  readonly faults: readonly string[];
}

/** Every `step`-th writing call of one upload, two changes, a copy and a step back fails once, with each code. */
export async function failEverywhere(codes: readonly Failure[], step: number): Promise<Failed> {
  const faults: string[] = [];
  let [failures, told] = [0, 0];
  for (const code of codes)
    for (let n = 1; ; n += step) {
      const folder = await newFolder();
      const v = await visit(folder);
      const fault = (what: string): void => void faults.push(`${code} at call ${n}: ${what}`);
      const disk = failAt(resolve(folder), n, code);
      try {
        const tell = ({ status, body }: { status: number; body: { says?: string } }): boolean => {
          if (status === 200) return true;
          if (![422, 507].includes(status) || !/^[A-Z].*\.$/s.test(body.says ?? '')) fault(`${status} ${body.says}`);
          else told++;
          return false;
        };
        let first = await v.upload(fixture('../test/page/fox.block.json'));
        if (!tell(first)) first = await v.upload(fixture('../test/page/fox.block.json'));
        const { id } = first.body;
        const fabric = first.body.block!.fabrics[0]!.code;
        let said = first.body.block!.fabrics[0]!.name;
        for (const name of ['one', 'two'])
          if (tell(await v.send('POST', `works/${id}/changes`, { kind: 'rename', fabric, name }))) said = name;
        tell(await v.send('POST', `works/${id}/copy`));
        const now = (await v.work(id)).block?.fabrics[0]?.name;
        if (now !== said) fault(`"${said}" was said, there is "${now}"`);
        const after = await v.send('POST', `works/${id}/changes`, { kind: 'rename', fabric, name: 'after' });
        tell(after);
        if (after.status !== 200 && disk.calls() > n) fault('it does not go on');
      } catch (e) {
        fault((e as Error).message);
      } finally {
        disk.stop();
        await v.close().catch((e: Error) => fault(`closing: ${e.message}`));
      }
      const done = disk.calls() < n;
      if (!done) failures++;
      await remove(folder);
      if (done) break;
    }
  return { failures, told, faults };
}
