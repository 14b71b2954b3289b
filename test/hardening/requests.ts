// Requests to the page by chance: what its view sends, bent, cut, too large, of the wrong kind, from elsewhere. Whatever comes, the answer is
// a page, a picture or one sentence, never a fault, and the server goes on. Shared by the suite, by the long fuzz and by the soak.
import { readFileSync } from 'node:fs';
import { connect } from 'node:net';
import { FIELDS } from '../../src/settings/fields.ts';
import { fixture } from '../cli/run-program.ts';
import { ask } from '../page/visit.ts';

type Random = () => number;
const pick = <T>(random: Random, list: readonly T[]): T => list[Math.floor(random() * list.length)]!;

const ODD: readonly unknown[] = [
  ...[
    null,
    true,
    0,
    -1,
    1e308,
    1.5,
    '',
    ' ',
    'x'.repeat(3000),
    '../../etc/passwd',
    'a\u0000b',
    '\u202eexe',
    '__proto__',
  ],
  ...[
    [],
    [[]],
    {},
    { length: 1e9 },
    { toString: 1 },
    [null],
    [1e308, -1e308],
    '<script>alert(1)</script>',
    '=1+1',
    'NaN',
    '￿',
  ],
  Array.from({ length: 2000 }, (_, i) => i),
];
const NAMES = Object.keys(FIELDS);
const KINDS = ['fabric', 'merge', 'divide', 'move', 'swing', 'unite', 'part', 'rename', 'colour', 'cloth', 'nothing'];
const KEYS = [
  'pieces',
  'fabric',
  'first',
  'second',
  'piece',
  'line',
  'seam',
  'by',
  'degrees',
  'section',
  'name',
  'colour',
  'cloth',
];
const SOUND: readonly unknown[] = [
  'A',
  'A1',
  'A2',
  'B1',
  'B',
  'fa',
  'fb',
  2,
  12,
  '#aabbcc',
  [
    [1, 2],
    [30, 40],
  ],
  ['A1'],
  'head',
  'auto',
];

function body(random: Random): string | Uint8Array {
  const any = (): unknown => pick(random, random() < 0.5 ? SOUND : ODD);
  const some = (keys: readonly string[], n: number): object =>
    Object.fromEntries(Array.from({ length: Math.floor(random() * n) + 1 }, () => [pick(random, keys), any()]));
  switch (Math.floor(random() * 7)) {
    case 0:
      return JSON.stringify(some(NAMES, 3));
    case 1:
      return JSON.stringify({ kind: pick(random, KINDS), ...some(KEYS, 4) });
    case 2:
      return JSON.stringify({ name: any(), works: any(), settings: some(NAMES, 2), common: any() });
    case 3:
      return JSON.stringify({ shades: any(), pieces: any() });
    case 4:
      return `${'['.repeat(random() * 50_000)}`;
    case 5:
      return Uint8Array.from({ length: random() * 300 }, () => random() * 256);
    default:
      return JSON.stringify(any());
  }
}

const PATHS = [
  ...[
    'works',
    'works/:id',
    'works/:id/settings',
    'works/:id/changes',
    'works/:id/looks',
    'works/:id/undo',
    'works/:id/redo',
  ],
  ...['works/:id/away', 'works/:id/back', 'works/:id/face.svg', 'works/:id/shades.png', 'works/:id/picture.jpg'],
  ...[
    'works/:id/sheets',
    'works/:id/sheets/1.svg',
    'works/:id/fabric',
    'works/:id/files/fabric.csv',
    'works/:id/files/block.json',
  ],
  ...[
    'works/:id/files/packet.pdf',
    'works/:id/cloths/x.jpg',
    'series',
    'series/:id',
    'series/:id/files/x.pdf',
    'nothing',
  ],
  ...[
    'works/..%2f..%2fetc',
    'works/%00',
    'works/%ff',
    `works/${'a'.repeat(5000)}`,
    'works/:id/files/..%2fwork.json',
    '%2e%2e/%2e%2e/',
  ],
];
/** what costs processor time, or fills the disk with what was asked for, is left to the soak */
const COSTLY = /packet\.pdf|looks/;

/** From another page or under another name: never let in. */
const foreignHeaders = (host: string): Record<string, string>[] => [
  { host: 'pictures.example' },
  { host: `${host}.pictures.example` },
  { origin: 'http://pictures.example' },
  { origin: 'null' },
  { 'sec-fetch-site': 'cross-site' },
];
const ODD_HEADERS: Record<string, string>[] = [
  ...Array.from({ length: 8 }, () => ({})),
  ...[{ 'x-file-name': '..%2f..%2fa.png' }, { 'x-file-name': '%E0%A4%A' }, { 'transfer-encoding': 'chunked' }],
  ...[{ 'content-length': '5' }, { range: 'bytes=0-18446744073709551615' }, { expect: '100-continue' }],
  ...[{ 'content-encoding': 'gzip' }, { cookie: 'a='.repeat(3000) }, { 'accept-encoding': 'br, *;q=0' }],
  { upgrade: 'websocket', connection: 'upgrade' },
  { 'x-http-method-override': 'DELETE', 'x-forwarded-host': 'pictures.example' },
];

export interface Answered {
  readonly what: string;
  readonly status: number;
  /** what is wrong with the answer */
  readonly fault?: string;
}

/** One request, the same for the same seed. `address` has the key; `ids` are works that are there. */
export async function requestOnce(address: string, ids: readonly string[], random: Random): Promise<Answered> {
  const { host, pathname } = new URL(address);
  const method = pick(random, ['GET', 'POST', 'POST', 'POST', 'PATCH', 'PATCH', 'PUT', 'DELETE', 'OPTIONS', 'HEAD']);
  let path = pick(random, PATHS);
  if (COSTLY.test(path)) path = 'works/:id';
  const at = `api/${path.replace(':id', random() < 0.9 ? pick(random, ids) : 'none-00000000')}`;
  const wrong = random() < 0.05;
  const foreign = random() < 0.1;
  const headers = pick(random, foreign ? foreignHeaders(host) : ODD_HEADERS);
  const what = `${method} ${at.slice(0, 80)} ${JSON.stringify(headers).slice(0, 80)}`;
  const sent = method === 'GET' || method === 'HEAD' ? undefined : body(random);
  const raw = random() < 0.04;
  if (raw) return { what: `raw ${what}`, status: await sendRaw(address, random, `${pathname}${at}`) };
  const url = wrong ? `http://${host}/${'k'.repeat(pathname.length - 2)}/${at}` : `${address}${at}`;
  const answer = await ask(url, headers, method, sent).catch((e: NodeJS.ErrnoException) => {
    // it may hang up on what is no HTTP
    if (/ECONNRESET|EPIPE|socket hang up|Parse Error/.test(`${e.code} ${e.message}`)) return undefined;
    throw e;
  });
  if (!answer) return { what, status: 0 };
  const { status, text } = answer;
  if (status >= 500) return { what, status, fault: `${status} ${text.slice(0, 200)}` };
  if ((foreign || wrong) && status < 400) return { what, status, fault: `let in: ${status}` };
  const { says } = (/^\{"says"/.test(text) ? JSON.parse(text) : {}) as { says?: string };
  if (says !== undefined && !/^.*[^\s].*\.$/s.test(says)) return { what, status, fault: `no sentence: ${says}` };
  if (says !== undefined && /\[object|undefined|NaN/.test(says.replace(/received \w+/g, '')) && !/"/.test(says))
    return { what, status, fault: `unclear: ${says}` };
  return { what, status };
}

/** What is no proper HTTP: broken heads, lengths that do not agree, a body that breaks off. */
function sendRaw(address: string, random: Random, path: string): Promise<number> {
  const { hostname, port, host } = new URL(address);
  const head = `POST ${path} HTTP/1.1\r\nHost: ${host}\r\n`;
  const text = pick(random, [
    `${head}Content-Length: 100000000\r\n\r\n{"a":`,
    `${head}Content-Length: 5\r\nContent-Length: 50\r\n\r\nabcde`,
    `${head}Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET / HTTP/1.1\r\n\r\n`,
    `${head}Transfer-Encoding: chunked\r\n\r\nffffffffffffffff\r\n`,
    `${head}X: ${'y'.repeat(40_000)}\r\n\r\n`,
    `GET ${path} HTTP/1.1\r\nHost: ${host}\r\nHost: pictures.example\r\n\r\n`,
    `GET ${path} HTTP/0.9\r\n\r\n`,
    `GET http://pictures.example${path} HTTP/1.1\r\nHost: ${host}\r\n\r\n`,
    '\u0000\u0001\u0002\r\n\r\n',
    `${head.slice(0, Math.floor(random() * head.length))}`,
    `PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n`,
  ]);
  return new Promise((done) => {
    const socket = connect(Number(port), hostname, () => {
      socket.write(text, 'latin1');
      setTimeout(() => socket.destroy(), 20);
    });
    socket.on('error', () => {});
    socket.on('data', () => {});
    socket.on('close', () => done(0));
  });
}

/** An upload that says that `whole` bytes will come, sends some and hangs up. */
export function cutOff(address: string, bytes: number, whole = 100_000_000): Promise<void> {
  const { hostname, port, pathname } = new URL(address);
  return new Promise((done) => {
    const socket = connect(Number(port), hostname, () => {
      socket.write(
        `POST ${pathname}api/works HTTP/1.1\r\nHost: ${hostname}:${port}\r\nx-file-name: a.png\r\nContent-Length: ${whole}\r\n\r\n`,
      );
      socket.write(Buffer.alloc(bytes, 7), () => socket.destroy());
    });
    socket.on('error', () => {});
    socket.on('close', () => done());
  });
}

const SAMPLE = readFileSync(fixture('../test/page/fox.block.json'));

/** A file that may be a block, and mostly is not: cut off or with bytes changed. */
export function damagedUpload(random: Random): Uint8Array {
  const bytes = Uint8Array.from(SAMPLE);
  for (let n = 0; n < 1 + random() * 3; n++) bytes[Math.floor(random() * bytes.length)] = Math.floor(random() * 256);
  return bytes.subarray(0, Math.floor(bytes.length * (random() < 0.5 ? random() : 1)));
}
