// The part of the picture that a block shows, small enough for a packet: a JPEG of some hundred pixels, which a PDF holds as it is.
import type { Picture } from '../data.ts';

/** pixels: at 45 mm wide that is 200 dots an inch */
const SIDE = 420;

export async function smallPicture({
  width,
  height,
  pixels,
  turned,
}: Pick<Picture, 'width' | 'height' | 'pixels'> & { readonly turned?: boolean }): Promise<{
  file: Uint8Array;
  width: number;
  height: number;
}> {
  const { default: sharp } = await import('sharp');
  const { data, info } = await sharp(pixels, { raw: { width, height, channels: 3 } })
    .flop(turned === true)
    .resize(SIDE, SIDE, { fit: 'inside', withoutEnlargement: true })
    .jpeg({ quality: 88, chromaSubsampling: '4:4:4' })
    .toBuffer({ resolveWithObject: true });
  return { file: new Uint8Array(data), width: info.width, height: info.height };
}
