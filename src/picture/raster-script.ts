// What the process apart does with the bytes of a raster picture: the text of an ES module, for it runs without this program's files.
// Reads the bytes, gives a line of JSON and, where that says "fate": "read", the pixels at working size. Sizes and limits come as JSON.

/** What the process is told. */
export interface RasterTask {
  readonly heic: boolean;
  /** addresses of the modules */
  readonly sharp: string;
  readonly heicDecode: string;
  /** threads of the decoder */
  readonly concurrency: number;
  /** most pixels of any file, and of one of this format */
  readonly most: number;
  readonly mostOfFormat: number;
  readonly leastSide: number;
  readonly workingShort: number;
  readonly workingLong: number;
  /** of processor time, for pictures of moderate size; for larger ones more by the million */
  readonly seconds: number;
  readonly secondsAMillion: number;
}

/** What it says. */
export interface RasterAnswer {
  readonly fate: 'read' | 'damaged' | 'over-limit' | 'over-format' | 'too-small' | 'slow';
  /** of the upright picture in the file */
  readonly pixels?: readonly [width: number, height: number];
  readonly width?: number;
  readonly height?: number;
  /** pictures in the file */
  readonly pages?: number;
  /** decoded whole, but with a complaint */
  readonly doubtful?: boolean;
}

export const RASTER_SCRIPT = `
import { writeSync } from 'node:fs';
import { deflateSync } from 'node:zlib';
const task = JSON.parse(process.argv[1]);
const { default: sharp } = await import(task.sharp);
sharp.concurrency(task.concurrency);
sharp.cache(false);
const decodeHeic = task.heic && (await import(task.heicDecode)).default;
console.error('loaded');
const parts = [];
for await (const part of process.stdin) parts.push(part);
const bytes = Buffer.concat(parts);
parts.length = 0;
const say = (answer) => process.stdout.write(JSON.stringify(answer) + '\\n');
const open = (source, failOn) => sharp(source, { failOn, limitInputPixels: task.most, sequentialRead: true });
const MILLION = 1e6;

function workingSize(width, height) {
  const [short, long] = [Math.min(width, height), Math.max(width, height)];
  const scale = Math.min(task.workingShort / short, task.workingLong / long, 1);
  return [Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale))];
}

/** Stops at so much processor time; what does not let it count is stopped by the system. */
function countSeconds(millions) {
  const most = Math.max(task.seconds, task.secondsAMillion * millions) * 1e6;
  return setInterval(() => {
    const { user, system } = process.cpuUsage();
    if (user + system < most) return;
    writeSync(1, JSON.stringify({ fate: 'slow' }) + '\\n');
    process.exit(0);
  }, 250);
}

async function read() {
  let meta;
  try {
    meta = await open(bytes, 'truncated').metadata();
  } catch (error) {
    return say({ fate: /pixel limit/i.test(error.message) ? 'over-limit' : 'damaged' });
  }
  const orientation = meta.orientation ?? 1;
  const turned = orientation >= 5 && !task.heic;
  const [width, height] = turned ? [meta.height, meta.width] : [meta.width, meta.height];
  if (!width || !height) return say({ fate: 'damaged' });
  let pixels = [width, height];
  const millions = (width * height) / MILLION;
  if (width * height > task.mostOfFormat) return say({ fate: 'over-format', pixels });
  if (Math.min(width, height) < task.leastSide) return say({ fate: 'too-small', pixels });
  const counted = countSeconds(millions);
  let from = (failOn) => open(bytes, failOn);
  if (task.heic) {
    // the decoder turns the picture but drops the colour profile, which is put back
    let heic;
    try {
      heic = await decodeHeic({ buffer: bytes });
    } catch {
      return say({ fate: 'damaged' });
    }
    pixels = [heic.width, heic.height];
    const [w, h] = workingSize(...pixels);
    const raw = { width: heic.width, height: heic.height, channels: 4 };
    let small = sharp(Buffer.from(heic.data.buffer, heic.data.byteOffset, heic.data.byteLength), { raw, limitInputPixels: task.most });
    small = await small.resize(w, h, { fit: 'fill' }).png({ compressionLevel: 1 }).toBuffer();
    heic = undefined;
    if (meta.icc) small = attachProfile(small, meta.icc);
    from = (failOn) => open(small, failOn);
  }
  const [w, h] = workingSize(...pixels);
  // a turn needs the whole picture in memory: a huge one is shrunk first (JPEG shrinks while it is read)
  const huge = millions > 60 && meta.format !== 'jpeg' && orientation > 1;
  const decode = async (failOn) => {
    let image = from(failOn);
    if (huge) {
      const [sw, sh] = turned ? [h, w] : [w, h];
      image = sharp(await image.resize(sw, sh, { fit: 'fill' }).keepMetadata().png({ compressionLevel: 1 }).toBuffer());
    } else if (turned && millions <= 64) {
      // a quarter turn is made before shrinking: the other way round the last bit of a pixel may come out otherwise
      image = sharp(await image.autoOrient().keepIccProfile().tiff({ compression: 'none' }).toBuffer());
    }
    return image.autoOrient().resize(w, h, { fit: 'fill' }).toColourspace('srgb').ensureAlpha()
      .raw({ depth: 'uchar' }).toBuffer({ resolveWithObject: true });
  };
  let doubtful = false;
  let result = await decode('warning').catch(() => undefined);
  if (!result) {
    // many a camera writes files that decode whole but with a complaint; only what is missing is refused
    result = await decode('truncated').catch(() => undefined);
    doubtful = true;
  }
  clearInterval(counted);
  if (!result || result.info.channels !== 4) return say({ fate: 'damaged' });
  say({ fate: 'read', pixels, width: result.info.width, height: result.info.height, pages: meta.pages ?? 1, doubtful });
  process.stdout.write(result.data);
}

/** Puts an iCCP chunk after a PNG's IHDR, which ends at byte 33. */
function attachProfile(png, profile) {
  const body = Buffer.concat([Buffer.from('iCCPprofile\\0\\0', 'latin1'), deflateSync(profile)]);
  const chunk = Buffer.alloc(body.length + 8);
  chunk.writeUInt32BE(body.length - 4, 0);
  body.copy(chunk, 4);
  chunk.writeUInt32BE(crc32(body), body.length + 4);
  return Buffer.concat([png.subarray(0, 33), chunk, png.subarray(33)]);
}

/** CRC-32 of PNG (ISO/IEC 15948 annex D). */
function crc32(bytes) {
  let c = 0xffffffff;
  for (const b of bytes) {
    c ^= b;
    for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  }
  return (c ^ 0xffffffff) >>> 0;
}

await read();
`;
