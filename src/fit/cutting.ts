// The cutting tree as the rest of the fit sees it. The tree itself, and all that is done to it hundreds of thousands of times, lives
// in engine/, which is compiled to WebAssembly; this hands the picture over and asks for the steps. Lengths in mm.
import { readFileSync } from 'node:fs';
import type { Borders } from './borders.ts';
import type { FitLimits, FitPrices } from './limits.ts';

/** The weight of a cell that matters as any other does; the engine counts in it. */
export const UNIT_WEIGHT = 2;
/** pieces that the engine has room for */
const MOST_PIECES = 2000;
/** moves between two reports */
const STRETCH = 8192;

/** What the engine exports (engine/engine.ts); addresses are bytes in its memory. */
interface Engine {
  readonly memory: WebAssembly.Memory;
  room(bytes: number): number;
  setLimits(...inOrder: number[]): void;
  setPrices(...inOrder: number[]): void;
  setGround(fabric: number): void;
  setMirror(axis: number, trim: number, scale: number): void;
  setBorders(count: number, ...addresses: number[]): void;
  addFeature(): number;
  addFeatureCorner(x: number, y: number): void;
  seedCut(...inOrder: number[]): number;
  unseed(piece: number): number;
  startCutting(...inOrder: number[]): number;
  reprice(): number;
  growCuts(pieces: number): void;
  startAnneal(...inOrder: number[]): void;
  annealOn(moves: number): number;
  mendJoins(): void;
  total(): number;
  sectionPrice(): number;
  pieceCount(): number;
  sectionCount(): number;
  listNodes(): number;
  nodeAt(i: number): number;
  isLeaf(v: number): number;
  cornerCount(v: number): number;
  cornersAt(v: number): number;
  fabricOf(v: number): number;
  weighPiece(v: number, fabric: number): number;
  missCount(v: number): number;
  tryWithout(v: number): number;
}

export interface CuttingInput {
  /** fabric of each cell, and its weight: whole numbers >= 1 */
  readonly labels: Uint8Array;
  readonly weights: Uint16Array;
  readonly width: number;
  readonly height: number;
  readonly fabrics: number;
  /** mm that the grid covers */
  readonly size: readonly [number, number];
  readonly borders: Borders;
  /** 1 for the cells that lie in the face, where edges may be shorter */
  readonly face?: Uint8Array | undefined;
  readonly limits: FitLimits;
  readonly prices: FitPrices;
  readonly seed: number;
  /** the ground's fabric */
  readonly ground?: number | undefined;
  /** what is handed in is the left half of a mirrored block: see mirror.ts */
  readonly mirror?: Half | undefined;
}

/** The half of a mirrored block that is cut. */
export interface Half {
  /** its width, mm: the axis is its right edge, which may run through the middle of a column that is not in the grid */
  readonly axis: number;
  /** what lies left of this has no mirror image within the block, mm */
  readonly trim: number;
  /** cells a mm across */
  readonly scale: number;
}

export interface AnnealPlan {
  /** pieces at most */
  readonly pieces: number;
  /** share of them that are wished for at the beginning; 1 where absent */
  readonly firstShare?: number;
  /** share of impurity in what a piece costs, at the beginning; 0 where absent */
  readonly impurity?: number;
  readonly moves: number;
  /** sections wished for, and between what their price may move to get there, in cells */
  readonly sections: number;
  readonly sectionPrice: readonly [least: number, most: number];
  /** temperatures at the beginning and the end, in cells */
  readonly hot: number;
  readonly cold: number;
}

export interface CutPiece {
  readonly node: number;
  readonly outline: [number, number][];
  readonly fabric: number;
}

export class Cutting {
  private readonly engine: Engine;

  /** The whole block as one piece. */
  constructor(input: CuttingInput) {
    const { labels, weights, width, height, fabrics, size, borders, face, seed } = input;
    this.engine = new WebAssembly.Instance(engineCode(), {}).exports as unknown as Engine;
    this.setLimits(input.limits);
    this.setPrices(input.prices);
    const { axis, trim, scale } = input.mirror ?? { axis: 0, trim: 0, scale: 0 };
    this.engine.setGround(input.ground ?? -1);
    this.engine.setMirror(axis, trim, scale);
    const { x, y, first, past, closed } = borders;
    this.engine.setBorders(borders.count, ...[x, y, first, past, closed].map((row) => this.put(row)));
    const failed = this.engine.startCutting(
      ...[this.put(labels), this.put(weights), face ? this.put(face) : 0],
      ...[width, height, fabrics, ...size, seed],
    );
    if (failed === 1) throw new Error('the weights of the cells sum to more than the fit can hold');
    if (failed === 2) throw new Error('the block itself is no piece that can be sewn');
  }

  private put(row: Uint8Array | Uint16Array | Int32Array | Float64Array): number {
    const at = this.engine.room(row.byteLength);
    new Uint8Array(this.engine.memory.buffer).set(new Uint8Array(row.buffer, row.byteOffset, row.byteLength), at);
    return at;
  }

  setLimits(l: FitLimits): void {
    this.engine.setLimits(
      ...[l.smallest, l.shortestEdge, l.shortestFaceEdge, l.shortestOuterEdge, l.leastOuterSine, l.leastCornerCosine],
      ...[l.mostStretch, l.mostPieces, l.paper[0] - 2 * l.allowance, l.paper[1] - 2 * l.allowance],
      ...[l.nearMiss, l.matchWithin, l.pointsApart, l.sectionStretch, l.sharpCosine, l.longStretch],
    );
  }

  /** All costs are worked out afresh by `reprice`. */
  setPrices(p: FitPrices): void {
    this.engine.setPrices(
      ...[
        p.section,
        p.smallSection,
        p.longSection,
        p.sharpCorner,
        p.longPiece,
        p.nearMiss,
        p.match,
        p.offPaper,
        p.ground,
        p.bleed,
      ],
    );
  }

  /** From now on no cut may cross this convex outline (mm). */
  protect(outline: readonly (readonly [number, number])[]): void {
    if (!this.engine.addFeature()) throw new Error('more features than the fit has room for');
    for (const [x, y] of outline) this.engine.addFeatureCorner(x, y);
  }

  /** Cuts the piece at a place by the line nx·x + ny·y = d. Along an edge of a protected outline, or `inside` one, the cut stays for good.
   *  The piece that came off, or -1 where that cannot be sewn. */
  seed(
    [x, y]: readonly [number, number],
    { nx, ny, d, edge }: { nx: number; ny: number; d: number; edge?: readonly number[] },
    inside = false,
  ): number {
    return this.engine.seedCut(x, y, nx, ny, d, inside ? 2 : edge ? 1 : 0, edge?.[2] ?? 0, edge?.[3] ?? 0) - 1;
  }

  /** Takes the last such cut back. */
  unseed(piece: number): void {
    if (!this.engine.unseed(piece)) throw new Error('a cut that was made cannot be taken back');
  }

  /** All costs from scratch, the slow and obvious way: for tests, and after prices or limits changed. */
  reprice(): void {
    if (!this.engine.reprice()) throw new Error('a piece of the partition cannot be sewn');
  }

  /** Cuts what is there into so many pieces at most, best cuts first. */
  grow(pieces: number): void {
    if (pieces > MOST_PIECES) throw new Error(`${pieces} pieces are more than the fit has room for (${MOST_PIECES})`);
    this.engine.growCuts(pieces);
  }

  anneal(plan: AnnealPlan, report?: (done: number) => void): void {
    const { pieces, firstShare = 1, impurity = 0, moves, hot, cold, sections, sectionPrice } = plan;
    this.engine.startAnneal(pieces, firstShare, impurity, moves, hot, cold, sections, ...sectionPrice);
    for (let left = plan.moves; left > 0; ) {
      left = this.engine.annealOn(STRETCH);
      report?.(1 - left / plan.moves);
    }
  }

  /** Seam ends that nearly meet across a join are made to meet, or parted, where that lowers the cost at the prices that hold. */
  mendJoins(): void {
    this.engine.mendJoins();
  }

  /** What the fit makes small: wrong weight, prices of pieces, sections and joins; UNIT_WEIGHT a cell. */
  get total(): number {
    return this.engine.total();
  }
  /** cells */
  get sectionPrice(): number {
    return this.engine.sectionPrice();
  }
  get pieceCount(): number {
    return this.engine.pieceCount();
  }
  /** The fewest sections of this tree. */
  get sections(): number {
    return this.engine.sectionCount();
  }

  pieces(): CutPiece[] {
    return this.nodes(true).map((node) => {
      const xy = new Float64Array(
        this.engine.memory.buffer,
        this.engine.cornersAt(node),
        2 * this.engine.cornerCount(node),
      );
      const outline = Array.from({ length: xy.length / 2 }, (_, i): [number, number] => [xy[2 * i]!, xy[2 * i + 1]!]);
      return { node, outline, fabric: this.engine.fabricOf(node) };
    });
  }

  private nodes(leaves: boolean): number[] {
    const all = Array.from({ length: this.engine.listNodes() }, (_, i) => this.engine.nodeAt(i));
    return all.filter((v) => (this.engine.isLeaf(v) === 1) === leaves);
  }

  /** Weight of a fabric in a piece, by the fast sums. */
  weighPiece(node: number, fabric: number): number {
    return this.engine.weighPiece(node, fabric);
  }

  /** Pairs of seam ends that nearly meet across a join. */
  misses(): number {
    return this.nodes(false).reduce((n, v) => n + this.engine.missCount(v), 0);
  }

  /** Takes a piece away and takes that back. Says whether what was left could be sewn. */
  tryWithout(node: number): boolean {
    return this.engine.tryWithout(node) === 1;
  }
}

let code: WebAssembly.Module | undefined;

/** So that the engine is there when it is needed. */
export function loadEngine(): void {
  engineCode();
}

/** The engine as `npm run engine` made it; every fit has an instance of its own. */
function engineCode(): WebAssembly.Module {
  const built = new URL(import.meta.url.endsWith('.ts') ? '../../dist/fit.wasm' : './fit.wasm', import.meta.url);
  code ??= new WebAssembly.Module(readFileSync(built));
  return code;
}
