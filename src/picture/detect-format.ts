// Takes a file's first bytes, gives what it is by its content; endings are never believed.
// What is known but cannot be used is named with the way out.

export type Format = 'jpeg' | 'png' | 'gif' | 'webp' | 'tiff' | 'avif' | 'heic' | 'svg' | 'svgz';

export type Detected = { readonly format: Format } | { readonly refused: string };

const SAVE_AS = 'open it in a picture program and save it as PNG or JPEG';

const ascii = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, Math.min(to, bytes.length)));

const starts = (bytes: Uint8Array, ...magic: number[]): boolean => magic.every((b, i) => bytes[i] === b);

/** Brands of an ISO media file (ISO/IEC 14496-12, 23008-12): which codec its still picture uses. */
function detectBrands(bytes: Uint8Array): Detected {
  const length = Math.min(bytes.length, ((bytes[2] ?? 0) << 8) | (bytes[3] ?? 0), 256);
  const brands = [ascii(bytes, 8, 12)];
  for (let at = 16; at + 4 <= length; at += 4) brands.push(ascii(bytes, at, at + 4));
  if (brands.some((b) => b === 'avif' || b === 'avis')) return { format: 'avif' };
  if (brands.some((b) => /^(hei[cxms]|hev[cxms]|mif1|msf1)$/.test(b))) return { format: 'heic' };
  return { refused: 'is a film, not a picture; take one picture from it and use that' };
}

function detectText(bytes: Uint8Array): Detected {
  const utf16 = starts(bytes, 0xff, 0xfe) || starts(bytes, 0xfe, 0xff);
  const head = new TextDecoder(utf16 ? (bytes[0] === 0xff ? 'utf-16le' : 'utf-16be') : 'utf-8')
    .decode(bytes.subarray(0, 1 << 16))
    .trimStart();
  if (/^<(\?xml|!DOCTYPE\s+svg|!--|svg|[\w-]+:svg)/i.test(head) && /<([\w-]+:)?svg[\s>/]/.test(head))
    return { format: 'svg' };
  if (/^<(!doctype\s+html|html|head|body)/i.test(head))
    return { refused: 'is a web page, not a picture; open the page and save the picture itself' };
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what tells bytes from text
  if (!/[\x00-\x08\x0e-\x1a]/.test(head.slice(0, 512)))
    return { refused: 'is text, not a picture; choose the picture' };
  return { refused: `is no kind of picture that can be read here; ${SAVE_AS}` };
}

/** What the bytes are. A refusal completes the sentence "NAME ...". */
export function detectFormat(bytes: Uint8Array): Detected {
  if (bytes.length === 0) return { refused: 'is empty; copy the picture again' };
  if (bytes.length < 12) return { refused: 'is too short to be a picture; copy the picture again' };
  if (starts(bytes, 0xff, 0xd8, 0xff)) return { format: 'jpeg' };
  if (starts(bytes, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return { format: 'png' };
  if (/^GIF8[79]a/.test(ascii(bytes, 0, 6))) return { format: 'gif' };
  if (ascii(bytes, 0, 4) === 'RIFF' && ascii(bytes, 8, 12) === 'WEBP') return { format: 'webp' };
  if (/^(II[*+]\0|MM\0[*+])/.test(ascii(bytes, 0, 4)))
    return ascii(bytes, 8, 10) === 'CR' ? { refused: `is a raw camera file; ${SAVE_AS}` } : { format: 'tiff' };
  if (ascii(bytes, 4, 8) === 'ftyp')
    return ascii(bytes, 8, 11) === 'crx' ? { refused: `is a raw camera file; ${SAVE_AS}` } : detectBrands(bytes);
  if (starts(bytes, 0x1f, 0x8b)) return { format: 'svgz' };
  if (ascii(bytes, 0, 4) === '%PDF') return { refused: `is a PDF, not a picture; ${SAVE_AS}` };
  if (ascii(bytes, 0, 4) === '8BPS') return { refused: `is a layered picture-program file; ${SAVE_AS}` };
  if (ascii(bytes, 0, 2) === 'BM' && bytes.length > 26)
    return { refused: `is a BMP picture, which is not read here; ${SAVE_AS}` };
  if (starts(bytes, 0xff, 0x0a) || ascii(bytes, 4, 7) === 'JXL')
    return { refused: `is a JPEG XL picture, which is not read here; ${SAVE_AS}` };
  if (ascii(bytes, 4, 6) === 'jP' || starts(bytes, 0xff, 0x4f, 0xff, 0x51))
    return { refused: `is a JPEG 2000 picture, which is not read here; ${SAVE_AS}` };
  return detectText(bytes);
}
