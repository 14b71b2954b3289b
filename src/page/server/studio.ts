// All works, and what is done to them: opened, set, changed by hand, gone back and forward in, put away. What is slow is asked of the crew.
import { cp, mkdir, rename, rm, stat } from 'node:fs/promises';
import { nameWhole } from '../../files.ts';
import { UserError } from '../../problems/problem.ts';
import type { Change, Event, Settings, ShelfFabric, Work, WorkCloth, WorkLine } from '../api.ts';
import { changeByHand } from './change-by-hand.ts';
import { addCloth, copyCloth } from './cloth-box.ts';
import type { Crew } from './crew.ts';
import { lettered } from './editions.ts';
import { blockName, firstStep } from './first-step.ts';
import { type Held, piecesIn, stageOf, tellWork } from './held.ts';
import { type Folder, newId, type Step, type WorkFile } from './keep.ts';
import { OpenWorks } from './open-works.ts';
import { setSettings } from './set-settings.ts';
import { blockSettings, firstSettings } from './settings.ts';

export class Studio {
  readonly folder: Folder;
  readonly crew: Crew;
  readonly #tell: (event: Event) => void;
  readonly #works: OpenWorks;

  constructor(folder: Folder, crew: Crew, files: Map<string, WorkFile>, tell: (event: Event) => void) {
    this.folder = folder;
    this.crew = crew;
    this.#tell = tell;
    this.#works = new OpenWorks(folder, crew, files, tell);
  }

  async list(): Promise<WorkLine[]> {
    const all = await Promise.all(
      [...this.#works.files].map(async ([id, { name, stage, pieces, away }]): Promise<WorkLine | undefined> => {
        // one whose folder was taken away hides no other
        const info = await stat(this.folder.work(id, 'work.json')).catch(() => undefined);
        if (!info) return undefined;
        const { mtime } = info;
        const held = this.#works.peek(id);
        return {
          ...{ id, name, stage: held ? stageOf(held) : stage, away, changed: mtime.toISOString() },
          ...(pieces && { pieces }),
        };
      }),
    );
    const lines = all.filter((line) => line !== undefined);
    return lines.sort((a, b) => (a.changed < b.changed ? 1 : a.changed > b.changed ? -1 : a.id < b.id ? -1 : 1));
  }

  has(id: string): boolean {
    return this.#works.files.has(id);
  }

  async get(id: string): Promise<Work> {
    const held = await this.#works.hold(id);
    return tellWork(held);
  }

  /** A picture or a block file that lies beside the works under a temporary name becomes a work, or is refused. */
  async begin(file: string, name: string): Promise<Work> {
    const called = blockName(name);
    const id = newId(called);
    const settings = firstSettings(called);
    const part = `${this.folder.work(id)}.part`;
    await mkdir(`${part}/steps`, { recursive: true, mode: 0o700 });
    try {
      const input = { path: file, name, upright: `${part}/upright.jpg`, settings: blockSettings(settings) };
      const found = await this.crew.ask('openFile', input, id).answer;
      await rename(file, `${part}/picture`);
      const step = firstStep(found, settings);
      const work: WorkFile = {
        ...{ format: 'seamwright-work', version: 1, file: name },
        ...(found.kind === 'picture' && { picture: { width: found.width, height: found.height } }),
        ...{ line: [1], at: 0, next: 2, revision: 1, away: false },
        ...{ name: step.settings.name, stage: stageOf({ step, look: undefined, failed: undefined }) },
        ...(step.block && { pieces: piecesIn(step.block) }),
      };
      await this.folder.write(`${part}/steps/0001.json`, `${JSON.stringify(step)}\n`);
      await this.folder.write(`${part}/work.json`, `${JSON.stringify(work)}\n`);
      await nameWhole(part, this.folder.work(id));
      this.#works.files.set(id, work);
    } catch (e) {
      await rm(part, { recursive: true, force: true });
      throw e;
    }
    this.#tell({ kind: 'works' });
    return this.get(id);
  }

  /** Throws UserError for settings that make no sense, and HandChanges where changes by hand would be set aside and `over` does not say
   *  that they may be; nothing has happened then. */
  set(id: string, given: Partial<Settings>, over = false): Promise<Work> {
    return this.#works.inTurn(id, (held) => setSettings(held, given, over, this.#works));
  }

  change(id: string, change: Change): Promise<Work> {
    return this.#works.inTurn(id, (held) => changeByHand(held, change, this.#works));
  }

  undo(id: string): Promise<Work> {
    return this.#go(id, -1, 'nothing-to-undo');
  }

  redo(id: string): Promise<Work> {
    return this.#go(id, 1, 'nothing-to-redo');
  }

  #go(id: string, by: -1 | 1, nothing: 'nothing-to-undo' | 'nothing-to-redo'): Promise<Work> {
    return this.#works.inTurn(id, async (held) => {
      const at = held.file.at + by;
      if (held.file.line[at] === undefined) throw new UserError(nothing, {});
      await this.#works.moveTo(held, { ...held.file, at });
    });
  }

  putAway(id: string, away: boolean): Promise<Work> {
    return this.#works.inTurn(id, async (held) => {
      held.file = { ...held.file, away };
      await this.#works.write(held);
      this.#tell({ kind: 'works' });
    });
  }

  async copy(id: string): Promise<Work> {
    const held = await this.#works.hold(id);
    const copied = newId(held.step.settings.name);
    const part = `${this.folder.work(copied)}.part`;
    await this.#works.inTurn(id, async () => {
      await cp(this.folder.work(id), part, { recursive: true, filter: (f) => !f.endsWith('.part') || f === part });
    });
    const file = { ...held.file, away: false };
    await this.folder.write(`${part}/work.json`, `${JSON.stringify(file)}\n`);
    await nameWhole(part, this.folder.work(copied));
    this.#works.files.set(copied, file);
    this.#tell({ kind: 'works' });
    return this.get(copied);
  }

  /** A block that was made elsewhere from this work's picture, as a step of its history. */
  async give(id: string, step: Omit<Step, 'number'>, regions?: Uint8Array): Promise<void> {
    await this.#works.inTurn(id, (held) => this.#works.add(held, { ...step, number: 0 }, false, regions));
  }

  /** The finished work as it is printed or saved: from now on its letter belongs to this block. */
  async giveOut(id: string): Promise<Held> {
    const { step } = await this.#works.finished(id);
    // what was fitted, or came as a file, is named by its picture or its file
    if (step.by === 'change')
      await this.#works.inTurn(id, async (held) => {
        if (held.step.by !== 'change' || !held.step.block) return;
        const { block, out } = lettered(held.step.block, held.file.out ?? {});
        if (block !== held.step.block) {
          const step = { ...held.step, block };
          await this.folder.writeStep(id, step);
          held.step = step;
        } else if (held.file.out?.[block.edition!] !== undefined) return;
        held.file = { ...held.file, out };
        await this.#works.write(held);
      });
    return this.#works.finished(id);
  }

  async addCloth(id: string, file: string, name: string): Promise<WorkCloth> {
    await this.#works.hold(id);
    return addCloth(id, file, name, this.folder, this.crew);
  }

  /** A fabric of the shelf for a work, with a snapshot of its own: the work keeps it whatever becomes of the shelf. */
  async takeCloth(id: string, { name, colour, print, snapshot }: ShelfFabric, picture: string): Promise<WorkCloth> {
    await this.hold(id);
    const plain = { name, colour, ...(print && { print }) };
    if (!snapshot) return plain;
    return copyCloth(id, plain, picture, this.folder);
  }

  hold(id: string): Promise<Held> {
    return this.#works.hold(id);
  }

  finished(id: string): Promise<Held> {
    return this.#works.finished(id);
  }

  close(): Promise<void> {
    return this.#works.close();
  }
}
