// Where the pointer is on the block, mm.
import type { Point } from '../../../geometry/polygon.ts';

export function placeOn(svg: SVGSVGElement, e: { readonly clientX: number; readonly clientY: number }): Point {
  const m = svg.getScreenCTM()!.inverse();
  const q = new DOMPoint(e.clientX, e.clientY).matrixTransform(m);
  return [q.x, q.y];
}
