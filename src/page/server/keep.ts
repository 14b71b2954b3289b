// The folder in which the works are kept. Everything is written whole or not at all: under another name first, then renamed.
//
//   works/ID/work.json         what it is called, which steps lead to now
//   works/ID/picture           the picture's bytes as they were given
//   works/ID/upright.jpg       the same upright, for showing
//   works/ID/steps/0007.json   one step of its history: settings, and the block once it is there
//   works/ID/steps/0007.png    the posterised picture of that step, as numbers of fabrics
//   works/ID/cloths/ID.jpg     the middle of a snapshot of cloth
//   series/ID/                 a series: its pictures, and what `seamwright series` makes of them
import { randomBytes } from 'node:crypto';
import { mkdir, readdir, readFile, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { type Block, parseBlock } from '../../block.ts';
import { writeWhole } from '../../files.ts';
import type { Settings, Stage, Summary, WorkChoices } from '../api.ts';

/** What no name of a file or folder of ours ever lacks: nothing else is joined to a path. */
export const ID = /^[a-z0-9](?:[a-z0-9-]{0,46}[a-z0-9])?$/;

export interface Step {
  readonly number: number;
  readonly settings: Settings;
  /** what was done, for the way back and forward: "80 pieces", "A3 and A4 made one" */
  readonly did: string;
  /** settings that it set, where it is such a step */
  readonly keys?: readonly (keyof Settings)[];
  /** how its block came about, and so how it is printed */
  readonly by: 'picture' | 'change' | 'file';
  readonly block?: Block;
  readonly choices?: WorkChoices;
  readonly summary?: Summary;
  /** printed in the packet */
  readonly notes: readonly string[];
  /** said on the page alone */
  readonly minds: readonly string[];
  readonly shown: Readonly<Record<string, string>>;
  readonly failed?: string;
  /** how many changes by hand it stands on */
  readonly hand?: number;
  /** the step whose changes by hand are carried over to its block, as far as its pieces are the same */
  readonly carry?: number;
}

const workSchema = z.object({
  format: z.literal('seamwright-work'),
  version: z.literal(1),
  /** of the picture's file */
  file: z.string(),
  picture: z.object({ width: z.number(), height: z.number() }).optional(),
  /** numbers of the steps that can be gone back and forward through, and which of them is now */
  line: z.array(z.int().min(1)).min(1),
  at: z.int().min(0),
  /** the number of the next step */
  next: z.int().min(2),
  revision: z.int().min(1),
  away: z.boolean(),
  /** letters of editions that were printed or saved, with what the block was then */
  out: z.record(z.string(), z.string()).optional(),
  // for the list of works, so that it is there without reading every block
  name: z.string(),
  stage: z.string(),
  pieces: z.int().optional(),
});
export type WorkFile = Omit<z.infer<typeof workSchema>, 'stage'> & { stage: Stage };

/** "pepper-3f9a2c": what it is called, as far as file systems agree on it, and what makes it the only one. */
export function newId(name: string): string {
  const plain = name
    .toLowerCase()
    .normalize('NFKD')
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, 32)
    .replace(/^-+|-+$/g, '');
  return `${plain || 'work'}-${randomBytes(4).toString('hex')}`;
}

/** what is kept is its owner's alone to read */
const OWN = 0o600;

/** What every step has; its settings are held to their table where they are used. */
const stepSchema = z.object({
  number: z.int().min(1),
  settings: z.record(z.string(), z.unknown()),
  did: z.string(),
  by: z.enum(['picture', 'change', 'file']),
  notes: z.array(z.string()),
  minds: z.array(z.string()),
  shown: z.record(z.string(), z.string()),
});

/** Takes away what was under way when the program was killed. */
async function sweep(folder: string): Promise<void> {
  for (const name of await readdir(folder).catch(() => []))
    if (name.endsWith('.part')) await rm(join(folder, name), { recursive: true, force: true });
}

export class Folder {
  readonly root: string;

  constructor(root: string) {
    this.root = root;
  }

  work(id: string, ...more: string[]): string {
    if (!ID.test(id)) throw new Error('an id that was not checked');
    return join(this.root, 'works', id, ...more);
  }

  series(id: string, ...more: string[]): string {
    if (!ID.test(id)) throw new Error('an id that was not checked');
    return join(this.root, 'series', id, ...more);
  }

  /** All works that are whole; what was left half made when the program was killed is swept away. */
  async readAll(): Promise<Map<string, WorkFile>> {
    const works = new Map<string, WorkFile>();
    await mkdir(join(this.root, 'works'), { recursive: true });
    await mkdir(join(this.root, 'series'), { recursive: true });
    await sweep(this.root);
    for (const name of await readdir(join(this.root, 'works'))) {
      if (name.endsWith('.part')) await rm(join(this.root, 'works', name), { recursive: true, force: true });
      if (!ID.test(name)) continue;
      for (const box of ['', 'steps', 'cloths']) await sweep(this.work(name, box));
      try {
        const file = workSchema.parse(JSON.parse(await readFile(this.work(name, 'work.json'), 'utf8')));
        if (file.at < file.line.length) works.set(name, file as WorkFile);
      } catch {
        process.stderr.write(`seamwright: ${this.work(name)} is no whole work and is left alone.\n`);
      }
    }
    return works;
  }

  write(path: string, data: string | Uint8Array): Promise<void> {
    return writeWhole(path, data, OWN);
  }

  async writeWork(id: string, file: WorkFile): Promise<void> {
    await writeWhole(this.work(id, 'work.json'), `${JSON.stringify(file)}\n`, OWN);
  }

  /** Throws where the step is not there or is not whole. */
  async readStep(id: string, number: number): Promise<Step> {
    const step = JSON.parse(await readFile(this.#step(id, number, 'json'), 'utf8')) as Step;
    if (!stepSchema.safeParse(step).success || step.number !== number) throw new Error('a step that is not whole');
    if (step.block) parseBlock(step.block, 'the step');
    return step;
  }

  /** The block that a step's changes by hand began with: that of the last step before it that was fitted. */
  async fittedBefore(id: string, number: number): Promise<Block | undefined> {
    for (let n = number - 1; n >= 1; n--) {
      const step = await this.readStep(id, n).catch(() => undefined);
      if (step?.by === 'picture' && step.block) return step.block;
    }
    return undefined;
  }

  /** The picture of its shades first: a step that is there is whole. */
  async writeStep(id: string, step: Step, regions?: Uint8Array): Promise<void> {
    const path = this.#step(id, step.number, 'json');
    // not the work's own folder: one that was taken away does not come back as a half
    await mkdir(dirname(path)).catch((e: NodeJS.ErrnoException) => {
      if (e.code !== 'EEXIST') throw e;
    });
    if (regions) await writeWhole(this.#step(id, step.number, 'png'), regions, OWN);
    await writeWhole(path, `${JSON.stringify(step)}\n`, OWN);
  }

  async readRegions(id: string, number: number): Promise<Uint8Array | undefined> {
    return readFile(this.#step(id, number, 'png')).then(
      (b) => new Uint8Array(b),
      () => undefined,
    );
  }

  #step(id: string, number: number, ending: string): string {
    return this.work(id, 'steps', `${String(number).padStart(4, '0')}.${ending}`);
  }
}
