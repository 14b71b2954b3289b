// Comparisons and series: long work over many threads, done by the same code as the commands', one after another.
import { UserError } from '../../errors.ts';
import type { Comparison, Event, Series, Settings } from '../api.ts';
import type { Crew } from './crew.ts';
import { blockSettings } from './settings.ts';
import { NotHere, type Studio } from './studio.ts';

export interface SeriesAsked {
  readonly name: string;
  readonly works: readonly string[];
  readonly settings: Partial<Settings>;
  readonly common: 'fabrics' | 'background';
}

export class SeriesRoom {
  readonly #studio: Studio;
  /** a crew of its own: the page stays quick while it works */
  readonly #crew: Crew;
  readonly #workers: number;
  readonly #tell: (event: Event) => void;

  constructor(studio: Studio, crew: Crew, workers: number, tell: (event: Event) => void) {
    this.#studio = studio;
    this.#crew = crew;
    this.#workers = workers;
    this.#tell = tell;
  }

  async compare(
    id: string,
    asked: { readonly shades?: readonly number[] | undefined; readonly pieces?: readonly number[] | undefined },
  ): Promise<Comparison> {
    const { file, step } = await this.#studio.hold(id);
    if (!file.picture) throw new UserError('This block came as a file: there is no picture to compare by.');
    const ascending = (list: readonly number[]): number[] => [...new Set(list)].sort((a, b) => a - b);
    const settings = blockSettings(step.settings);
    for (const shades of asked.shades ?? []) blockSettings({ ...step.settings, shades });
    for (const pieces of asked.pieces ?? []) blockSettings({ ...step.settings, pieces });
    const { grow: _, ...rest } = settings;
    return this.#crew.ask(
      {
        kind: 'compare',
        picture: { path: this.#studio.folder.work(id, 'picture'), name: file.file },
        settings: rest,
        asked: {
          ...(asked.shades && { shades: ascending(asked.shades) }),
          ...(asked.pieces && { pieces: ascending(asked.pieces) }),
        },
        workers: this.#workers,
      },
      id,
      { progress: (stage, share) => this.#tell({ kind: 'progress', id, stage, share }) },
    ).answer;
  }

  async list(): Promise<Series[]> {
    return [];
  }

  async begin(_asked: SeriesAsked): Promise<Series> {
    throw new UserError('Series are not here yet.');
  }

  async get(_id: string): Promise<Series> {
    throw new NotHere();
  }

  async file(_id: string, _name: string): Promise<{ path: string; name: string }> {
    throw new NotHere();
  }
}
