// Any straight-line design -> whether it can be sewn, and the block it then is; or where it cannot, and the smallest repair.
// Takes the text of a block file or of an SVG. The verdict is check/'s, whatever numbered the pieces.
import { type Block, type Fabric, readBlock } from '../block.ts';
import { checkBlock } from '../check/check-block.ts';
import { explainPieces } from '../check/explain-pieces.ts';
import { mendPieces } from '../check/repair-pieces.ts';
import type { Fault, Partition } from '../data.ts';
import { narrowNotes } from '../design/narrow-notes.ts';
import { readDesign } from '../design/read-design.ts';
import { narrowestWidth, type Segment } from '../geometry/polygon.ts';
import { bareOutlines, piecesOf } from '../section/bare-pieces.ts';
import { type BlockFacts, numberWithProof } from '../section/number-pieces.ts';
import { fabricsOf } from '../shade/make-fabrics.ts';
import type { SectionLimits } from '../tree/sections.ts';
import type { Mm } from '../units.ts';

export interface JudgeOptions {
  /** the block's name; the file's own where absent and the file has one */
  readonly name: string;
  /** finished size in mm; as drawn where absent */
  readonly size?: readonly [Mm, Mm];
  /** ends within this many mm are meant to meet */
  readonly near?: number;
  readonly repair: boolean;
  readonly limits: SectionLimits;
}

export interface Judgement {
  /** none where it can be sewn */
  readonly faults: readonly Fault[];
  /** as the file has them, or after the repair */
  readonly partition: Partition;
  readonly fabrics: readonly Fabric[];
  /** where it can be sewn: numbered, and passed by the check */
  readonly block?: Block;
  /** whether no other way to part the same pieces has fewer sections; absent where the file's own sections were kept */
  readonly fewest?: boolean;
  /** what was drawn in, or numbered anew, to make it sewable */
  readonly repairs: readonly { readonly seam?: Segment; readonly text: string }[];
  /** all lines of a drawing, those that end in nothing too */
  readonly lines: readonly Segment[];
  /** line ends that were moved to meet */
  readonly joined: number;
  readonly notes: readonly string[];
}

/** Block files begin with a brace; everything else is taken for a drawing. */
export const isBlockFile = (text: string): boolean => /^\uFEFF?\s*\{/.test(text);

/** Throws UserError for a file that is neither. */
export async function judgeFile(text: string, file: string, options: JudgeOptions): Promise<Judgement> {
  return isBlockFile(text) ? judgeBlock(readBlock(text, file), options) : judgeDrawing(text, file, options);
}

function judgeBlock(block: Block, options: JudgeOptions): Judgement {
  const partition = piecesOf(block);
  const given = { partition, fabrics: block.fabrics, lines: [], joined: 0, notes: [] };
  const { faults } = checkBlock(block);
  if (!faults.length) return { ...given, faults, block, repairs: [] };
  // Where the pieces themselves lock, that is the cause, and says where; the numbers only follow from it.
  const causes = explainPieces(bareOutlines(partition), block.size);
  if (!options.repair) return { ...given, faults: causes.length ? causes : faults, repairs: [] };
  const widths = faults.filter((f) => f.kind === 'too narrow');
  if (!causes.length && widths.length) return { ...given, faults: widths, repairs: [] };
  const mended = mendPieces(partition, causes);
  if (!mended) return { ...given, faults: causes, repairs: [] };
  const repairs = mended.repairs.length
    ? mended.repairs
    : [{ text: 'the pieces can be sewn; sections and numbers were made anew' }];
  const facts = { name: block.name, fabrics: block.fabrics, ...(block.source && { source: block.source }) };
  return { ...given, ...finish(mended.partition, facts, options.limits), repairs };
}

async function judgeDrawing(text: string, file: string, options: JudgeOptions): Promise<Judgement> {
  const design = await readDesign(text, file, options);
  const { partition, lines, joined, notes } = design;
  const fabrics = fabricsOf(design.colours);
  const carried = design.carriedOn.map((seam) => ({ seam, text: 'a line that stopped short is carried on' }));
  const left = design.leftOut.map(() => ({
    text: 'a line that ends in nothing is left out: carried on it would cut off a sliver',
  }));
  const given = { partition, fabrics, lines, joined, notes, repairs: [...carried, ...left] };
  // Islands and curves leave pieces that are no pieces yet: the drawing is mended first. Beside lines that stop short the rest is said
  // as well, so that nobody mends one fault after another.
  if (design.faults.some((f) => f.kind !== 'stops short')) return { ...given, faults: design.faults };
  const causes = explainPieces(bareOutlines(partition), partition.size);
  if (design.faults.length) return { ...given, faults: [...design.faults, ...causes] };
  if (causes.length && !options.repair) return { ...given, faults: causes };
  const mended = mendPieces(partition, causes);
  if (!mended) return { ...given, faults: causes };
  const done = finish(mended.partition, { name: options.name, fabrics }, options.limits);
  return {
    ...given,
    ...done,
    notes: [...notes, ...narrowNotes(mended.partition)],
    repairs: [...given.repairs, ...mended.repairs],
  };
}

function finish(
  partition: Partition,
  facts: Omit<BlockFacts, 'smallest'>,
  limits: SectionLimits,
): Pick<Judgement, 'faults' | 'block' | 'partition' | 'fewest'> {
  const smallest = Math.floor(narrowest(partition) * 1000) / 1000;
  const { block, fewest } = numberWithProof(partition, { ...facts, smallest }, limits);
  const { faults } = checkBlock(block, { most: limits.mostPieces });
  return faults.length ? { faults, partition } : { faults, block, partition, fewest };
}

const narrowest = (partition: Partition): number => Math.min(...partition.pieces.map((p) => narrowestWidth(p.outline)));
