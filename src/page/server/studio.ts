// All works, and what is done to them: opened, set, changed by hand, gone back and forward in, put away. Each work is changed
// by one call at a time; what is slow is asked of the crew.
import { cp, mkdir, rename, rm, stat } from 'node:fs/promises';
import type { Block } from '../../block.ts';
import { nameWhole } from '../../files.ts';
import { UserError } from '../../problems/problem.ts';
import type { Change, Event, Settings, Work, WorkCloth, WorkLine } from '../api.ts';
import { addCloth, readCloth } from './cloth-box.ts';
import type { Crew } from './crew.ts';
import { editionAfter, lettered } from './editions.ts';
import { blockName, dressed, fabricOf, firstStep, sameKeys } from './first-step.ts';
import { type Held, NotHere, piecesIn, stageOf, tellWork } from './held.ts';
import { type Folder, newId, type Step, type WorkFile } from './keep.ts';
import { type Making, pursue } from './making.ts';
import { sayDone } from './say-done.ts';
import { blockSettings, changedKeys, changeSettings, firstSettings, isForPaper, sayChange } from './settings.ts';

/** works in memory at once */
const MOST_OPEN = 24;

export class Studio {
  readonly folder: Folder;
  readonly crew: Crew;
  readonly #tell: (event: Event) => void;
  readonly #works: Map<string, WorkFile>;
  readonly #open = new Map<string, Held>();
  readonly #turns = new Map<string, Promise<unknown>>();
  readonly #making: Making;

  constructor(folder: Folder, crew: Crew, works: Map<string, WorkFile>, tell: (event: Event) => void) {
    this.folder = folder;
    this.crew = crew;
    this.#works = works;
    this.#tell = tell;
    this.#making = {
      ...{ folder, crew, tell },
      queue: (id, run) => this.#queue(id, run),
      write: (held) => this.#write(held),
      told: (held) => this.#told(held),
    };
  }

  async list(): Promise<WorkLine[]> {
    const all = await Promise.all(
      [...this.#works].map(async ([id, { name, stage, pieces, away }]): Promise<WorkLine | undefined> => {
        // one whose folder was taken away hides no other
        const info = await stat(this.folder.work(id, 'work.json')).catch(() => undefined);
        if (!info) return undefined;
        const { mtime } = info;
        const held = this.#open.get(id);
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
    return this.#works.has(id);
  }

  async get(id: string): Promise<Work> {
    const held = await this.hold(id);
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
      this.#works.set(id, work);
    } catch (e) {
      await rm(part, { recursive: true, force: true });
      throw e;
    }
    this.#tell({ kind: 'works' });
    return this.get(id);
  }

  /** Throws UserError for settings that make no sense; nothing has happened then. */
  set(id: string, given: Partial<Settings>): Promise<Work> {
    return this.#inTurn(id, async (held) => {
      const before = held.step;
      const settings = changeSettings(before.settings, given);
      blockSettings(settings);
      const keys = changedKeys(before.settings, settings);
      if (!keys.length) return;
      const did = sayChange(keys, settings);
      if (before.block && before.by !== 'picture' && isForPaper(keys)) {
        const block = keys.includes('name') ? { ...before.block, name: settings.name } : before.block;
        await this.#add(held, { ...before, number: 0, settings, did, keys, block });
        return;
      }
      if (!held.file.picture) throw new UserError('came-as-a-file', {});
      const step: Step = { number: 0, settings, did, keys, by: 'picture', notes: [], minds: [], shown: {} };
      // while a slider is being drawn, what is passed through on the way is no step to go back to
      const through = !before.block && before.keys !== undefined && sameKeys(before.keys, keys);
      await this.#add(held, step, through);
    });
  }

  change(id: string, change: Change): Promise<Work> {
    return this.#inTurn(id, async (held) => {
      const { step } = held;
      if (!step.block) throw new UserError('still-worked-out', {});
      const cloth = change.kind === 'cloth' ? await readCloth(id, change.cloth, this.folder) : undefined;
      const settings = blockSettings(step.settings);
      const ask = (block: Block, one: Exclude<Change, { kind: 'cloth' }>) =>
        this.crew.ask('changeWork', { block, change: one, settings }, id).answer;
      const made =
        change.kind === 'cloth'
          ? await ask(step.block, { kind: 'colour', fabric: change.fabric, colour: cloth!.colour })
          : await ask(step.block, change);
      const shown = { ...step.shown };
      const from = { by: step.by, edition: step.block.edition };
      let block: Block = { ...made.block, edition: editionAfter(from, made.block.edition!, held.file.out ?? {}) };
      if (change.kind === 'cloth') {
        // the cloth's name is part of the same change: one edition for both
        const own = fabricOf(block, change.fabric);
        block = { ...block, fabrics: block.fabrics.map((f) => (f === own ? dressed(f, cloth!) : f)) };
        shown[own.id] = change.cloth;
      } else if (change.kind === 'colour') delete shown[fabricOf(block, change.fabric).id];
      await this.#add(held, {
        ...{ number: 0, settings: step.settings, did: sayDone(change, step.block), by: 'change', block, shown },
        ...{ summary: made.summary, notes: [], minds: made.minds },
        ...(step.choices && { choices: step.choices }),
      });
    });
  }

  undo(id: string): Promise<Work> {
    return this.#go(id, -1, 'nothing-to-undo');
  }

  redo(id: string): Promise<Work> {
    return this.#go(id, 1, 'nothing-to-redo');
  }

  #go(id: string, by: -1 | 1, nothing: 'nothing-to-undo' | 'nothing-to-redo'): Promise<Work> {
    return this.#inTurn(id, async (held) => {
      const at = held.file.at + by;
      if (held.file.line[at] === undefined) throw new UserError(nothing, {});
      await this.#moveTo(held, { ...held.file, at });
    });
  }

  putAway(id: string, away: boolean): Promise<Work> {
    return this.#inTurn(id, async (held) => {
      held.file = { ...held.file, away };
      await this.#write(held);
      this.#tell({ kind: 'works' });
    });
  }

  async copy(id: string): Promise<Work> {
    const held = await this.hold(id);
    const copied = newId(held.step.settings.name);
    const part = `${this.folder.work(copied)}.part`;
    await this.#inTurn(id, async () => {
      await cp(this.folder.work(id), part, { recursive: true, filter: (f) => !f.endsWith('.part') || f === part });
    });
    const file = { ...held.file, away: false };
    await this.folder.write(`${part}/work.json`, `${JSON.stringify(file)}\n`);
    await nameWhole(part, this.folder.work(copied));
    this.#works.set(copied, file);
    this.#tell({ kind: 'works' });
    return this.get(copied);
  }

  /** A block that was made elsewhere from this work's picture, as a step of its history. */
  async give(id: string, step: Omit<Step, 'number'>, regions?: Uint8Array): Promise<void> {
    await this.#inTurn(id, (held) => this.#add(held, { ...step, number: 0 }, false, regions));
  }

  /** The finished work as it is printed or saved: from now on its letter belongs to this block. */
  async giveOut(id: string): Promise<Held> {
    const { step } = await this.finished(id);
    // what was fitted, or came as a file, is named by its picture or its file
    if (step.by === 'change')
      await this.#inTurn(id, async (held) => {
        if (held.step.by !== 'change' || !held.step.block) return;
        const { block, out } = lettered(held.step.block, held.file.out ?? {});
        if (block !== held.step.block) {
          const step = { ...held.step, block };
          await this.folder.writeStep(id, step);
          held.step = step;
        } else if (held.file.out?.[block.edition!] !== undefined) return;
        held.file = { ...held.file, out };
        await this.#write(held);
      });
    return this.finished(id);
  }

  async addCloth(id: string, file: string, name: string): Promise<WorkCloth> {
    await this.hold(id);
    return addCloth(id, file, name, this.folder, this.crew);
  }

  /** The work with the step it stands at; what is missing of it is begun. */
  async hold(id: string): Promise<Held> {
    const open = this.#open.get(id);
    if (open) {
      this.#open.delete(id);
      this.#open.set(id, open);
      pursue(open, this.#making);
      return open;
    }
    return this.#queue(id, () => this.#load(id));
  }

  async #load(id: string): Promise<Held> {
    const open = this.#open.get(id);
    if (open) return open;
    const file = this.#works.get(id);
    if (!file) throw new NotHere();
    const { file: whole, step, lost } = await this.#lastWhole(id, file);
    const held: Held = {
      ...{ id, file: whole, step, lost },
      ...{ before: undefined, after: undefined, look: undefined, last: undefined },
      ...{ making: undefined, foreseen: undefined, failed: undefined },
    };
    await this.#lookAround(held);
    this.#open.set(id, held);
    this.#shutOthers();
    pursue(held, this.#making);
    return held;
  }

  /** Works that nobody has asked for longest are read again when they are wanted. */
  #shutOthers(): void {
    for (const [id, held] of this.#open) {
      if (this.#open.size <= MOST_OPEN) return;
      if (!held.making && !this.#turns.has(id)) this.#open.delete(id);
    }
  }

  /** The step that a work stands at, or the last whole one before it, or its beginning anew from its picture. Throws UserError where
   *  nothing of it is left. What is lost leaves the line only with the next change. */
  async #lastWhole(id: string, file: WorkFile): Promise<{ file: WorkFile; step: Step; lost: boolean }> {
    for (let at = file.at; at >= 0; at--) {
      const step = await this.folder.readStep(id, file.line[at]!).catch(() => undefined);
      if (step && at === file.at) return { file, step, lost: false };
      if (step) return { file: { ...file, line: file.line.slice(0, at + 1), at }, step, lost: true };
    }
    if (!file.picture || !(await stat(this.folder.work(id, 'picture')).catch(() => undefined)))
      throw new UserError('work-not-whole', {});
    const number = file.next;
    const begun = { number, did: 'the beginning', by: 'picture', notes: [], minds: [], shown: {} } as const;
    const step: Step = { ...begun, settings: firstSettings(blockName(file.name)) };
    await this.folder.writeStep(id, step);
    return { file: { ...file, line: [number], at: 0, next: number + 1 }, step, lost: true };
  }

  /** Waits until the block that is being made is there. Throws UserError where there will be none. */
  async finished(id: string): Promise<Held> {
    const held = await this.hold(id);
    while (held.making) await held.making.answer.catch(() => {});
    // what follows an answer is done in turn
    await this.#queue(id, async () => {});
    const failed = held.step.failed ?? held.failed;
    if (!held.step.block) {
      if (held.making) return this.finished(id);
      throw new UserError('no-block-yet', failed ? { why: failed } : {});
    }
    return held;
  }

  async #lookAround(held: Held): Promise<void> {
    for (;;) {
      const { line, at } = held.file;
      const read = (n: number | undefined): Promise<Step | undefined | 'lost'> =>
        n === undefined ? Promise.resolve(undefined) : this.folder.readStep(held.id, n).catch(() => 'lost' as const);
      const [before, after] = await Promise.all([read(line[at - 1]), read(line[at + 1])]);
      if (before !== 'lost' && after !== 'lost') {
        [held.before, held.after] = [before, after];
        return;
      }
      // a step that is lost is no step to go to
      const left = line.filter((_, i) => !(i === at - 1 && before === 'lost') && !(i === at + 1 && after === 'lost'));
      held.file = { ...held.file, line: left, at: before === 'lost' ? at - 1 : at };
    }
  }

  /** One more step; what could be gone forward to before is left behind. `instead`: it takes the place of the last. */
  async #add(held: Held, step: Step, instead = false, regions?: Uint8Array): Promise<void> {
    const { file } = held;
    const number = file.next;
    const at = instead ? file.at : file.at + 1;
    await this.folder.writeStep(held.id, { ...step, number }, regions);
    await this.#moveTo(held, { ...file, line: [...file.line.slice(0, at), number], at, next: number + 1 });
  }

  async #moveTo(held: Held, file: WorkFile): Promise<void> {
    const step = await this.folder.readStep(held.id, file.line[file.at]!);
    // all at once: whoever looks at the work in between would have the step that is being left made again, in place of this one
    held.making?.cancel();
    held.making = undefined;
    held.last = held.step.block ?? held.look?.block ?? held.last;
    [held.look, held.failed] = [undefined, undefined];
    held.file = { ...file, revision: held.file.revision };
    [held.step, held.lost] = [step, false];
    pursue(held, this.#making);
    await this.#lookAround(held);
    await this.#write(held);
  }

  /** Its revision grows, and everyone hears of it. */
  async #write(held: Held): Promise<void> {
    const { name } = held.step.settings;
    const { pieces: _, ...rest } = held.file;
    held.file = {
      ...rest,
      ...{ name, stage: stageOf(held), revision: rest.revision + 1 },
      ...(held.step.block && { pieces: piecesIn(held.step.block) }),
    };
    const kept = this.#works.get(held.id)!;
    this.#works.set(held.id, held.file);
    try {
      await this.folder.writeWork(held.id, held.file);
    } catch (e) {
      // what could not be kept is not shown: the work is as the disk has it
      held.making?.cancel();
      this.#open.delete(held.id);
      this.#works.set(held.id, kept);
      throw e;
    }
    this.#tell({ kind: 'work', id: held.id, revision: held.file.revision });
  }

  #told(held: Held): void {
    held.file = { ...held.file, revision: held.file.revision + 1 };
    this.#works.set(held.id, held.file);
    this.#tell({ kind: 'work', id: held.id, revision: held.file.revision });
  }

  async #inTurn(id: string, run: (held: Held) => Promise<void>): Promise<Work> {
    await this.hold(id);
    return this.#queue(id, async () => {
      // anew: a call before this one may have failed to keep what it did
      const held = await this.#load(id);
      await run(held);
      return tellWork(this.#open.get(id) ?? held);
    });
  }

  /** After everything that was asked of this work before. */
  #queue<T>(id: string, run: () => Promise<T>): Promise<T> {
    const before = this.#turns.get(id) ?? Promise.resolve();
    const turn = before.catch(() => {}).then(run);
    this.#turns.set(id, turn);
    turn
      .catch(() => {})
      .finally(() => {
        if (this.#turns.get(id) === turn) this.#turns.delete(id);
      });
    return turn;
  }

  /** Waits for what is being written, so that nothing is left half done. */
  async close(): Promise<void> {
    for (const held of this.#open.values()) held.making?.cancel();
    await Promise.all([...this.#turns.values()].map((t) => t.catch(() => {})));
  }
}
