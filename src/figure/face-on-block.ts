// A face as the block shows it: what is drawn of it, and where the head is.
import type { FaceOnBlock, Figure } from '../data.ts';
import { drawEars } from './draw-ears.ts';
import { type FaceDrawn, onBlock, type ShownPart } from './draw-face.ts';

/** `shown`: the part of the picture that the block shows; `size`: the block's width and height, mm. */
export function faceOnBlock(
  figure: Figure,
  { shapes, axis }: FaceDrawn,
  shown: ShownPart,
  size: readonly [number, number],
): FaceOnBlock {
  const { head } = figure;
  const drawn = { shapes, ...(axis !== undefined && { axis }) };
  if (!head) return drawn;
  const { crop, pixels } = shown;
  const [x, y, w, h] = head.box;
  const [u, v] = onBlock(shown, (x + w / 2) * pixels[0], (y + h / 2) * pixels[1]);
  const [width, height] = [(w * pixels[0]) / crop[2], (h * pixels[1]) / crop[3]];
  const ears = drawEars(figure, shown, size, axis);
  return { ...drawn, ...(ears.ears.length > 0 && { ears }), head: [u - width / 2, v - height / 2, width, height] };
}
