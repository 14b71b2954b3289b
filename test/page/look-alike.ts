// Pictures of the page against those that are kept: a few pixels may differ, for letters are drawn a little otherwise from machine
// to machine. A mismatch writes NAME-changed.png beside the golden; look at it and, where it is right, give it the golden's name.
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import pixelmatch from 'pixelmatch';
import sharp from 'sharp';

const FOLDER = join(import.meta.dirname, 'pictures');
/** share of the pixels that may differ */
const MAY_DIFFER = 0.01;

async function pixels(png: Uint8Array) {
  const { data, info } = await sharp(png).ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
}

/** Gives what is wrong, or nothing. */
export async function unlikeGolden(name: string, png: Uint8Array): Promise<string | undefined> {
  const golden = join(FOLDER, `${name}.png`);
  const changed = join(FOLDER, `${name}-changed.png`);
  const small = await sharp(png).png({ palette: true, colours: 64, effort: 10 }).toBuffer();
  if (!existsSync(golden)) {
    writeFileSync(changed, small);
    return `there is no golden ${name}.png yet; look at ${name}-changed.png`;
  }
  const [a, b] = [await pixels(readFileSync(golden)), await pixels(small)];
  const same = a.width === b.width && a.height === b.height;
  const share = same
    ? pixelmatch(a.data, b.data, undefined, a.width, a.height, { threshold: 0.15 }) / (a.width * a.height)
    : 1;
  if (share <= MAY_DIFFER) {
    rmSync(changed, { force: true });
    return undefined;
  }
  writeFileSync(changed, small);
  return same
    ? `${(share * 100).toFixed(1)} % of ${name}.png differ; look at ${name}-changed.png`
    : `${name} is ${b.width} x ${b.height} pixels and was ${a.width} x ${a.height}`;
}
