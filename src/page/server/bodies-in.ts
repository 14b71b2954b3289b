// Bytes that are sent: written to disk as they come, and refused as soon as they are too many.
import { open, rm } from 'node:fs/promises';
import { depthOf } from '../../depth.ts';
import { LARGEST_FILE } from '../../files.ts';
import { plainText } from '../../names.ts';
import { UserError } from '../../problems/problem.ts';

/** Larger than is asked for, or than can be. */
export class TooLarge extends UserError<'file-too-large' | 'request-too-long' | 'request-too-deep'> {}

const LARGEST_JSON = 1024 * 1024;
const LARGEST_NAME = 255;
/** of brackets within one another; the view sends four */
const MOST_DEPTH = 16;

const tooLarge = (name: string): TooLarge => new TooLarge('file-too-large', { path: name, what: 'picture' });

/** The name that the view gives a file; only for people and as the block's name, never for a path. */
export function fileName(header: string | undefined): string {
  let name = header ?? '';
  try {
    name = decodeURIComponent(name);
  } catch {
    // not encoded: as it is
  }
  const plain = plainText(name).replace(/^.*[/\\]/, '');
  return plain.slice(0, LARGEST_NAME).trim() || 'picture';
}

/** Room on the disk that uploads share. */
export interface Room {
  /** Throws UserError where there is not so much left. */
  take(bytes: number): void;
  give(bytes: number): void;
}

/** Writes what is sent to `path`, which nothing has. Throws TooLarge, or UserError where it breaks off or cannot be kept; nothing
 *  of it stays then. */
export async function saveBody(
  request: Request,
  path: string,
  name: string,
  most = LARGEST_FILE,
  room: Room = { take: () => {}, give: () => {} },
): Promise<void> {
  if (Number(request.headers.get('content-length') ?? 0) > most) throw tooLarge(name);
  const out = await open(path, 'wx', 0o600);
  let size = 0;
  try {
    for await (const chunk of chunksOf(request)) {
      size += chunk.length;
      if (size > most) throw tooLarge(name);
      room.take(chunk.length);
      await out.writeFile(chunk);
    }
    await out.sync();
    await out.close();
  } catch (e) {
    await out.close().catch(() => {});
    await rm(path, { force: true });
    room.give(size);
    throw e;
  }
}

/** What is sent, as it comes. Throws UserError where it breaks off. */
async function* chunksOf(request: Request): AsyncGenerator<Uint8Array> {
  const { body } = request;
  if (!body) return;
  // a sender that hangs up may look like one that has come to an end
  let left = Number(request.headers.get('content-length') ?? 0);
  const reader = body.getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read().catch(() => {
        throw new UserError('cut-off', {});
      });
      if (done && left > 0) throw new UserError('cut-off', {});
      if (done) return;
      left -= value.length;
      yield value;
    }
  } finally {
    await reader.cancel().catch(() => {});
  }
}

/** Throws UserError for what is no JSON, or too much of it. */
export async function readJson(request: Request): Promise<unknown> {
  const parts: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of chunksOf(request)) {
    size += chunk.length;
    if (size > LARGEST_JSON) throw new TooLarge('request-too-long', {});
    parts.push(chunk);
  }
  const text = Buffer.concat(parts).toString('utf8');
  if (depthOf(text) > MOST_DEPTH) throw new TooLarge('request-too-deep', {});
  try {
    return JSON.parse(text);
  } catch {
    throw new UserError('not-json', {}, 2);
  }
}
