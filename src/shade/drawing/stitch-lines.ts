// Takes the middle lines of strokes and the finished regions; gives the strokes that no border and no piece shows, as lines to stitch
// or ink on the finished block.
import type { Point } from '../../geometry/polygon.ts';
import { simplifyByDistance } from '../../geometry/simplify-line.ts';
import type { Stroke } from './thin-strokes.ts';

/** A line shorter than this share of the block is not worth a needle. */
const SHORTEST = 0.03;
/** How far a line may stray from its stroke when points are dropped, in cells of the mask. */
const STRAY = 0.8;
/** Most lines: more are a texture. */
const MOST = 40;

/** `shown` says of a cell of the mask whether the block shows the stroke there: at a border of regions, in a piece of ink, in an eye.
 *  Points are shares of the mask's width and height. */
export function findStitchLines(
  strokes: readonly Stroke[],
  w: number,
  h: number,
  shown: (x: number, y: number) => boolean,
): Point[][] {
  const lines: { line: Point[]; length: number }[] = [];
  const shortest = SHORTEST * Math.max(w, h);
  for (const { cells } of strokes) {
    let run: number[] = [];
    const end = (): void => {
      if (run.length >= shortest) {
        const line = simplifyByDistance(
          run.map((i): Point => [i % w, Math.floor(i / w)]),
          STRAY,
        );
        lines.push({ line: line.map(([x, y]) => [(x + 0.5) / w, (y + 0.5) / h]), length: run.length });
      }
      run = [];
    };
    for (const i of cells) {
      if (shown(i % w, Math.floor(i / w))) end();
      else run.push(i);
    }
    end();
  }
  return lines
    .sort((a, b) => b.length - a.length)
    .slice(0, MOST)
    .map((l) => l.line);
}
