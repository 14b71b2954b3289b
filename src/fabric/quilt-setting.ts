// The blocks of a quilt and what lies between them: straight in rows and columns, or on point. Takes what was asked for in mm,
// gives the finished size within the borders, the number of blocks, and every cut.
import type { QuiltCut } from '../data.ts';
import { UserError } from '../problems/problem.ts';
import { onPointTriangles } from './quilt.ts';
import type { QuiltOptions } from './quilt-plan.ts';
import { stripsFor } from './yardage.ts';

interface Inner {
  readonly size: readonly [number, number];
  readonly blocks: number;
  readonly cuts: readonly QuiltCut[];
}

export function straight(o: QuiltOptions, allowance: number, usable: number): Inner {
  const { block, rows, columns, sashing = 0, sashingAround = false, cornerstones = false } = o;
  const lines = (n: number): number => (sashing ? n - 1 + (sashingAround ? 2 : 0) : 0);
  const [across, down] = [lines(columns), lines(rows)];
  const size = [columns * block[0] + across * sashing, rows * block[1] + down * sashing] as const;
  const cuts: QuiltCut[] = [];
  if (across)
    cuts.push(
      fromStrips('sashing between blocks, upright', 'sashing', across * rows, sashing, block[1], allowance, usable),
    );
  if (down && cornerstones) {
    cuts.push(
      fromStrips('sashing between blocks, level', 'sashing', down * columns, sashing, block[0], allowance, usable),
    );
    if (across)
      cuts.push(fromStrips('cornerstones', 'cornerstones', across * down, sashing, sashing, allowance, usable));
  } else if (down) cuts.push(lengthwise('sashing between rows', 'sashing', down, sashing, size[0], allowance, usable));
  return { size, blocks: rows * columns, cuts };
}

/** Blocks on their corners, the full rows and the shorter ones between them. Sashing then frames every block, and the edge of the
 *  quilt runs through the middle of the outermost crossings; so the triangles are those of the block without sashing. */
export function onPoint(o: QuiltOptions, allowance: number, usable: number): Inner {
  const { block, rows, columns, sashing = 0, cornerstones = false } = o;
  if (Math.abs(block[0] - block[1]) > 0.01) throw new UserError('not-square-on-point', {}, 2);
  const pitch = (block[0] + sashing) * Math.SQRT2;
  const { side, corner } = onPointTriangles(block[0]);
  const sides = 2 * (rows - 1) + 2 * (columns - 1);
  // The squares have their allowance already: four side triangles from one, two corner triangles from one.
  const square = (what: string, count: number, size: number): QuiltCut =>
    fromStrips(what, 'setting triangles', count, size - 2 * allowance, size - 2 * allowance, allowance, usable);
  const cuts: QuiltCut[] = [];
  if (sashing) {
    const lattice = frameOnPoint(rows, columns);
    const short = (count: number): QuiltCut =>
      fromStrips('sashing between blocks', 'sashing', count, sashing, block[0], allowance, usable);
    if (cornerstones) {
      cuts.push(short(lattice.across.length + lattice.along.length));
      cuts.push(fromStrips('cornerstones', 'cornerstones', lattice.crossings, sashing, sashing, allowance, usable));
    } else {
      cuts.push(short(lattice.across.length));
      const rowsOf = new Map<number, number>();
      for (const line of lattice.along) rowsOf.set(line, (rowsOf.get(line) ?? 0) + 1);
      for (const k of [...new Set(rowsOf.values())].sort((x, y) => y - x)) {
        const count = [...rowsOf.values()].filter((v) => v === k).length;
        const length = k * block[0] + (k + 1) * sashing;
        const what = `sashing between diagonal rows, ${k} ${k === 1 ? 'block' : 'blocks'} long`;
        cuts.push(lengthwise(what, 'sashing', count, sashing, length, allowance, usable));
      }
    }
  }
  if (sides) cuts.push(square('squares for side triangles, cut twice across', Math.ceil(sides / 4), side));
  cuts.push(square('squares for corner triangles, cut once across', 2, corner));
  return {
    size: [columns * pitch, rows * pitch],
    blocks: rows * columns + (rows - 1) * (columns - 1),
    cuts,
  };
}

/** The strips that frame blocks on point, in coordinates along the two diagonals: for each strip the line it lies on. */
function frameOnPoint(rows: number, columns: number): { along: number[]; across: number[]; crossings: number } {
  const [along, across, crossings] = [new Map<string, number>(), new Map<string, number>(), new Set<string>()];
  const block = (a: number, b: number): void => {
    for (const i of [0, 1]) {
      along.set(`${a} ${b + i}`, b + i);
      across.set(`${a + i} ${b}`, a + i);
      for (const k of [0, 1]) crossings.add(`${a + i} ${b + k}`);
    }
  };
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < columns; c++) {
      block(r + c, r - c);
      if (r < rows - 1 && c < columns - 1) block(r + c + 1, r - c);
    }
  return { along: [...along.values()], across: [...across.values()], crossings: crossings.size };
}

/** Long pieces along the selvage, as many beside each other as the cloth is wide. */
export function lengthwise(
  what: string,
  from: string,
  count: number,
  width: number,
  length: number,
  allowance: number,
  usable: number,
): QuiltCut {
  const [w, l] = [width + 2 * allowance, length + 2 * allowance];
  const beside = Math.floor(usable / w + 1e-6);
  if (!beside) throw new UserError('wider-than-cloth', { what }, 2);
  return { what, from, count, width: w, length: l, way: 'lengthwise', cloth: Math.ceil(count / beside) * l };
}

/** Short pieces cut from strips across the cloth; lengthwise where one is longer than the cloth is wide. */
function fromStrips(
  what: string,
  from: string,
  count: number,
  width: number,
  length: number,
  allowance: number,
  usable: number,
): QuiltCut {
  const [w, l] = [width + 2 * allowance, length + 2 * allowance];
  if (l > usable) return lengthwise(what, from, count, width, length, allowance, usable);
  return { what, from, count, width: w, length: l, way: 'across', cloth: stripsFor(count, l, usable).strips * w };
}
