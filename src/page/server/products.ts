// What is made of a finished block when someone asks for it: sheets, files, the plan of the cloth. Kept until the work changes.
import { zipSync } from 'fflate';
import { type Block, writeBlock } from '../../block.ts';
import { asFileName } from '../../names.ts';
import { UserError } from '../../problems/problem.ts';
import type { Event, FabricList, Format, Plan, PlanAsked, Settings } from '../api.ts';
import type { Held } from './held.ts';
import type { PageJobs, Printable, Sheets } from './jobs.ts';
import { Kept } from './kept.ts';
import type { ToPlanWorks } from './plan-works.ts';
import { blockSettings, changeSettings } from './settings.ts';
import type { Studio } from './studio.ts';

/** products that are kept: a packet is about a megabyte */
const MOST = 24;

export class Products {
  readonly #studio: Studio;
  readonly #tell: (event: Event) => void;
  /** promises: two tabs that ask at once wait for the same */
  readonly #made = new Kept<Promise<unknown>>(MOST);

  constructor(studio: Studio, tell: (event: Event) => void) {
    this.#studio = studio;
    this.#tell = tell;
  }

  async sheets(id: string): Promise<Sheets> {
    const held = await this.#studio.finished(id);
    const { block, settings } = held.step;
    return this.#keep(held, 'sheets', () =>
      this.#ask(id, 'drawSheets', { block: block!, settings: blockSettings(settings) }),
    );
  }

  async fabric(id: string): Promise<FabricList> {
    const held = await this.#studio.finished(id);
    const { block, settings } = held.step;
    return this.#keep(held, 'fabric', () =>
      this.#ask(id, 'listFabric', { block: block!, settings: blockSettings(settings) }),
    );
  }

  /** A first look at what other settings would give. Throws UserError for settings that make no sense. */
  async look(id: string, given: Partial<Settings>): Promise<Block> {
    const held = await this.#studio.hold(id);
    const { file, step, foreseen } = held;
    if (!file.picture) throw new UserError('came-as-a-file', {});
    const settings = blockSettings(changeSettings(step.settings, given));
    const picture = { path: this.#studio.folder.work(id, 'picture'), name: file.file };
    const input = { picture, settings, ...(foreseen && { foreseen }) };
    return this.#keep(
      held,
      `look ${JSON.stringify(given)}`,
      () => this.#studio.crew.askLook('glance', input, id).answer,
    );
  }

  /** A download: its bytes and what it is called. */
  async file(id: string, format: Format): Promise<{ name: string; bytes: Uint8Array }> {
    const held = await this.#studio.giveOut(id);
    const { step } = held;
    const block = step.block!;
    const name = `${asFileName(block.name)}${block.edition ? `-${block.edition}` : ''}.${format}`;
    if (format === 'block.json') return { name, bytes: new TextEncoder().encode(writeBlock(block)) };
    const bytes = await this.#keep(held, format, async () => {
      const regions = step.by === 'picture' ? await this.#studio.folder.readRegions(id, step.number) : undefined;
      const printable: Printable = { block, by: step.by, notes: step.notes, ...(regions && { regions }) };
      return this.#ask(id, 'printWork', { ...printable, settings: blockSettings(step.settings), format });
    });
    return { name, bytes };
  }

  /** What a class or a quilt of some works takes. */
  async plan(asked: PlanAsked): Promise<Plan> {
    return this.#studio.crew.ask('planWorks', await this.#toPlan(asked), 'plan').answer;
  }

  async planPages(asked: PlanAsked): Promise<Uint8Array> {
    return this.#studio.crew.ask('planPages', await this.#toPlan(asked), 'plan').answer;
  }

  async #toPlan(asked: PlanAsked): Promise<ToPlanWorks> {
    const all: Held[] = [];
    for (const id of asked.works) all.push(await this.#studio.finished(id));
    const settings = blockSettings(all[0]!.step.settings);
    return { blocks: all.map((h) => h.step.block!), settings, asked };
  }

  /** The packets of several works in one ZIP file, each under its own name. */
  async packets(works: readonly string[]): Promise<Uint8Array> {
    const files: Record<string, Uint8Array> = {};
    for (const id of works) {
      const { name, bytes } = await this.file(id, 'packet.pdf');
      let free = name;
      for (let n = 2; files[free]; n++) free = name.replace(/(\.packet\.pdf)$/, `-${n}$1`);
      files[free] = bytes;
    }
    // PDFs are packed already
    return zipSync(files, { level: 0, mtime: new Date(1990, 0, 1, 12) });
  }

  #ask<K extends keyof PageJobs>(id: string, name: K, input: PageJobs[K]['input']): Promise<PageJobs[K]['output']> {
    return this.#studio.crew.ask(name, input, id, {
      progress: (stage, share) => this.#tell({ kind: 'progress', id, stage, share }),
    }).answer;
  }

  #keep<T>({ id, step }: Held, what: string, make: () => Promise<T>): Promise<T> {
    const key = `${id} ${step.number} ${step.block?.edition ?? ''} ${what}`;
    if (!this.#made.has(key)) {
      const made = make();
      this.#made.put(key, made);
      made.catch(() => this.#made.drop(key));
    }
    return this.#made.peek(key) as Promise<T>;
  }
}
