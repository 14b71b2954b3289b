// The part of the block that is drawn: all of it, or nearer where a piece is divided or a seam moved, so that a finger finds it.
import type { Block } from '../../../block.ts';
import { boundsOf, type Point } from '../../../geometry/polygon.ts';
import { seamOf } from '../hand/seam-of.ts';
import { factsOf } from '../store/facts.ts';
import type { State } from '../store/state.ts';

export interface PartShown {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** mm about the block, for its outermost line */
const RIM = 0.6;
/** room about what is worked at, as a share of its size on each side */
const ROOM = 0.6;
/** never nearer than this share of the block's width */
const NEAREST = 0.22;

export function partShown(block: Block, { tool, picked, seam }: Pick<State, 'tool' | 'picked' | 'seam'>): PartShown {
  const [w, h] = block.size;
  const whole: PartShown = { x: -RIM, y: -RIM, width: w + 2 * RIM, height: h + 2 * RIM };
  const points = workedAt(block, tool, picked.at(-1), seam);
  if (!points) return whole;
  const b = boundsOf(points);
  const size = Math.max((b.maxX - b.minX) / w, (b.maxY - b.minY) / h) * (1 + 2 * ROOM);
  const share = Math.min(1, Math.max(NEAREST, size));
  if (share === 1) return whole;
  const [width, height] = [w * share, h * share];
  const within = (v: number, most: number): number => Math.max(-RIM, Math.min(most + RIM, v));
  return {
    x: within((b.minX + b.maxX - width) / 2, w - width),
    y: within((b.minY + b.maxY - height) / 2, h - height),
    width,
    height,
  };
}

function workedAt(
  block: Block,
  tool: State['tool'],
  picked: string | undefined,
  seam: string | undefined,
): readonly Point[] | undefined {
  if (tool === 'divide') return factsOf(block).find((f) => f.name === picked)?.piece.outline;
  if (tool === 'move' && seam !== undefined) return seamOf(block, seam)?.seam;
  return undefined;
}
