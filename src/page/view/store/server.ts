// Asks the server. A refusal comes back as `Refused` with its sentence, a server that does not answer as `Unreachable`.
import type { Block } from '../../../block.ts';
import type {
  Change,
  FabricList,
  Format,
  Here,
  NewFabric,
  Plan,
  PlanAsked,
  Refusal,
  Series,
  Settings,
  SheetLine,
  ShelfFabric,
  Work,
  WorkCloth,
  WorkComparison,
  WorkLine,
} from '../../api.ts';

export class Refused extends Error {}
export class Unreachable extends Error {}
/** Another fit would set changes by hand aside. */
export class WouldSetAside extends Error {
  readonly changes: number;
  constructor(changes: number) {
    super();
    this.changes = changes;
  }
}

async function ask<T>(path: string, init: RequestInit = {}): Promise<T> {
  let answer: Response;
  try {
    answer = await fetch(`api/${path}`, init);
  } catch (e) {
    if (init.signal?.aborted) throw e;
    throw new Unreachable();
  }
  if (answer.ok) return (await answer.json()) as T;
  const refusal = (await answer.json().catch(() => undefined)) as Refusal | undefined;
  if (answer.status === 409 && refusal?.changes) throw new WouldSetAside(refusal.changes);
  throw new Refused(refusal?.says ?? `The program could not do that (it answered ${answer.status}).`);
}

const send = (method: string, body: unknown): RequestInit => ({
  method,
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(body),
});
const upload = (file: File): RequestInit => ({
  method: 'POST',
  headers: { 'content-type': 'application/octet-stream', 'x-file-name': encodeURIComponent(file.name) },
  body: file,
});
const of = (id: string): string => `works/${encodeURIComponent(id)}`;

export const server = {
  works: () => ask<WorkLine[]>('works'),
  work: (id: string) => ask<Work>(of(id)),
  begin: (file: File) => ask<Work>('works', upload(file)),
  /** `over`: changes by hand may be set aside for it */
  settings: (id: string, part: Partial<Settings>, over: boolean) =>
    ask<Work>(`${of(id)}/settings${over ? '?over=hand' : ''}`, send('PATCH', part)),
  change: (id: string, change: Change) => ask<Work>(`${of(id)}/changes`, send('POST', change)),
  look: (id: string, part: Partial<Settings>, signal: AbortSignal) =>
    ask<Block>(`${of(id)}/looks`, { ...send('POST', part), signal }),
  step: (id: string, way: 'undo' | 'redo') => ask<Work>(`${of(id)}/${way}`, send('POST', {})),
  putAway: (id: string, way: 'away' | 'back') => ask<unknown>(`${of(id)}/${way}`, send('POST', {})),
  copy: (id: string) => ask<Work>(`${of(id)}/copy`, send('POST', {})),
  cloth: (id: string, file: File) => ask<WorkCloth>(`${of(id)}/cloths`, upload(file)),
  sheets: (id: string) => ask<SheetLine[]>(`${of(id)}/sheets`),
  fabric: (id: string) => ask<FabricList>(`${of(id)}/fabric`),
  compare: (id: string, counts: { shades?: readonly number[]; pieces?: readonly number[] }, signal: AbortSignal) =>
    ask<WorkComparison>(`${of(id)}/compare`, { ...send('POST', counts), signal }),
  shelf: () => ask<ShelfFabric[]>('shelf'),
  shelve: (fabrics: readonly NewFabric[]) => ask<ShelfFabric[]>('shelf', send('POST', { fabrics })),
  shelveList: (file: File) => ask<ShelfFabric[]>('shelf/list', upload(file)),
  shelveSnapshot: (file: File) => ask<ShelfFabric[]>('shelf/snapshots', upload(file)),
  unshelve: (id: string) => ask<ShelfFabric[]>(`shelf/${encodeURIComponent(id)}`, { method: 'DELETE' }),
  takeCloth: (id: string, fabric: string) =>
    ask<WorkCloth>(`${of(id)}/cloths/shelf/${encodeURIComponent(fabric)}`, { method: 'POST' }),
  ticks: (id: string) => ask<string[]>(`${of(id)}/ticks`),
  tick: (id: string, on: readonly string[], off: readonly string[]) =>
    ask<string[]>(`${of(id)}/ticks`, send('PUT', { on, off })),
  plan: (asked: PlanAsked, signal: AbortSignal) => ask<Plan>('plan', { ...send('POST', asked), signal }),
  planPages: async (asked: PlanAsked): Promise<Blob> => {
    const answer = await fetch('api/plan/yardage.pdf', send('POST', asked));
    if (!answer.ok) throw new Refused(((await answer.json()) as Refusal).says);
    return answer.blob();
  },
  here: () => ask<Here>('here'),
  tablet: (on: boolean, shows: 'sewing' | 'all' = 'sewing') => ask<Here>('tablet', send('POST', { on, shows })),
  allSeries: () => ask<Series[]>('series'),
  series: (id: string) => ask<Series>(`series/${encodeURIComponent(id)}`),
  beginSeries: (order: {
    readonly name: string;
    readonly works: readonly string[];
    readonly settings: Partial<Settings>;
    readonly common: 'fabrics' | 'background';
    /** of the common set; found automatically where absent */
    readonly count?: number;
    readonly own?: readonly NewFabric[];
    readonly locked?: readonly NewFabric[];
  }) => ask<Series>('series', send('POST', order)),
};

/** Addresses of pictures and downloads; `revision` so that the browser asks anew when there is something new. */
export const at = {
  picture: (id: string): string => `api/${of(id)}/picture.jpg`,
  face: (id: string, revision: number | string): string => `api/${of(id)}/face.svg?r=${encodeURIComponent(revision)}`,
  faceBefore: (id: string): string => `api/${of(id)}/face.svg?before=1`,
  shades: (id: string, revision: number): string => `api/${of(id)}/shades.png?r=${revision}`,
  sheet: (id: string, number: number, revision: number): string => `api/${of(id)}/sheets/${number}.svg?r=${revision}`,
  cloth: (id: string, cloth: string): string => `api/${of(id)}/cloths/${encodeURIComponent(cloth)}.jpg`,
  shelf: (fabric: string): string => `api/shelf/${encodeURIComponent(fabric)}.jpg`,
  packets: (works: readonly string[]): string => `api/packets.zip?works=${works.map(encodeURIComponent).join(',')}`,
  file: (id: string, format: Format): string => `api/${of(id)}/files/${format}`,
  seriesFile: (id: string, name: string): string =>
    `api/series/${encodeURIComponent(id)}/files/${encodeURIComponent(name)}`,
};
