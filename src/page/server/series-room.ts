// Comparisons and series: long work over many threads, done by the same code as the commands', one after another.
import { cp, mkdir, readdir, readFile, rm } from 'node:fs/promises';
import { z } from 'zod';
import { nameWhole } from '../../files.ts';
import { UserError } from '../../problems/problem.ts';
import { checkValue, fileName } from '../../settings/kinds.ts';
import { Cancelled } from '../../threads/call.ts';
import type { Event, NewFabric, Series, Settings, WorkComparison } from '../api.ts';
import type { Crew } from './crew.ts';
import { NotHere } from './held.ts';
import type { SeriesMade } from './jobs.ts';
import { ID, newId } from './keep.ts';
import { blockSettings } from './settings.ts';
import type { Studio } from './studio.ts';
import { inPageWords } from './voice.ts';

export interface SeriesAsked {
  readonly name: string;
  readonly works: readonly string[];
  readonly settings: Partial<Settings>;
  readonly common: 'fabrics' | 'background';
  readonly fabrics?: number | readonly NewFabric[];
  readonly keep?: readonly NewFabric[];
}

const roomSchema = z.object({
  format: z.literal('seamwright-page-series'),
  version: z.literal(1),
  common: z.enum(['fabrics', 'background']),
  fabrics: z.custom<number | readonly NewFabric[]>().optional(),
  keep: z.custom<readonly NewFabric[]>().optional(),
  /** names of its pictures' files -> what each block is to be */
  settings: z.record(z.string(), z.custom<Settings>()),
  /** and the work it comes from */
  from: z.record(z.string(), z.string().regex(ID)),
  series: z.custom<Series>(
    (s) =>
      z.object({ id: z.string(), name: z.string(), stage: z.enum(['working', 'done', 'failed']) }).safeParse(s).success,
  ),
});
type Room = z.infer<typeof roomSchema>;

interface Counts {
  readonly shades?: readonly number[] | undefined;
  readonly pieces?: readonly number[] | undefined;
}

export class SeriesRoom {
  readonly #studio: Studio;
  /** a crew of its own: the page stays quick while it works */
  readonly #crew: Crew;
  readonly #workers: number;
  readonly #tell: (event: Event) => void;
  readonly #rooms = new Map<string, Room>();

  constructor(studio: Studio, crew: Crew, workers: number, tell: (event: Event) => void) {
    this.#studio = studio;
    this.#crew = crew;
    this.#workers = workers;
    this.#tell = tell;
  }

  /** Those that were in the making when the program was stopped go on. */
  async open(): Promise<void> {
    const { folder } = this.#studio;
    for (const id of (await readdir(`${folder.root}/series`)).sort()) {
      if (id.endsWith('.part')) await rm(`${folder.root}/series/${id}`, { recursive: true, force: true });
      if (!ID.test(id)) continue;
      try {
        const room = roomSchema.parse(JSON.parse(await readFile(folder.series(id, 'room.json'), 'utf8')));
        this.#rooms.set(id, room);
        if (room.series.stage === 'working') this.#make(id, room);
      } catch {
        process.stderr.write(`seamwright: ${folder.series(id)} is no whole series and is left alone.\n`);
      }
    }
  }

  async compare(id: string, asked: Counts): Promise<WorkComparison> {
    const { file, step } = await this.#studio.hold(id);
    if (!file.picture) throw new UserError('no-picture-to-compare', {});
    const ascending = (list: readonly number[]): number[] => [...new Set(list)].sort((a, b) => a - b);
    const settings = { ...step.settings, grow: [] };
    for (const shades of asked.shades ?? []) blockSettings({ ...settings, shades });
    for (const pieces of asked.pieces ?? []) blockSettings({ ...settings, pieces });
    const compared = await this.#crew.ask(
      'compareWork',
      {
        picture: { path: this.#studio.folder.work(id, 'picture'), name: file.file },
        settings: blockSettings(settings),
        asked: {
          ...(asked.shades && { shades: ascending(asked.shades) }),
          ...(asked.pieces && { pieces: ascending(asked.pieces) }),
        },
        workers: this.#workers,
      },
      id,
      { progress: (stage, share) => this.#tell({ kind: 'progress', id, stage, share }) },
    ).answer;
    return compared;
  }

  list(): Series[] {
    return [...this.#rooms.values()].map((r) => r.series);
  }

  get(id: string): Series {
    const room = this.#rooms.get(id);
    if (!room) throw new NotHere();
    return room.series;
  }

  async file(id: string, name: string): Promise<{ path: string; name: string }> {
    const known = this.get(id).files.find((f) => f.name === name);
    if (!known) throw new NotHere();
    return { path: this.#studio.folder.series(id, 'out', known.name), name: known.name };
  }

  /** Throws UserError where a work has no picture or its settings make no sense; nothing has happened then. */
  async begin({ name, works, settings, common, fabrics, keep }: SeriesAsked): Promise<Series> {
    checkValue(fileName, name, 'name');
    const folder = this.#studio.folder;
    const id = newId(name);
    const own: Record<string, Settings> = {};
    const from: Record<string, string> = {};
    const names = new Set<string>();
    for (const [i, work] of [...new Set(works)].entries()) {
      if (!this.#studio.has(work)) throw new NotHere();
      const { file, step } = await this.#studio.hold(work);
      if (!file.picture) throw new UserError('no-picture-for-series', { name: step.settings.name });
      const picture = `${String(i + 1).padStart(3, '0')}-${work}`;
      own[picture] = {
        ...step.settings,
        ...settings,
        // its fabrics are those of the series, not those it had
        ...{ name: freeName(settings.name ?? step.settings.name, names), cloths: [], again: false },
        ...(common === 'background' && { background: 'plain' as const }),
      };
      from[picture] = work;
      blockSettings(own[picture]);
    }
    const part = `${folder.series(id)}.part`;
    await mkdir(`${part}/pictures`, { recursive: true, mode: 0o700 });
    for (const [picture, work] of Object.entries(from))
      await cp(folder.work(work, 'picture'), `${part}/pictures/${picture}`);
    const series: Series = {
      ...{ id, name, stage: 'working', works: Object.values(from), fabrics: [], files: [], notes: [] },
    };
    const room: Room = {
      ...{ format: 'seamwright-page-series', version: 1, common, settings: own, from, series },
      ...(fabrics !== undefined && { fabrics }),
      ...(keep?.length && { keep }),
    };
    await folder.write(`${part}/room.json`, `${JSON.stringify(room)}\n`);
    await nameWhole(part, folder.series(id));
    this.#rooms.set(id, room);
    this.#make(id, room);
    return series;
  }

  #make(id: string, room: Room): void {
    const { folder } = this.#studio;
    const settings: Record<string, Settings> = {};
    for (const [picture, s] of Object.entries(room.settings)) settings[picture] = blockSettings(s);
    const { name } = room.series;
    const { answer } = this.#crew.ask(
      'makeSeries',
      {
        ...{ name, common: room.common, settings, workers: this.#workers },
        ...(room.fabrics !== undefined && { fabrics: room.fabrics }),
        ...(room.keep && { keep: room.keep }),
        ...{ folder: folder.series(id, 'pictures'), out: folder.series(id, 'out') },
      },
      id,
      { progress: (stage, share) => this.#tell({ kind: 'progress', id, stage, share }) },
    );
    answer
      .then((made) => this.#finish(id, room, made))
      .catch(async (e: Error) => {
        if (e instanceof Cancelled) return;
        await this.#write(id, { ...room, series: { ...room.series, stage: 'failed', failed: inPageWords(e) } });
      })
      .catch((e: Error) => process.stderr.write(`seamwright: ${id}: ${e.message}\n`));
  }

  async #finish(id: string, room: Room, made: SeriesMade): Promise<void> {
    const { fabrics, files, odd, failed, blocks } = made;
    const called = (picture: string): string => room.settings[picture]?.name ?? picture;
    for (const b of blocks) {
      const work = room.from[b.file]!;
      const settings: Settings = {
        ...room.settings[b.file]!,
        // what is set later stays within the fabrics that the series shares
        cloths: room.common === 'fabrics' ? fabrics.map(({ name, colour }) => ({ name, colour })) : [],
      };
      await this.#studio.give(
        work,
        {
          ...{ settings, did: `the series ${room.series.name}`, by: 'picture', block: b.block, shown: {} },
          ...{ summary: b.summary, notes: b.notes, minds: b.minds },
        },
        new Uint8Array(await readFile(b.regions)),
      );
    }
    const notes = [
      ...odd,
      ...failed.map(
        ({ file, error }) =>
          `${called(file)}: ${error.replace(/\S*[/\\]pictures[/\\](\S+)/g, (_, f: string) => called(f))}`,
      ),
    ];
    const shared = fabrics.map(({ code, name, colour }) => ({ code, name, colour }));
    await this.#write(id, { ...room, series: { ...room.series, stage: 'done', fabrics: shared, files, notes } });
  }

  async #write(id: string, room: Room): Promise<void> {
    this.#rooms.set(id, room);
    await this.#studio.folder.write(this.#studio.folder.series(id, 'room.json'), `${JSON.stringify(room)}\n`);
    this.#tell({ kind: 'series', id });
  }
}

/** Two blocks of a series cannot be called alike: "fox", "fox 2". */
function freeName(name: string, taken: Set<string>): string {
  let free = name;
  for (let n = 2; taken.has(free.toLowerCase()); n++) free = `${name.slice(0, 75)} ${n}`;
  taken.add(free.toLowerCase());
  return free;
}
