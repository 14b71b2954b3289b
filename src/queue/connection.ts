// A connection to Redis, or to a server that speaks the same: the first time it says in one sentence why there is none; later it waits
// until the server is there again.
import { Redis } from 'ioredis';
import { UserError } from '../problems/problem.ts';
import type { QueueAddress } from './address.ts';

export type { Redis } from 'ioredis';

const CONNECT_MS = 5000;
const AGAIN_MS = 1000;
/** takes a value and deletes it in one step since this version */
const LEAST_VERSION = [6, 2] as const;

export interface Connected {
  readonly redis: Redis;
  readonly address: QueueAddress;
  /** hears when the server is gone, and when it is back */
  watch(hear: (there: boolean) => void): void;
  /** with all connections that were made of it */
  close(): void;
}

/** Throws UserError where nothing answers, or what answers cannot be used. */
export async function connect(address: QueueAddress): Promise<Connected> {
  let there = false;
  let closed = false;
  const redis = new Redis(address.url, {
    lazyConnect: true,
    connectTimeout: CONNECT_MS,
    // commands wait for the server to come back
    maxRetriesPerRequest: null,
    retryStrategy: () => (there && !closed ? AGAIN_MS : null),
  });
  const all = [redis];
  // those that wait for something have connections of their own, which would keep the program alive where the server is gone
  const duplicate = redis.duplicate.bind(redis);
  redis.duplicate = (override) => {
    const copy = duplicate(override);
    all.push(copy);
    return copy;
  };
  let last: Error | undefined;
  redis.on('error', (e: Error) => {
    last = e;
  });
  try {
    await redis.connect();
    checkServer(await redis.info('server'), await redis.info('memory'), address);
    there = true;
  } catch (e) {
    redis.disconnect();
    throw e instanceof UserError ? e : whyNot(last ?? (e as Error), address);
  }
  return {
    redis,
    address,
    close() {
      closed = true;
      for (const r of all) r.disconnect();
    },
    watch(hear) {
      let now = true;
      redis.on('close', () => {
        if (closed) return;
        if (now) hear(false);
        now = false;
      });
      redis.on('ready', () => {
        if (!now) hear(true);
        now = true;
      });
    },
  };
}

function checkServer(server: string, memory: string, { shown: address }: QueueAddress): void {
  const version = /^redis_version:(\d+)\.(\d+)/m.exec(server);
  const [major, minor] = [Number(version?.[1]), Number(version?.[2])];
  if (version && (major < LEAST_VERSION[0] || (major === LEAST_VERSION[0] && minor < LEAST_VERSION[1])))
    throw new UserError('queue-too-old', { address, version: `${major}.${minor}` });
  const policy = /^maxmemory_policy:(\S+)/m.exec(memory)?.[1] ?? 'noeviction';
  if (policy !== 'noeviction') throw new UserError('queue-forgets', { address, policy });
}

function whyNot(e: Error, { shown: address }: QueueAddress): UserError {
  const code = (e as NodeJS.ErrnoException).code ?? '';
  if (/^(NOAUTH|WRONGPASS|ERR.*(AUTH|password))/i.test(e.message)) return new UserError('queue-locked', { address });
  if (/^ERR_(TLS|SSL)|CERT|SELF_SIGNED|EPROTO|UNABLE_TO/.test(code))
    return new UserError('queue-not-trusted', { address, why: plain(e) });
  return new UserError('no-queue', { address, why: WHY[code] ?? plain(e) });
}

const WHY: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'nothing answers there',
  ENOTFOUND: 'there is no such computer',
  EAI_AGAIN: 'the name of the computer cannot be looked up',
  ETIMEDOUT: 'it does not answer',
  EHOSTUNREACH: 'the computer cannot be reached',
  ENETUNREACH: 'there is no network',
  ECONNRESET: 'what answers there hangs up',
};

const plain = (e: Error): string => e.message.replace(/\s+/g, ' ').replace(/\.$/, '') || 'the connection was closed';

/** Whether the server answered, and would not do it. */
export const isRefusal = (e: unknown): e is Error => e instanceof Error && e.name === 'ReplyError';

/** What a person is told of a refusal; other errors are handed on. */
export const wordRefusal = (e: unknown, { shown: address }: QueueAddress): unknown =>
  isRefusal(e) && e.message.startsWith('OOM') ? new UserError('queue-full', { address }) : e;

/** Bytes that the server holds in all. */
export async function memoryOf(redis: Redis): Promise<number> {
  return Number(/^used_memory:(\d+)/m.exec(await redis.info('memory'))?.[1] ?? 0);
}
