// Answers as bytes: their type, their name as a download, how long a browser may keep them.
import { createReadStream } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import type { Format } from '../api.ts';
import { NotHere } from './held.ts';

export const TYPES: Readonly<Record<string, string>> = {
  html: 'text/html; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  css: 'text/css; charset=utf-8',
  svg: 'image/svg+xml',
  png: 'image/png',
  jpg: 'image/jpeg',
  pdf: 'application/pdf',
  json: 'application/json',
  zip: 'application/zip',
  csv: 'text/csv; charset=utf-8',
};
export const typeOf = (name: string): string =>
  TYPES[name.slice(name.lastIndexOf('.') + 1)] ?? 'application/octet-stream';

export const FORMATS: readonly Format[] = [
  'packet.pdf',
  'block.json',
  'preview.png',
  'sections-svg.zip',
  'sections-dxf.zip',
  'sheets-png.zip',
  'fabric.csv',
];

/** Pictures keep their address while what they show changes: asked again, but not sent again. */
export const AGAIN = 'private, no-cache';

export const bytesOf = (bytes: Uint8Array | string, type: string, more: Record<string, string> = {}): Response =>
  new Response(bytes as Uint8Array<ArrayBuffer> | string, { headers: { 'content-type': type, ...more } });

/** Names of any letters (RFC 6266, RFC 8187). */
export const attachment = (name: string): Record<string, string> => ({
  'content-disposition': `attachment; filename="${name.replace(/[^\x20-\x7e]|["\\%]/g, '_')}"; filename*=UTF-8''${encodeURIComponent(name).replace(/['()*]/g, (ch) => `%${ch.charCodeAt(0).toString(16).toUpperCase()}`)}`,
});

export async function showView(folder: string, file: string): Promise<Response> {
  try {
    return bytesOf(new Uint8Array(await readFile(join(folder, file))), typeOf(file), { 'cache-control': AGAIN });
  } catch {
    throw new NotHere();
  }
}

export async function sendFile(path: string, type: string, more: Record<string, string> = {}): Promise<Response> {
  const stream = createReadStream(path);
  await new Promise<void>((open, fail) => stream.once('open', () => open()).once('error', fail)).catch(() => {
    throw new NotHere();
  });
  return new Response(Readable.toWeb(stream) as unknown as ReadableStream<Uint8Array>, {
    headers: { 'content-type': type, 'cache-control': AGAIN, ...more },
  });
}
