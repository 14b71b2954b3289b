// Ears as they are to stand on the block: triangles with sharp tips, and the line of the forehead between them. Takes tips, gives shares of
// the block.
import type { EarsOnBlock, Figure } from '../data.ts';
import type { Point } from '../geometry/polygon.ts';
import { onBlock, type ShownPart } from './draw-face.ts';

/** Where an ear's sides meet the head, as shares of the way from the eyes' middle to its tip, across and up (read off the photos of two
 *  cats, an orange one and a tabby). */
const INNER = { across: 0.47, up: 0.64 };
const OUTER = { across: 0.82, up: 0.34 };
/** The forehead's middle stands so much higher than the ears' inner sides, as a share of that way. */
const DOME = 0.03;

/** `axis` as a share of the block's width where the face is drawn alike on both sides. */
export function drawEars(
  { face, ears: tips = [] }: Pick<Figure, 'face' | 'ears'>,
  shown: ShownPart,
  [W, H]: readonly [number, number],
  axis?: number,
): EarsOnBlock {
  if (!face || !tips.length) return { ears: [] };
  const [mu, mv] = onBlock(shown, face.x * shown.pixels[0], face.y * shown.pixels[1]);
  const rest = ((face.tilt - (shown.turn ?? 0)) * Math.PI) / 180;
  const [c, s] = axis === undefined ? [Math.cos(rest), Math.sin(rest)] : [1, 0];
  const middle: Point = [(axis ?? mu) * W, mv * H];
  // across and down the face, mm
  let ways = tips.map((t): Point => {
    const [u, v] = onBlock(shown, t.x * shown.pixels[0], t.y * shown.pixels[1]);
    const [dx, dy] = [u * W - middle[0], v * H - middle[1]];
    return [dx * c + dy * s, dy * c - dx * s];
  });
  const [a, b] = ways;
  const both = a && b && a[0] < 0 && b[0] > 0;
  if (axis !== undefined && both) {
    const [x, y] = [(b[0] - a[0]) / 2, (a[1] + b[1]) / 2];
    ways = [
      [-x, y],
      [x, y],
    ];
  }
  const at = (x: number, y: number): Point => [(middle[0] + x * c - y * s) / W, (middle[1] + x * s + y * c) / H];
  const ears = ways.map(([x, y]) => ({
    tip: at(x, y),
    inner: at(INNER.across * x, INNER.up * y),
    outer: at(OUTER.across * x, OUTER.up * y),
  }));
  if (!both) return { ears };
  const brow = ((INNER.up + DOME) * (ways[0]![1] + ways[1]![1])) / 2;
  return { ears, between: [ears[0]!.tip, ears[0]!.inner, at(0, brow), ears[1]!.inner, ears[1]!.tip] };
}
