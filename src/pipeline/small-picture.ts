// The part of the picture that a block shows, small enough for a packet: a PNG of some hundred pixels.
import type { Picture } from '../data.ts';

/** pixels: at 45 mm wide that is 200 dots an inch */
const SIDE = 360;

export async function smallPicture({
  width,
  height,
  pixels,
  turned,
}: Pick<Picture, 'width' | 'height' | 'pixels'> & { readonly turned?: boolean }): Promise<{
  png: Uint8Array;
  width: number;
  height: number;
}> {
  const { default: sharp } = await import('sharp');
  const { data, info } = await sharp(pixels, { raw: { width, height, channels: 3 } })
    .flop(turned === true)
    .resize(SIDE, SIDE, { fit: 'inside', withoutEnlargement: true })
    .png({ compressionLevel: 9, palette: false })
    .toBuffer({ resolveWithObject: true });
  return { png: new Uint8Array(data), width: info.width, height: info.height };
}
