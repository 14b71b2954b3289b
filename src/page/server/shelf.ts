// The fabrics that someone has: one shelf for all works, kept in the folder as shelf.json, with the middles of their snapshots beside it.
// They stand as on a shelf: the colours round the wheel, each from light to dark, greys and browns of little colour at the end.
import { randomBytes } from 'node:crypto';
import { copyFile, mkdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { oklabOfHex } from '../../colour/oklab.ts';
import { nameWhole } from '../../files.ts';
import { readCloths } from '../../shade/read-cloths.ts';
import type { Event, NewFabric, ShelfFabric, WorkCloth } from '../api.ts';
import type { Crew } from './crew.ts';
import { NotHere } from './held.ts';
import { type Folder, ID } from './keep.ts';

const fabric = z.object({
  id: z.string().regex(ID),
  name: z.string(),
  colour: z.string(),
  print: z.enum(['directional', 'large']).optional(),
  snapshot: z.boolean(),
});
const file = z.object({ format: z.literal('seamwright-shelf'), version: z.literal(1), fabrics: z.array(fabric) });

/** OKLab chroma under which a fabric stands with the greys, and degrees of hue that stand together */
const GREY = 0.035;
const FAMILY = 30;

function place(colour: string): readonly [family: number, light: number] {
  const [L, a, b] = oklabOfHex(colour);
  const hue = ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360;
  return [Math.hypot(a, b) < GREY ? 99 : Math.floor(hue / FAMILY), -L];
}

export function asOnShelf<T extends { readonly colour: string; readonly name: string }>(fabrics: readonly T[]): T[] {
  return [...fabrics].sort((p, q) => {
    const [a, b] = [place(p.colour), place(q.colour)];
    return a[0] - b[0] || a[1] - b[1] || (p.name < q.name ? -1 : 1);
  });
}

export class Shelf {
  readonly #folder: Folder;
  readonly #crew: Crew;
  readonly #tell: (event: Event) => void;
  #fabrics: readonly ShelfFabric[] | undefined;
  /** one change after another */
  #last: Promise<unknown> = Promise.resolve();

  constructor(folder: Folder, crew: Crew, tell: (event: Event) => void) {
    this.#folder = folder;
    this.#crew = crew;
    this.#tell = tell;
  }

  #path(name: string): string {
    return join(this.#folder.root, 'shelf', name);
  }

  async list(): Promise<readonly ShelfFabric[]> {
    if (this.#fabrics) return this.#fabrics;
    const text = await readFile(this.#path('shelf.json'), 'utf8').catch(() => undefined);
    const found = text === undefined ? undefined : file.safeParse(JSON.parse(text));
    if (found && !found.success) throw new Error('shelf/shelf.json is no whole shelf');
    this.#fabrics = asOnShelf((found?.data.fabrics ?? []) as ShelfFabric[]);
    return this.#fabrics;
  }

  /** What is there under the same name and colour is not put there twice. */
  add(fabrics: readonly NewFabric[]): Promise<readonly ShelfFabric[]> {
    return this.#change(async (old) => {
      const fresh = fabrics.filter((f) => !old.some((o) => same(o, f)));
      return [
        ...old,
        ...fresh.map((f) => ({ ...f, colour: f.colour.toLowerCase(), id: newFabricId(), snapshot: false })),
      ];
    });
  }

  async addList(path: string, name: string): Promise<readonly ShelfFabric[]> {
    return this.add(readCloths(await readFile(path, 'utf8'), name));
  }

  async addSnapshot(path: string, name: string): Promise<readonly ShelfFabric[]> {
    const id = newFabricId();
    await mkdir(this.#path(''), { recursive: true, mode: 0o700 });
    const part = this.#path(`${id}.jpg.part`);
    try {
      const found = await this.#crew.ask('readSnapshot', { path, name, id, middle: part }, 'shelf').answer;
      await nameWhole(part, this.#path(`${id}.jpg`));
      return await this.#put(id, found);
    } finally {
      await rm(part, { force: true });
    }
  }

  /** A snapshot that was given to one work is there for all. */
  async keepCloth(cloth: WorkCloth, picture: string): Promise<void> {
    const id = newFabricId();
    await mkdir(this.#path(''), { recursive: true, mode: 0o700 });
    await copyFile(picture, this.#path(`${id}.jpg`));
    await this.#put(id, cloth);
  }

  #put(id: string, { name, colour, print }: WorkCloth): Promise<readonly ShelfFabric[]> {
    return this.#change(async (old) => [...old, { id, name, colour, ...(print && { print }), snapshot: true }]);
  }

  change(id: string, part: { name?: string; colour?: string; print?: 'directional' | 'large' | '' }) {
    return this.#change(async (old) => {
      const own = old.find((f) => f.id === id);
      if (!own) throw new NotHere();
      const { print: _, ...rest } = own;
      const print = part.print ?? own.print;
      const next: ShelfFabric = {
        ...rest,
        ...(part.name && { name: part.name }),
        ...(part.colour && { colour: part.colour.toLowerCase() }),
        ...(print && { print }),
      };
      return old.map((f) => (f === own ? next : f));
    });
  }

  /** Works that use it keep it. */
  remove(id: string): Promise<readonly ShelfFabric[]> {
    return this.#change(async (old) => {
      if (!old.some((f) => f.id === id)) throw new NotHere();
      await rm(this.#path(`${id}.jpg`), { force: true });
      return old.filter((f) => f.id !== id);
    });
  }

  /** Throws NotHere. */
  async find(id: string): Promise<ShelfFabric> {
    const own = (await this.list()).find((f) => f.id === id);
    if (!own) throw new NotHere();
    return own;
  }

  picture(id: string): string {
    return this.#path(`${id}.jpg`);
  }

  #change(run: (old: readonly ShelfFabric[]) => Promise<readonly ShelfFabric[]>): Promise<readonly ShelfFabric[]> {
    const mine = this.#last.then(async () => {
      const fabrics = asOnShelf(await run(await this.list()));
      await mkdir(this.#path(''), { recursive: true, mode: 0o700 });
      const text = JSON.stringify({ format: 'seamwright-shelf', version: 1, fabrics });
      await this.#folder.write(this.#path('shelf.json'), `${text}\n`);
      this.#fabrics = fabrics;
      this.#tell({ kind: 'shelf' });
      return fabrics;
    });
    this.#last = mine.catch(() => {});
    return mine;
  }
}

const same = (a: NewFabric, b: NewFabric): boolean =>
  a.name.toLowerCase() === b.name.toLowerCase() && a.colour.toLowerCase() === b.colour.toLowerCase();
const newFabricId = (): string => `fabric-${randomBytes(4).toString('hex')}`;
