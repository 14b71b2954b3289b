// One cell of the comparison sheet: pieces that were fitted, as a block, and how it compares. Run in a worker thread.
import type { Block } from '../block.ts';
import { type Lab, labDistance, oklabOfHex } from '../colour/oklab.ts';
import type { Picture, Shading, Work } from '../data.ts';
import { measureEffort } from '../fabric/effort.ts';
import { planFabric } from '../fabric/plan-fabric.ts';
import type { FitFound } from '../fit/fit-partition.ts';
import { pieceOfCells } from '../geometry/cells.ts';
import { numberBlock } from '../pipeline/number.ts';
import type { Settings } from '../settings/settings.ts';

export interface FittedCell {
  readonly picture: Pick<Picture, 'source' | 'notes'>;
  /** the picture's own cells, OKLab */
  readonly lab: Float32Array;
  readonly shading: Shading;
  readonly fitted: FitFound;
  /** that make the block again */
  readonly settings: Settings;
}

export interface Compared {
  readonly block: Block;
  /** share of the face that differs from the posterised picture */
  readonly misplaced: number;
  /** mean OKLab distance of the face from the picture itself: what compares blocks of unlike numbers of shades */
  readonly off: number;
  readonly work: Work;
  /** "5 fat eighths and 1 fat quarter" */
  readonly buy: string;
}

export function judgeFitted({ picture, lab, shading, fitted, settings }: FittedCell): Compared {
  const { units: system, allowance, slack } = settings;
  const { block, misplaced } = numberBlock(fitted, shading, { ...settings, turn: false }, picture);
  return {
    ...{ block, misplaced },
    off: distanceFrom(lab, block, shading.width, shading.height),
    work: measureEffort(block),
    buy: planFabric([{ block }], { system, allowance, slack }).buy ?? '',
  };
}

/** Every cell's middle against the piece that it lies in. */
function distanceFrom(lab: Float32Array, block: Block, w: number, h: number): number {
  const colours = new Map(block.fabrics.map((f): [string, Lab] => [f.id, oklabOfHex(f.colour)]));
  const pieces = block.sections.flatMap((s) => s.pieces);
  const outlines = pieces.map((p) => p.outline);
  let sum = 0;
  let seen = 0;
  pieceOfCells(outlines, w, h, block.size).forEach((piece, i) => {
    if (piece < 0) return;
    sum += labDistance([lab[3 * i]!, lab[3 * i + 1]!, lab[3 * i + 2]!], colours.get(pieces[piece]!.fabric)!);
    seen++;
  });
  return sum / Math.max(1, seen);
}
