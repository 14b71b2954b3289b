// Pictures against those that are kept: a few pixels may differ, for letters are drawn a little otherwise from machine to machine.
// A mismatch writes NAME-changed.png beside the golden; look at it and, where it is right, give it the golden's name.
import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename } from 'node:path';
import pixelmatch from 'pixelmatch';
import sharp from 'sharp';

async function pixels(png: Uint8Array) {
  const { data, info } = await sharp(png).ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
}

export const changedName = (golden: string): string => golden.replace(/(\.\w+)$/, '-changed$1');

/** Gives what is wrong, or nothing. `mayDiffer`: share of the pixels. */
export async function unlikeGolden(golden: string, png: Uint8Array, mayDiffer: number): Promise<string | undefined> {
  const [name, changed] = [basename(golden), changedName(golden)];
  const small = await sharp(png).png({ palette: true, colours: 64, effort: 10 }).toBuffer();
  if (!existsSync(golden)) {
    writeFileSync(changed, small);
    return `there is no ${name} yet; look at ${basename(changed)}`;
  }
  const [a, b] = [await pixels(readFileSync(golden)), await pixels(small)];
  const same = a.width === b.width && a.height === b.height;
  const share = same
    ? pixelmatch(a.data, b.data, undefined, a.width, a.height, { threshold: 0.15 }) / (a.width * a.height)
    : 1;
  if (share <= mayDiffer) {
    rmSync(changed, { force: true });
    return undefined;
  }
  writeFileSync(changed, small);
  return same
    ? `${(share * 100).toFixed(1)} % of ${name} differ; look at ${basename(changed)}`
    : `${name} is ${a.width} x ${a.height} pixels and would be ${b.width} x ${b.height}`;
}
