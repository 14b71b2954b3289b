// A page of its own for a test, served by the built program (as the command's tests have it), over a folder of its own, and the calls that a browser would make.
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Event, Refusal, Work } from '../../src/page/api.ts';
import type { Page, ServeOptions } from '../../src/page/server/serve.ts';
import { root } from '../cli/run-program.ts';

export interface Visit {
  readonly page: Page;
  readonly folder: string;
  get(path: string): Promise<Response>;
  send<T = Work>(method: string, path: string, body?: unknown): Promise<{ status: number; body: T & Partial<Refusal> }>;
  upload(file: string, name?: string): Promise<{ status: number; body: Work & Partial<Refusal> }>;
  work(id: string): Promise<Work>;
  /** asks again at every word of the work until it is so */
  until(id: string, holds: (work: Work) => boolean): Promise<Work>;
  close(): Promise<void>;
}

export const newFolder = (): Promise<string> => mkdtemp(join(tmpdir(), 'seamwright-page-'));

type Server = typeof import('../../src/page/server/serve.ts');

export async function visit(folder: string, options: Partial<ServeOptions> = {}): Promise<Visit> {
  const { servePage } = (await import(pathToFileURL(join(root, 'dist', 'page-server.js')).href)) as Server;
  const page = await servePage({ folder, port: 0, workers: 1, ...options });
  const at = (path: string): string => `${page.address}api/${path}`;
  const send: Visit['send'] = async (method, path, body) => {
    const answer = await fetch(at(path), { method, ...(body !== undefined && { body: JSON.stringify(body) }) });
    return { status: answer.status, body: (await answer.json()) as never };
  };
  const own: Visit = {
    page,
    folder,
    send,
    get: (path) => fetch(at(path)),
    async upload(file, name = basename(file)) {
      const headers = { 'x-file-name': encodeURIComponent(name) };
      const answer = await fetch(at('works'), { method: 'POST', headers, body: await readFile(file) });
      return { status: answer.status, body: (await answer.json()) as never };
    },
    work: async (id) => (await fetch(at(`works/${id}`))).json() as Promise<Work>,
    async until(id, holds) {
      for (;;) {
        const work = await own.work(id);
        if (holds(work)) return work;
        await new Promise((r) => setTimeout(r, 30));
      }
    },
    close: () => page.close(),
  };
  return own;
}

export const remove = (folder: string): Promise<void> => rm(folder, { recursive: true, force: true });

/** Status and headers of a call with headers that fetch would not send. */
export function ask(
  address: string,
  headers: Record<string, string>,
  method = 'GET',
  body?: string | Uint8Array,
): Promise<{ status: number; text: string; headers: Record<string, unknown> }> {
  return new Promise((done, fail) => {
    const call = request(address, { method, headers }, async (answer) => {
      let text = '';
      for await (const part of answer) text += part;
      done({ status: answer.statusCode!, text, headers: answer.headers });
    });
    call.on('error', fail);
    call.end(body);
  });
}

/** A tab that listens: what it has heard so far. */
export async function listen(address: string): Promise<{ heard: Event[]; stop(): void }> {
  const stop = new AbortController();
  const answer = await fetch(`${address}api/events`, { signal: stop.signal });
  const reader = answer.body!.getReader();
  const heard: Event[] = [];
  const text = new TextDecoder();
  let rest = '';
  await reader.read();
  void (async () => {
    for (;;) {
      const { value, done } = await reader.read();
      if (done) return;
      const lines = (rest + text.decode(value, { stream: true })).split('\n\n');
      rest = lines.pop()!;
      for (const line of lines) if (line.startsWith('data: ')) heard.push(JSON.parse(line.slice(6)) as Event);
    }
  })().catch(() => {});
  return { heard, stop: () => stop.abort() };
}
