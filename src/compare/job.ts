// One cell of the comparison sheet: pieces that were fitted, as a block, and how it compares. Run in a worker thread.
import type { Block } from '../block.ts';
import { type Lab, labDistance, oklabOfHex } from '../colour/oklab.ts';
import type { Picture, Shading, Work } from '../data.ts';
import { measureEffort } from '../fabric/effort.ts';
import { planFabric } from '../fabric/plan-fabric.ts';
import type { FitFound } from '../fit/fit-partition.ts';
import { type BlockSettings, numberFitted } from '../pipeline.ts';

export interface CompareJob {
  readonly kind: 'compare';
  readonly picture: Pick<Picture, 'source' | 'notes'>;
  /** the picture's own cells, OKLab */
  readonly lab: Float32Array;
  readonly shading: Shading;
  readonly fitted: FitFound;
  /** that make the block again */
  readonly settings: BlockSettings;
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

export function judgeFitted({ picture, lab, shading, fitted, settings }: CompareJob): Compared {
  const { system, allowance, slack } = settings;
  const { block, misplaced } = numberFitted(fitted, shading, { ...settings, turn: false }, picture);
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
  const [sx, sy] = [block.size[0] / w, block.size[1] / h];
  let sum = 0;
  let seen = 0;
  for (const piece of block.sections.flatMap((s) => s.pieces)) {
    const P = piece.outline;
    const colour = colours.get(piece.fabric)!;
    const ys = P.map((p) => p[1]);
    for (let y = Math.max(0, Math.floor(Math.min(...ys) / sy)); y < Math.min(h, Math.ceil(Math.max(...ys) / sy)); y++) {
      const at = (y + 0.5) * sy;
      let [left, right] = [Infinity, -Infinity];
      P.forEach((a, i) => {
        const b = P[(i + 1) % P.length]!;
        if (a[1] > at === b[1] > at) return;
        const x = a[0] + ((at - a[1]) / (b[1] - a[1])) * (b[0] - a[0]);
        left = Math.min(left, x);
        right = Math.max(right, x);
      });
      for (let x = Math.max(0, Math.ceil(left / sx - 0.5)); (x + 0.5) * sx < right && x < w; x++) {
        const i = 3 * (y * w + x);
        sum += labDistance([lab[i]!, lab[i + 1]!, lab[i + 2]!], colour);
        seen++;
      }
    }
  }
  return sum / Math.max(1, seen);
}
