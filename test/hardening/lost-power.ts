// A file system layer that loses power: it notes what the program does to its files and what it waits for, and lays out what a disk may
// hold if the power goes at any moment after. What was not waited for may be there, or not, or in part, in any order:
//   - the bytes of a file up to its last fsync are there; later ones may be missing, cut off or zeros
//   - a name (made, moved, taken away) is sure once its folder was synced after it; others are drawn by chance, each by itself
// POSIX promises no more (fsync(2), rename(2); Pillai et al., "All File Systems Are Not Created Equal", OSDI 2014).
import fs, { type FileHandle } from 'node:fs/promises';
import { syncBuiltinESMExports } from 'node:module';
import { basename, dirname, join, resolve, sep } from 'node:path';

interface Inode {
  readonly folder: boolean;
}
type Op =
  | {
      readonly kind: 'name';
      readonly in: Inode;
      readonly name: string;
      readonly is: Inode | undefined;
      readonly with?: Op;
    }
  | { readonly kind: 'bytes'; readonly of: Inode; readonly bytes: Buffer }
  | { readonly kind: 'sync'; readonly of: Inode; readonly bytes?: Buffer }
  | { readonly kind: 'said'; readonly what: string };

/** What the disk may hold: bytes by path from the root. Folders end with a slash. */
export type Disk = ReadonlyMap<string, Buffer | undefined>;

export class LosingPower {
  readonly #root: string;
  readonly #ops: Op[] = [];
  readonly #top: Inode = { folder: true };
  /** what has which name now, by path */
  readonly #now = new Map<string, Inode>();
  #restore = (): void => {};

  constructor(root: string) {
    this.#root = resolve(root);
    this.#now.set(this.#root, this.#top);
  }

  get length(): number {
    return this.#ops.length;
  }

  /** From now on all is noted that this process does in the folder. */
  start(): void {
    const own = { ...fs };
    const inside = (path: unknown): string | undefined => {
      const at = resolve(String(path));
      return at === this.#root || at.startsWith(this.#root + sep) ? at : undefined;
    };
    const note = (op: Op): void => void this.#ops.push(op);
    const inodeAt = (path: string, folder: boolean): Inode => {
      const inode = this.#now.get(path) ?? { folder };
      this.#now.set(path, inode);
      return inode;
    };
    const named = (path: string, is: Inode | undefined): void => {
      if (is) this.#now.set(path, is);
      else
        for (const known of [...this.#now.keys()])
          if (known === path || known.startsWith(path + sep)) this.#now.delete(known);
      note({ kind: 'name', in: inodeAt(dirname(path), true), name: basename(path), is });
    };
    const moved = (from: string, to: string): void => {
      if (!this.#now.has(from)) named(from, { folder: false });
      const inode = inodeAt(from, false);
      const below = [...this.#now].filter(([p]) => p.startsWith(from + sep));
      for (const [p] of [...this.#now].filter(([q]) => q === to || q.startsWith(to + sep))) this.#now.delete(p);
      for (const [p, i] of below) {
        this.#now.delete(p);
        this.#now.set(to + p.slice(from.length), i);
      }
      this.#now.delete(from);
      this.#now.set(to, inode);
      // a move within a folder is one change of it; between folders the old name may outlive the new one, never the reverse
      const gone: Op = { kind: 'name', in: inodeAt(dirname(from), true), name: basename(from), is: undefined };
      note({ kind: 'name', in: inodeAt(dirname(to), true), name: basename(to), is: inode, with: gone });
    };
    const bytesAt = async (path: string): Promise<Buffer> => Buffer.from(await own.readFile(path));
    const patched: Partial<Record<keyof typeof fs, unknown>> = {
      open: async (path: string, flags: string | number = 'r', mode?: number): Promise<FileHandle> => {
        const at = inside(path);
        const made =
          at && typeof flags === 'string' && /[wa]/.test(flags) && !(await own.stat(path).catch(() => undefined));
        const file = await own.open(path, flags, mode);
        if (!at) return file;
        const folder = (await file.stat()).isDirectory();
        // what a thread has written is met here for the first time
        if (made || !this.#now.has(at)) named(at, { folder });
        const inode = inodeAt(at, folder);
        const { writeFile, sync } = file;
        file.writeFile = async (...args) => {
          await writeFile.apply(file, args);
          note({ kind: 'bytes', of: inode, bytes: await bytesAt(at) });
        };
        file.sync = async () => {
          await sync.apply(file);
          note(folder ? { kind: 'sync', of: inode } : { kind: 'sync', of: inode, bytes: await bytesAt(at) });
        };
        return file;
      },
      writeFile: async (path: string, ...more: [never, never]) => {
        const at = inside(path);
        const made = at && !(await own.stat(path).catch(() => undefined));
        await own.writeFile(path, ...more);
        if (!at) return;
        if (made) named(at, { folder: false });
        note({ kind: 'bytes', of: inodeAt(at, false), bytes: await bytesAt(at) });
      },
      rename: async (from: string, to: string) => {
        await own.rename(from, to);
        const [a, b] = [inside(from), inside(to)];
        if (a && b) moved(a, b);
      },
      link: async (from: string, to: string) => {
        await own.link(from, to);
        const [a, b] = [inside(from), inside(to)];
        if (a && b) named(b, inodeAt(a, false));
      },
      rm: async (path: string, options?: object) => {
        const there = await own.lstat(path).catch(() => undefined);
        await own.rm(path, options);
        const at = inside(path);
        if (at && there) named(at, undefined);
      },
      mkdir: async (path: string, options?: { recursive?: boolean }) => {
        const missing: string[] = [];
        for (let at = inside(path); at && !(await own.stat(at).catch(() => undefined)); at = inside(dirname(at)))
          missing.unshift(at);
        const done = await own.mkdir(path, options);
        for (const at of missing) named(at, { folder: true });
        return done;
      },
      cp: async (from: string, to: string, options: never) => {
        await own.cp(from, to, options);
        const at = inside(to);
        if (at) await this.#adopt(own, at, named, note);
      },
    };
    Object.assign(fs, patched);
    syncBuiltinESMExports();
    this.#restore = () => {
      Object.assign(fs, own);
      syncBuiltinESMExports();
    };
  }

  /** What others wrote (a thread, a copy): its names and bytes, none of them waited for. */
  async #adopt(
    own: typeof fs,
    at: string,
    named: (path: string, is: Inode) => void,
    note: (op: Op) => void,
  ): Promise<void> {
    const info = await own.lstat(at).catch(() => undefined);
    if (!info) return;
    const inode: Inode = { folder: info.isDirectory() };
    named(at, inode);
    if (inode.folder) for (const name of await own.readdir(at)) await this.#adopt(own, join(at, name), named, note);
    else note({ kind: 'bytes', of: inode, bytes: Buffer.from(await own.readFile(at)) });
  }

  stop(): void {
    this.#restore();
  }

  /** The program has told somebody that this is kept. */
  said(what: string): void {
    this.#ops.push({ kind: 'said', what });
  }

  /** What had been said by then. */
  saidBefore(at: number): string[] {
    return this.#ops.slice(0, at).flatMap((op) => (op.kind === 'said' ? [op.what] : []));
  }

  /** What the disk may hold when the power goes before operation `at`. */
  diskAt(at: number, random: () => number): Disk {
    const ops = this.#ops.slice(0, at);
    const lastSync = new Map<Inode, number>();
    for (const [i, op] of ops.entries()) if (op.kind === 'sync') lastSync.set(op.of, i);
    const names = new Map<Inode, Map<string, Inode>>();
    const folderOf = (inode: Inode): Map<string, Inode> => {
      const own = names.get(inode) ?? new Map<string, Inode>();
      names.set(inode, own);
      return own;
    };
    const bytes = new Map<Inode, Buffer>();
    const apply = (op: Op): void => {
      if (op.kind !== 'name') return;
      if (op.is) folderOf(op.in).set(op.name, op.is);
      else folderOf(op.in).delete(op.name);
    };
    ops.forEach((op, i) => {
      if (op.kind === 'name') {
        const sure = i < (lastSync.get(op.in) ?? -1);
        if (!sure && random() < 0.5) return;
        apply(op);
        if (op.with?.kind !== 'name') return;
        if (op.with.in === op.in || i < (lastSync.get(op.with.in) ?? -1) || random() < 0.5) apply(op.with);
      } else if (op.kind === 'sync' && op.bytes) bytes.set(op.of, op.bytes);
      else if (op.kind === 'bytes' && i > (lastSync.get(op.of) ?? -1)) {
        const kept = Math.floor(random() * (op.bytes.length + 1));
        const fate = random();
        const before = bytes.get(op.of);
        if (fate < 0.3) bytes.set(op.of, op.bytes);
        else if (fate < 0.6) bytes.set(op.of, op.bytes.subarray(0, kept));
        else if (fate < 0.8)
          bytes.set(op.of, Buffer.concat([op.bytes.subarray(0, kept), Buffer.alloc(op.bytes.length - kept)]));
        else bytes.set(op.of, before ?? Buffer.alloc(0));
      }
    });
    const disk = new Map<string, Buffer | undefined>();
    const walk = (folder: Inode, path: string, seen: ReadonlySet<Inode>): void => {
      for (const [name, inode] of names.get(folder) ?? [])
        if (!inode.folder) disk.set(path + name, bytes.get(inode) ?? Buffer.alloc(0));
        else if (!seen.has(inode)) {
          disk.set(`${path}${name}/`, undefined);
          walk(inode, `${path}${name}/`, new Set([...seen, inode]));
        }
    };
    walk(this.#top, '', new Set([this.#top]));
    return disk;
  }
}

/** Lays out what the disk holds. */
export async function layOut(disk: Disk, folder: string): Promise<void> {
  await fs.mkdir(folder, { recursive: true });
  for (const [path, bytes] of disk)
    if (bytes) await fs.writeFile(join(folder, path), bytes);
    else await fs.mkdir(join(folder, path), { recursive: true });
}
