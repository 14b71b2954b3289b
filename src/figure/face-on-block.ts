// A face as the block shows it: what is drawn of it, and where the head is.
import type { FaceOnBlock, Figure } from '../data.ts';
import { type FaceDrawn, onBlock, type ShownPart } from './draw-face.ts';

/** `shown`: the part of the picture that the block shows. */
export function faceOnBlock({ head }: Figure, { shapes, axis }: FaceDrawn, shown: ShownPart): FaceOnBlock {
  const drawn = { shapes, ...(axis !== undefined && { axis }) };
  if (!head) return drawn;
  const { crop, pixels } = shown;
  const [x, y, w, h] = head.box;
  const [u, v] = onBlock(shown, (x + w / 2) * pixels[0], (y + h / 2) * pixels[1]);
  const [width, height] = [(w * pixels[0]) / crop[2], (h * pixels[1]) / crop[3]];
  return { ...drawn, head: [u - width / 2, v - height / 2, width, height] };
}
