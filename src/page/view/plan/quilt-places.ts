// Where the blocks of a quilt lie, from the settings alone: for its picture.
import type { PlanAsked } from '../../api.ts';

export type Quilt = NonNullable<PlanAsked['quilt']>;

export interface QuiltLayout {
  /** of the top, mm */
  readonly width: number;
  readonly height: number;
  /** middles of the blocks, row by row */
  readonly places: readonly { readonly x: number; readonly y: number }[];
  /** inside the borders */
  readonly inner: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
}

/** `block`: finished width and height. As src/fabric plans it; the yardage itself comes from there. */
export function quiltLayout(q: Quilt, [w, h]: readonly [number, number]): QuiltLayout {
  const rim = q.borders.reduce((t, b) => t + b, 0);
  const around = q.sashingAround ? q.sashing : 0;
  const places: { x: number; y: number }[] = [];
  let [width, height] = [0, 0];
  if (q.setting === 'straight') {
    const [across, down] = [w + q.sashing, h + q.sashing];
    width = q.columns * across - q.sashing + 2 * around;
    height = q.rows * down - q.sashing + 2 * around;
    for (let r = 0; r < q.rows; r++)
      for (let c = 0; c < q.columns; c++) places.push({ x: around + c * across + w / 2, y: around + r * down + h / 2 });
  } else {
    // blocks on their corners; between four of them lies one more
    const step = (w + q.sashing) * Math.SQRT2;
    const edge = (around || q.sashing) * Math.SQRT2 * (q.sashing ? 0.5 : 0);
    width = q.columns * step + 2 * edge;
    height = q.rows * step + 2 * edge;
    for (let r = 0; r < 2 * q.rows - 1; r++)
      for (let c = 0; c < q.columns - (r % 2); c++)
        places.push({ x: edge + (c + 0.5 + (r % 2) / 2) * step, y: edge + ((r + 1) / 2) * step });
  }
  return {
    ...{ width: width + 2 * rim, height: height + 2 * rim },
    places: places.map((p) => ({ x: p.x + rim, y: p.y + rim })),
    inner: { x: rim, y: rim, width, height },
  };
}

/** The blocks dealt out in turn, as the yardage counts them. */
export const dealt = (places: number, blocks: number): number[] => Array.from({ length: places }, (_, i) => i % blocks);
