// Details that got no piece -> marks to stitch or ink on the finished face: the region's own outline where there is one.
import { type Fabric, type Mark, onGrid } from '../block.ts';
import type { Landmark, Outlines } from '../data.ts';
import { areaOf, boundsOf, type Point, type Polygon } from '../geometry/polygon.ts';

/** A region this much larger than the detail is not the detail. */
const MUCH_LARGER = 3;

export function findMarks(lost: readonly Landmark[], outlines: Outlines, fabrics: readonly Fabric[]): Mark[] {
  const [w, h] = outlines.size;
  return lost.map((l): Mark => {
    const at: Point = [l.at[0] * w, l.at[1] * h];
    const area = l.area * w * h;
    const own = outlines.regions.find(
      (r) => r.fabric === l.fabric && areaOf(r.rings[0]!) < MUCH_LARGER * area && isNear(r.rings[0]!, at),
    );
    return {
      at: [onGrid(at[0]), onGrid(at[1])],
      width: onGrid(2 * Math.sqrt(area / Math.PI)),
      fabric: fabrics[l.fabric]!.id,
      ...(own && { outline: own.rings[0]!.map(([x, y]): [number, number] => [onGrid(x), onGrid(y)]) }),
    };
  });
}

const isNear = (ring: Polygon, [x, y]: Point): boolean => {
  const b = boundsOf(ring);
  return x >= b.minX && x <= b.maxX && y >= b.minY && y <= b.maxY;
};
