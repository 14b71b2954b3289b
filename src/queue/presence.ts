// Who uses the queue: every series and every worker says so every few seconds, under a key that runs out. Whoever is gone is
// forgotten without anybody's doing.
import { UserError } from '../problems/problem.ts';
import type { QueueAddress } from './address.ts';
import type { Redis } from './connection.ts';
import { GONE_S, KEYS } from './keys.ts';
import { throwFirst } from './pieces.ts';

/** What a series says of itself. */
export interface RunSaid {
  readonly name: string;
  readonly host: string;
  readonly stage: string;
  readonly done: number;
  readonly of: number;
  readonly failed: number;
  /** where its results go, as a mark that says nothing to others */
  readonly place?: string;
}

export interface WorkerSaid {
  readonly host: string;
  readonly pid: number;
  readonly threads: number;
  /** pictures that it has now */
  readonly at: readonly string[];
  readonly done: number;
  readonly failed: number;
}

/** Which program and which Node: blocks of another would not be the same to the byte. */
export const versionOf = (program: string): string =>
  `Seamwright ${program} with Node ${process.versions.node.split('.')[0]}`;

/** All who use a queue have one version. Throws UserError where others have another. Also says that this one is still used. */
export async function agree(redis: Redis, version: string, { shown }: QueueAddress): Promise<void> {
  const first = await redis.set(KEYS.version, version, 'EX', GONE_S, 'NX');
  if (first === 'OK') return;
  const used = await redis.get(KEYS.version);
  if (used !== null && used !== version)
    throw new UserError('queue-versions', { address: shown, theirs: used, ours: version });
  await redis.set(KEYS.version, version, 'EX', GONE_S);
}

type Kind = 'run' | 'worker';
const list = (kind: Kind): string => (kind === 'run' ? KEYS.runs : KEYS.workers);

/** Says that somebody is there. */
export async function appear(redis: Redis, kind: Kind, id: string, said: RunSaid | WorkerSaid): Promise<void> {
  const text = JSON.stringify(said);
  throwFirst(await redis.pipeline().set(KEYS[kind](id), text, 'EX', GONE_S).sadd(list(kind), id).exec());
}

export async function leave(redis: Redis, kind: Kind, id: string): Promise<void> {
  throwFirst(await redis.pipeline().unlink(KEYS[kind](id), KEYS.post(id)).srem(list(kind), id).exec());
}

/** Those who are there, by id; and the ids of those who left without a word. */
async function look<Said>(redis: Redis, kind: Kind): Promise<{ here: Map<string, Said>; gone: string[] }> {
  const ids = (await redis.smembers(list(kind))).sort();
  const said = ids.length ? await redis.mget(ids.map((id) => KEYS[kind](id))) : [];
  const here = new Map<string, Said>();
  const gone: string[] = [];
  ids.forEach((id, i) => {
    const text = said[i];
    if (text) here.set(id, JSON.parse(text) as Said);
    else gone.push(id);
  });
  return { here, gone };
}

export const seriesSeen = (redis: Redis) => look<RunSaid>(redis, 'run');

/** Workers that are there; those that are gone are struck off the list. */
export async function workersSeen(redis: Redis): Promise<ReadonlyMap<string, WorkerSaid>> {
  const { here, gone } = await look<WorkerSaid>(redis, 'worker');
  if (gone.length) await redis.srem(KEYS.workers, gone);
  return here;
}

/** Which of these series somebody still hands out. */
export async function stillThere(redis: Redis, runs: readonly string[]): Promise<ReadonlySet<string>> {
  if (!runs.length) return new Set();
  const said = await redis.mget(runs.map((id) => KEYS.run(id)));
  return new Set(runs.filter((_, i) => said[i] !== null));
}
