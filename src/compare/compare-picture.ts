// How many shades, how much detail? One picture, read once, as blocks of several numbers of shades and pieces, and which of them
// to recommend. A block chosen from here is made again by `block` with the same settings, grown through the rows above it.
import { UserError } from '../errors.ts';
import { type BlockSettings, type ReadPicture, shadeRead } from '../pipeline.ts';
import { averageCells } from '../shade/cells.ts';
import type { Answer, Pool } from '../workers/pool.ts';
import type { Compared } from './job.ts';

export interface ComparedCell extends Compared {
  /** what was asked for */
  readonly shades: number;
  readonly pieces: number;
}

export interface Comparison {
  readonly shades: readonly number[];
  readonly pieces: readonly number[];
  /** rows of pieces, columns of shades */
  readonly cells: readonly (readonly ComparedCell[])[];
  readonly recommended: { readonly row: number; readonly column: number; readonly because: string };
}

const COLUMNS = 4;
/** of the level's pieces */
const ROWS = [0.5, 0.75, 1, 1.5];
const FEWEST_SHADES = 2;
const MOST_SHADES = 12;

/** Numbers of shades about the one that the picture asks for, and of pieces about the level's, both ascending. The same on
 *  every run; what `read` has of `seen` is used. */
export async function chooseCounts(
  read: ReadPicture,
  settings: BlockSettings,
  asked: { readonly shades?: readonly number[]; readonly pieces?: readonly number[] },
): Promise<{ shades: readonly number[]; pieces: readonly number[] }> {
  const pieces = asked.pieces ?? ROWS.map((r) => Math.round(settings.pieces * r));
  if (asked.shades) return { shades: asked.shades, pieces };
  const { fabrics } = await shadeRead(read, { ...settings, shades: 'auto', focus: [] });
  const first = Math.max(FEWEST_SHADES, Math.min(fabrics.length - 1, MOST_SHADES + 1 - COLUMNS));
  return { shades: Array.from({ length: COLUMNS }, (_, i) => first + i), pieces };
}

export async function comparePicture(
  read: ReadPicture,
  settings: BlockSettings,
  counts: { readonly shades: readonly number[]; readonly pieces: readonly number[] },
  pool: Pool,
  done: (shades: number) => void,
): Promise<Comparison> {
  const { shades, pieces } = counts;
  const { picture } = read;
  const known = { source: picture.source, notes: picture.notes };
  const asked = new Map<number, Promise<Answer<Compared[]>>>();
  // shaded here, where all that it takes has run before, and handed on one by one; most shades first: they take longest
  for (const n of [...shades].reverse()) {
    const own = { ...settings, shades: n };
    const shading = await shadeRead(read, own);
    const { lab } = averageCells(picture.pixels, picture.width, picture.height, shading.width, shading.height);
    const answer = pool.ask<Compared[]>({ kind: 'compare', picture: known, lab, shading, settings: own, pieces });
    asked.set(
      n,
      answer.then((given) => {
        done(n);
        return given;
      }),
    );
  }
  const answers = await Promise.all(shades.map((n) => asked.get(n)!));
  const failed = answers.find((a) => a.error);
  if (failed) throw new UserError(failed.error!);
  const cells = pieces.map((wished, row) =>
    shades.map((n, column): ComparedCell => ({ ...answers[column]!.result![row]!, shades: n, pieces: wished })),
  );
  return { shades, pieces, cells, recommended: recommend(cells, settings.level) };
}

/** Of what can be won between the poorest and the truest cell, a cell worth sewing has this much. */
const ENOUGH = 0.7;

/** The block of fewest hours that shows most of what any of them shows. */
function recommend(cells: Comparison['cells'], level: BlockSettings['level']): Comparison['recommended'] {
  const all = cells.flatMap((row, r) => row.map((cell, c) => ({ cell, row: r, column: c })));
  const offs = all.map((a) => a.cell.off);
  const [best, worst] = [Math.min(...offs), Math.max(...offs)];
  const limit = worst - ENOUGH * (worst - best);
  const good = all.filter((a) => a.cell.off <= limit + 1e-12);
  const hours = (a: (typeof all)[number]): number => a.cell.work.hours[level];
  const chosen = good.sort((x, y) => hours(x) - hours(y) || x.cell.off - y.cell.off)[0]!;
  const truest = all.reduce((x, y) => (y.cell.off < x.cell.off ? y : x));
  const because =
    chosen === truest
      ? `it comes nearest to the picture, and takes about ${hours(chosen)} hours`
      : `it comes nearly as near to the picture as the truest one (${truest.cell.shades} shades, ${truest.cell.work.pieces} pieces) in about ${hours(chosen)} hours instead of ${hours(truest)}`;
  return { row: chosen.row, column: chosen.column, because };
}
