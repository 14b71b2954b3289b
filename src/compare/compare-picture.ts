// How many shades, how much detail? One picture, read once, as blocks of several numbers of shades and pieces, and which of them
// to recommend. A block chosen from here is made again by `block` with the same settings, grown through the rows above it.
import type { Shading } from '../data.ts';
import type { ReadPicture } from '../pipeline/figure.ts';
import { fitOptions, grownTo } from '../pipeline/fit.ts';
import { shade } from '../pipeline/shade.ts';
import type { Settings } from '../settings/settings.ts';
import { averageCells } from '../shade/cells.ts';
import type { PoolOf } from '../threads/pool.ts';
import type { CompareJobs } from './jobs.ts';
import type { Compared } from './judge-fitted.ts';

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

/** What is to be compared, both ascending. */
export interface Counts {
  readonly shades: readonly number[];
  readonly pieces: readonly number[];
  /** a column that choosing the numbers has shaded already */
  readonly known?: { readonly shades: number; readonly shading: Shading };
}

/** Numbers of shades about the one that the picture asks for, and of pieces about the level's. The same on every run; what `read`
 *  has of `seen` is used. */
export async function chooseCounts(
  read: ReadPicture,
  settings: Settings,
  asked: { readonly shades?: readonly number[]; readonly pieces?: readonly number[] },
): Promise<Counts> {
  const pieces = asked.pieces ?? ROWS.map((r) => Math.round(settings.pieces * r));
  if (asked.shades) return { shades: asked.shades, pieces };
  const { kind, choices, ...shading } = await shade(read, {
    ...settings,
    shades: 'auto',
    pieces: pieces[0]!,
    grow: [],
  });
  const first = Math.max(FEWEST_SHADES, Math.min(shading.fabrics.length - 1, MOST_SHADES + 1 - COLUMNS));
  const shades = Array.from({ length: COLUMNS }, (_, i) => first + i);
  // a photo whose ground is kept is shaded as it is where the suggested number is asked for; other ways know how many may come
  const { suggested } = choices.shades;
  const same = kind.kind === 'photo' && read.background === 'keep' && !read.face?.shapes.length && suggested;
  return { shades, pieces, ...(same && { known: { shades: same, shading } }) };
}

export interface ComparisonProgress {
  /** a column is done */
  done(shades: number): void;
  /** all that is left is with the pool: the program's own thread is free until the end */
  handedOn?(): void;
}

export async function comparePicture(
  read: ReadPicture,
  settings: Settings,
  { shades, pieces, known: shaded }: Counts,
  pool: PoolOf<CompareJobs>,
  says: ComparisonProgress,
): Promise<Comparison> {
  const { picture } = read;
  const known = { source: picture.source, notes: picture.notes };
  const column = async (shading: Shading, own: Settings): Promise<Compared[]> => {
    const { lab } = averageCells(picture.pixels, picture.width, picture.height, shading.width, shading.height);
    const fits = await pool.ask('fitPieces', { shading, options: fitOptions(own), counts: pieces }).answer;
    const judged = fits.map((fitted, i) => {
      const cell = { picture: known, lab, shading, fitted, settings: grownTo(own, pieces, i) };
      return pool.ask('judgeFitted', cell).answer;
    });
    return Promise.all(judged);
  };
  const asked = new Map<number, Promise<Compared[]>>();
  // shaded here, where all that it takes has run before, and handed on one by one; most shades first: they take longest
  const order = [...shades].reverse();
  if (shaded) order.sort((a, b) => Number(b === shaded.shades) - Number(a === shaded.shades));
  for (const n of order) {
    // all rows are grown from the first: so are their shades
    const own = { ...settings, shades: n, pieces: pieces[0]!, grow: [] };
    const shading = n === shaded?.shades ? shaded.shading : await shade(read, own);
    const made = column(shading, own).then((cells) => {
      says.done(n);
      return cells;
    });
    // what it throws while another is being shaded is thrown below
    made.catch(() => {});
    asked.set(n, made);
  }
  says.handedOn?.();
  const columns = await Promise.all(shades.map((n) => asked.get(n)!));
  const cells = pieces.map((wished, row) =>
    shades.map((n, column): ComparedCell => ({ ...columns[column]![row]!, shades: n, pieces: wished })),
  );
  return { shades, pieces, cells, recommended: recommend(cells, settings.level) };
}

/** Of what can be won between the poorest and the truest cell, a cell worth sewing has this much. */
const ENOUGH = 0.7;

/** The block of fewest hours that shows most of what any of them shows. */
function recommend(cells: Comparison['cells'], level: Settings['level']): Comparison['recommended'] {
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
