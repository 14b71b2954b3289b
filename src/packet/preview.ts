// The finished block's face as a PNG file.
import type { Block } from '../block.ts';
import { writePng } from '../drawing/png.ts';
import { drawPreview } from './block-picture.ts';

/** dots an inch */
const DPI = 100;

export const previewOf = (block: Block): Uint8Array => writePng(drawPreview(block), DPI);
