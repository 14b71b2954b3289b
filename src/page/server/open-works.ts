// The works that are open: the step that each is at, read and written; changed by one call at a time, what is missing of them begun.
import { stat } from 'node:fs/promises';
import { UserError } from '../../problems/problem.ts';
import type { Event, Work } from '../api.ts';
import type { Crew } from './crew.ts';
import { blockName } from './first-step.ts';
import { type Held, NotHere, piecesIn, stageOf, tellWork } from './held.ts';
import type { Folder, Step, WorkFile } from './keep.ts';
import { type Making, pursue } from './making.ts';
import { firstSettings } from './settings.ts';

/** works in memory at once */
const MOST_OPEN = 24;

export class OpenWorks {
  readonly folder: Folder;
  readonly crew: Crew;
  /** all there are, open or not */
  readonly files: Map<string, WorkFile>;
  readonly tell: (event: Event) => void;
  readonly #open = new Map<string, Held>();
  readonly #turns = new Map<string, Promise<unknown>>();
  readonly #making: Making;

  constructor(folder: Folder, crew: Crew, files: Map<string, WorkFile>, tell: (event: Event) => void) {
    this.folder = folder;
    this.crew = crew;
    this.files = files;
    this.tell = tell;
    this.#making = {
      ...{ folder, crew, tell },
      queue: (id, run) => this.queue(id, run),
      write: (held) => this.write(held),
      told: (held) => this.#told(held),
      add: (held, step) => this.add(held, step),
    };
  }

  /** One that is open. */
  peek(id: string): Held | undefined {
    return this.#open.get(id);
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
    return this.queue(id, () => this.#load(id));
  }

  async #load(id: string): Promise<Held> {
    const open = this.#open.get(id);
    if (open) return open;
    const file = this.files.get(id);
    if (!file) throw new NotHere();
    const { file: whole, step, lost } = await this.#lastWhole(id, file);
    const held: Held = {
      ...{ id, file: whole, step, lost },
      ...{ before: undefined, after: undefined, look: undefined, last: undefined },
      ...{ making: undefined, planning: undefined, foreseen: undefined, failed: undefined },
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
      if (!held.making && !held.planning && !this.#turns.has(id)) this.#open.delete(id);
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
    await this.queue(id, async () => {});
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
  async add(held: Held, step: Step, instead = false, regions?: Uint8Array): Promise<void> {
    const { file } = held;
    const number = file.next;
    const at = instead ? file.at : file.at + 1;
    await this.folder.writeStep(held.id, { ...step, number }, regions);
    await this.moveTo(held, { ...file, line: [...file.line.slice(0, at), number], at, next: number + 1 });
  }

  /** Another step while the block of the last is being made, which is to be its block too. */
  async reword(held: Held, step: Step, instead: boolean): Promise<void> {
    const { file, making } = held;
    const number = file.next;
    const at = instead ? file.at : file.at + 1;
    await this.folder.writeStep(held.id, { ...step, number });
    held.file = { ...file, line: [...file.line.slice(0, at), number], at, next: number + 1 };
    [held.step, held.lost] = [{ ...step, number }, false];
    held.making = making;
    await this.#lookAround(held);
    await this.write(held);
  }

  async moveTo(held: Held, file: WorkFile): Promise<void> {
    const step = await this.folder.readStep(held.id, file.line[file.at]!);
    // all at once: whoever looks at the work in between would have the step that is being left made again, in place of this one
    held.making?.cancel();
    held.planning?.cancel();
    [held.making, held.planning] = [undefined, undefined];
    held.last = held.step.block ?? held.look?.block ?? held.last;
    [held.look, held.failed] = [undefined, undefined];
    held.file = { ...file, revision: held.file.revision };
    [held.step, held.lost] = [step, false];
    pursue(held, this.#making);
    await this.#lookAround(held);
    await this.write(held);
  }

  /** Its revision grows, and everyone hears of it. */
  async write(held: Held): Promise<void> {
    const { name } = held.step.settings;
    const { pieces: _, ...rest } = held.file;
    held.file = {
      ...rest,
      ...{ name, stage: stageOf(held), revision: rest.revision + 1 },
      ...(held.step.block && { pieces: piecesIn(held.step.block) }),
    };
    const kept = this.files.get(held.id)!;
    this.files.set(held.id, held.file);
    try {
      await this.folder.writeWork(held.id, held.file);
    } catch (e) {
      // what could not be kept is not shown: the work is as the disk has it
      held.making?.cancel();
      held.planning?.cancel();
      this.#open.delete(held.id);
      this.files.set(held.id, kept);
      throw e;
    }
    this.tell({ kind: 'work', id: held.id, revision: held.file.revision });
  }

  #told(held: Held): void {
    held.file = { ...held.file, revision: held.file.revision + 1 };
    this.files.set(held.id, held.file);
    this.tell({ kind: 'work', id: held.id, revision: held.file.revision });
  }

  async inTurn(id: string, run: (held: Held) => Promise<void>): Promise<Work> {
    await this.hold(id);
    return this.queue(id, async () => {
      // anew: a call before this one may have failed to keep what it did
      const held = await this.#load(id);
      await run(held);
      return tellWork(this.#open.get(id) ?? held);
    });
  }

  /** After everything that was asked of this work before. */
  queue<T>(id: string, run: () => Promise<T>): Promise<T> {
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
