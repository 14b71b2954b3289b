// Takes a file's first bytes, gives what it is by its content; endings are never believed.
// What is known but cannot be used is named with the way out.
import { UserError } from '../problems/problem.ts';

export type Format = 'jpeg' | 'png' | 'gif' | 'webp' | 'tiff' | 'avif' | 'heic' | 'svg' | 'svgz';

const ascii = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, Math.min(to, bytes.length)));

const starts = (bytes: Uint8Array, ...magic: number[]): boolean => magic.every((b, i) => bytes[i] === b);

/** Brands of an ISO media file (ISO/IEC 14496-12, 23008-12): which codec its still picture uses. */
function detectBrands(bytes: Uint8Array, file: string): Format {
  const length = Math.min(bytes.length, ((bytes[2] ?? 0) << 8) | (bytes[3] ?? 0), 256);
  const brands = [ascii(bytes, 8, 12)];
  for (let at = 16; at + 4 <= length; at += 4) brands.push(ascii(bytes, at, at + 4));
  if (brands.some((b) => b === 'avif' || b === 'avis')) return 'avif';
  if (brands.some((b) => /^(hei[cxms]|hev[cxms]|mif1|msf1)$/.test(b))) return 'heic';
  throw new UserError('is-a-film', { file });
}

function detectText(bytes: Uint8Array, file: string): Format {
  const utf16 = starts(bytes, 0xff, 0xfe) || starts(bytes, 0xfe, 0xff);
  const head = new TextDecoder(utf16 ? (bytes[0] === 0xff ? 'utf-16le' : 'utf-16be') : 'utf-8')
    .decode(bytes.subarray(0, 1 << 16))
    .trimStart();
  if (/^<(\?xml|!DOCTYPE\s+svg|!--|svg|[\w-]+:svg)/i.test(head) && /<([\w-]+:)?svg[\s>/]/.test(head)) return 'svg';
  if (/^<(!doctype\s+html|html|head|body)/i.test(head)) throw new UserError('is-a-web-page', { file });
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what tells bytes from text
  if (!/[\x00-\x08\x0e-\x1a]/.test(head.slice(0, 512))) throw new UserError('is-text', { file });
  throw new UserError('no-kind-of-picture', { file });
}

/** What the bytes are. Throws UserError that names the file where they are no picture, or of a kind that is not read. */
export function detectFormat(bytes: Uint8Array, file: string): Format {
  if (bytes.length === 0) throw new UserError('file-is-empty', { file });
  if (bytes.length < 12) throw new UserError('file-too-short', { file });
  if (starts(bytes, 0xff, 0xd8, 0xff)) return 'jpeg';
  if (starts(bytes, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return 'png';
  if (/^GIF8[79]a/.test(ascii(bytes, 0, 6))) return 'gif';
  if (ascii(bytes, 0, 4) === 'RIFF' && ascii(bytes, 8, 12) === 'WEBP') return 'webp';
  const tiff = /^(II[*+]\0|MM\0[*+])/.test(ascii(bytes, 0, 4));
  const media = ascii(bytes, 4, 8) === 'ftyp';
  if ((tiff && ascii(bytes, 8, 10) === 'CR') || (media && ascii(bytes, 8, 11) === 'crx'))
    throw new UserError('is-raw', { file });
  if (tiff) return 'tiff';
  if (media) return detectBrands(bytes, file);
  if (starts(bytes, 0x1f, 0x8b)) return 'svgz';
  if (ascii(bytes, 0, 4) === '%PDF') throw new UserError('is-a-pdf', { file });
  if (ascii(bytes, 0, 4) === '8BPS') throw new UserError('is-layered', { file });
  if (ascii(bytes, 0, 2) === 'BM' && bytes.length > 26) throw new UserError('format-not-read', { file, format: 'BMP' });
  if (starts(bytes, 0xff, 0x0a) || ascii(bytes, 4, 7) === 'JXL')
    throw new UserError('format-not-read', { file, format: 'JPEG XL' });
  if (ascii(bytes, 4, 6) === 'jP' || starts(bytes, 0xff, 0x4f, 0xff, 0x51))
    throw new UserError('format-not-read', { file, format: 'JPEG 2000' });
  return detectText(bytes, file);
}
