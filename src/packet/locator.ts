// The block in small with one section black, always as the finished block is seen: from the front.
import type { Block } from '../block.ts';
import { type Item, polygon } from '../drawing/drawing.ts';
import { scaled, sizeWithin } from './block-picture.ts';

/** Drawn about its upper left corner, within a square; gives its height. */
export function locatorMap(block: Block, id: string, side: number): { items: Item[]; width: number; height: number } {
  const { scale, width, height } = sizeWithin(block.size, side, side);
  const items = block.sections.map((s) =>
    polygon('map', scaled(s.outline, scale), {
      stroke: { width: 0.12 },
      ...(s.id === id ? { fill: '#000000' } : {}),
    }),
  );
  return { items, width, height };
}
