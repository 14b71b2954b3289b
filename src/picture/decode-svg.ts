// Takes the bytes of an SVG (or of a gzipped one), gives it drawn at working size. Drawn by resvg in a process of its own,
// from a text that was checked first: nothing outside the file is ever loaded, and time and memory are bounded.
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { ApartError, runApart, SECONDS } from '../apart/run-apart.ts';
import { checkSvg, textOf } from '../apart/svg-limits.ts';
import { UserError } from '../problems/problem.ts';
import { type Decoded, WORKING_LONG, WORKING_SHORT } from './decoded.ts';

const SCRIPT = `
const [resvg, short, long, ...fonts] = process.argv.slice(1);
const { Resvg } = (await import(resvg)).default;
console.error('loaded');
const parts = [];
for await (const part of process.stdin) parts.push(part);
const text = Buffer.concat(parts).toString();
const font = { loadSystemFonts: false, fontFiles: fonts, defaultFontFamily: 'DejaVu Sans' };
try {
  const { width, height } = new Resvg(text, { font, logLevel: 'off' });
  const value = Math.min(short / Math.min(width, height), long / Math.max(width, height));
  if (Math.min(width, height) * value < 32) throw new Error('it is too long and narrow');
  const image = new Resvg(text, { font, fitTo: { mode: 'zoom', value }, logLevel: 'off' }).render();
  const head = Buffer.alloc(8);
  head.writeUInt32LE(image.width, 0);
  head.writeUInt32LE(image.height, 4);
  process.stdout.write(head);
  process.stdout.write(image.pixels);
} catch (error) {
  console.error(String(error?.message ?? error).split('\\n')[0]);
  process.exitCode = 1;
}`;

/** resvg gives colours multiplied by alpha; the pipeline wants them straight. */
function straightAlpha(rgba: Uint8Array): Uint8Array {
  const out = new Uint8Array(rgba.length);
  for (let i = 0; i < rgba.length; i += 4) {
    const a = rgba[i + 3]!;
    out[i + 3] = a;
    if (a) for (let c = 0; c < 3; c++) out[i + c] = Math.min(255, Math.round((rgba[i + c]! * 255) / a));
  }
  return out;
}

/** Throws UserError that names the file. */
export async function decodeSvg(bytes: Uint8Array, name: string, zipped: boolean): Promise<Decoded> {
  let plain = bytes;
  if (zipped) {
    try {
      plain = gunzipSync(bytes, { maxOutputLength: 20_000_000 });
    } catch {
      throw new UserError('zipped-not-svg', { file: name });
    }
  }
  const source = textOf(plain);
  if (zipped && !/<([\w-]+:)?svg[\s>/]/.test(source)) throw new UserError('zipped-no-picture', { file: name });
  const checked = checkSvg(source, name);
  const require = createRequire(import.meta.url);
  const module = require.resolve('@resvg/resvg-js');
  const limits = { seconds: SECONDS, module, native: true };
  const resvg = pathToFileURL(module).href;
  const fonts = [require.resolve('dejavu-fonts-ttf/ttf/DejaVuSans.ttf')];
  const text = new TextEncoder().encode(checked.text.replace(/^<\?xml[^>]*\?>/, ''));
  let raw: Buffer;
  try {
    raw = await runApart(SCRIPT, [resvg, String(WORKING_SHORT), String(WORKING_LONG), ...fonts], text, limits);
  } catch (error) {
    if (error instanceof ApartError && error.reason === 'slow')
      throw new UserError('svg-takes-too-long', { file: name });
    const why = (error as Error).message.replace(/^Error: /, '').replace(/\.$/, '');
    throw new UserError('svg-cannot-be-drawn', { file: name, why });
  }
  const width = raw.readUInt32LE(0);
  const height = raw.readUInt32LE(4);
  return { width, height, rgba: straightAlpha(raw.subarray(8)), pixels: [width, height], notes: checked.notes };
}
