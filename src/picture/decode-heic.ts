// Takes the bytes of a phone's HEIC (HEVC) picture, gives it upright as PNG bytes with its colour profile put back:
// the decoder turns the picture but drops the profile, and the raster path knows how to convert one.
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { runApart, SECONDS } from '../apart/run-apart.ts';
import { workingSize } from './decoded.ts';

const SCRIPT = `
const { default: decode } = await import(process.argv[1]);
console.error('loaded');
const parts = [];
for await (const part of process.stdin) parts.push(part);
try {
  const { width, height, data } = await decode({ buffer: Buffer.concat(parts) });
  const head = Buffer.alloc(8);
  head.writeUInt32LE(width, 0);
  head.writeUInt32LE(height, 4);
  process.stdout.write(head);
  process.stdout.write(Buffer.from(data.buffer, data.byteOffset, data.byteLength));
} catch (error) {
  console.error(String(error?.message ?? 'damaged').split('\\n')[0]);
  process.exitCode = 1;
}`;

let table: Uint32Array | undefined;

/** CRC-32 of PNG (ISO/IEC 15948 annex D). */
function crc32(bytes: Uint8Array): number {
  table ??= Uint32Array.from({ length: 256 }, (_, n) => {
    let c = n;
    for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
    return c >>> 0;
  });
  let c = 0xffffffff;
  for (const b of bytes) c = table[(c ^ b) & 255]! ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

/** Puts an iCCP chunk after a PNG's IHDR, which ends at byte 33. */
function attachProfile(png: Buffer, profile: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from('iCCPprofile\0\0', 'latin1'), deflateSync(profile)]);
  const chunk = Buffer.alloc(body.length + 8);
  chunk.writeUInt32BE(body.length - 4, 0);
  body.copy(chunk, 4);
  chunk.writeUInt32BE(crc32(body), body.length + 4);
  return Buffer.concat([png.subarray(0, 33), chunk, png.subarray(33)]);
}

/** Processor time of a million pixels, several times what they take: a phone's picture of 12 million takes some three seconds. */
const SECONDS_A_MILLION = 0.75;

/** 64 million pixels, thrice: in the decoder, out of it, on their way here */
const MEGABYTES = 1200;

/** Gives PNG bytes at working size and the size of the picture in the file. Throws ApartError where the decoder gives up. */
export async function decodeHeic(
  bytes: Uint8Array,
  profile: Buffer | undefined,
  millions: number,
): Promise<{ png: Buffer; pixels: [number, number] }> {
  const module = createRequire(import.meta.url).resolve('heic-decode');
  const seconds = Math.max(SECONDS, Math.ceil(SECONDS_A_MILLION * millions));
  const raw = await runApart(SCRIPT, [pathToFileURL(module).href], bytes, { seconds, megabytes: MEGABYTES, module });
  const width = raw.readUInt32LE(0);
  const height = raw.readUInt32LE(4);
  if (raw.length !== 8 + width * height * 4) throw new Error('damaged');
  const [w, h] = workingSize(width, height);
  const png = await sharp(raw.subarray(8), { raw: { width, height, channels: 4 } })
    .resize(w, h, { fit: 'fill' })
    .png({ compressionLevel: 1 })
    .toBuffer();
  return { png: profile ? attachProfile(png, profile) : png, pixels: [width, height] };
}
