// Small pictures of a work that are made in passing: its face, its shades in their colours.
import type { Block } from '../../block.ts';

export async function faceOf(block: Block): Promise<string> {
  const [{ writeSvg }, { drawPreview }] = await Promise.all([
    import('../../drawing/svg.ts'),
    import('../../packet/block-picture.ts'),
  ]);
  return writeSvg(drawPreview(block));
}

/** The grid of fabrics in their colours, a pixel a cell. */
export async function shadesOf(regions: Uint8Array, block: Block): Promise<Uint8Array> {
  const { default: sharp } = await import('sharp');
  const { data, info } = await sharp(regions).toColourspace('b-w').raw().toBuffer({ resolveWithObject: true });
  const { width, height, channels } = info;
  const colours = block.fabrics.map((f) => [1, 3, 5].map((i) => Number.parseInt(f.colour.slice(i, i + 2), 16)));
  const rgb = new Uint8Array(3 * width * height);
  for (let i = 0; i < width * height; i++) rgb.set(colours[data[i * channels]!] ?? [255, 255, 255], 3 * i);
  return new Uint8Array(
    await sharp(rgb, { raw: { width, height, channels: 3 } })
      .png()
      .toBuffer(),
  );
}
