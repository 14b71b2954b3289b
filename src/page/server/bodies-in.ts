// Bytes that are sent: written to disk as they come, and refused as soon as they are too many.
import { createWriteStream } from 'node:fs';
import { rm } from 'node:fs/promises';
import { finished } from 'node:stream/promises';
import { LARGEST_FILE } from '../../files.ts';
import { UserError } from '../../problems/problem.ts';

/** Larger than is asked for, or than can be. */
export class TooLarge extends UserError<'file-too-large' | 'request-too-long'> {}

const LARGEST_JSON = 1024 * 1024;
const LARGEST_NAME = 255;

const tooLarge = (name: string): TooLarge => new TooLarge('file-too-large', { path: name, what: 'picture' });

/** The name that the view gives a file; only for people and as the block's name, never for a path. */
export function fileName(header: string | undefined): string {
  let name = header ?? '';
  try {
    name = decodeURIComponent(name);
  } catch {
    // not encoded: as it is
  }
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out
  const plain = name.replace(/[\u0000-\u001f\u007f]/g, '').replace(/^.*[/\\]/, '');
  return plain.slice(0, LARGEST_NAME).trim() || 'picture';
}

/** Writes what is sent to `path`. Throws TooLarge before it is all there. */
export async function saveBody(request: Request, path: string, name: string, most = LARGEST_FILE): Promise<void> {
  if (Number(request.headers.get('content-length') ?? 0) > most) throw tooLarge(name);
  const out = createWriteStream(path, { flags: 'wx', mode: 0o600 });
  try {
    let size = 0;
    for await (const chunk of (request.body ?? []) as AsyncIterable<Uint8Array>) {
      size += chunk.length;
      if (size > most) throw tooLarge(name);
      if (!out.write(chunk)) await new Promise<void>((go) => out.once('drain', go));
    }
    out.end();
    await finished(out);
  } catch (e) {
    out.destroy();
    await rm(path, { force: true });
    throw e;
  }
}

/** Throws UserError for what is no JSON, or too much of it. */
export async function readJson(request: Request): Promise<unknown> {
  const parts: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of (request.body ?? []) as AsyncIterable<Uint8Array>) {
    size += chunk.length;
    if (size > LARGEST_JSON) throw new TooLarge('request-too-long', {});
    parts.push(chunk);
  }
  try {
    return JSON.parse(Buffer.concat(parts).toString('utf8'));
  } catch {
    throw new UserError('not-json', {}, 2);
  }
}
