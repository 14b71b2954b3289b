// The cutting tree that the fit changes, in flat arrays: every inner node a straight cut, every leaf a piece.
// A cut is a line that stays put in the plane: moving it changes only the regions that touch it. Every change is logged,
// so that a try costs what it touches and can be taken back. Lengths in mm; costs in weight, UNIT_WEIGHT a cell.
import { joinsToSection } from '../tree/sections.ts';
import { type CellSums, UNIT_WEIGHT } from './cell-sums.ts';
import type { FitLimits, FitPrices } from './limits.ts';

/** most corners of a region; a cut that would give more is refused */
const CORNERS = 12;
const XY = 2 * CORNERS;
/** a corner this near to a cut lies on it, mm */
const ON_CUT = 1e-5;
/** the owner of an edge that no cut made */
const OUTER = -1;
/** a change that would take away more nodes than this is refused */
const MOST_GONE = 24;
/** a bound that holds by less than this factor may be off by rounding */
const SURE = 0.999999;
const LOG_INTS = 7;
const LOG_NUMBERS = 5;

export class Cutting {
  // a node: links, its cut (nx·x + ny·y = d, left where it is smaller), its region, what its subtree is and costs to sew
  readonly parent: Int32Array;
  readonly left: Int32Array;
  readonly right: Int32Array;
  readonly nx: Float64Array;
  readonly ny: Float64Array;
  readonly d: Float64Array;
  readonly region: Int32Array;
  readonly pieces: Int32Array;
  readonly isSection: Uint8Array;
  readonly sewing: Float64Array;
  private readonly joinCost: Float64Array;
  // a region: its corners, who made each edge (from that corner on); for a piece its fabric, wrong weight and whole cost
  readonly corners: Uint8Array;
  readonly xy: Float64Array;
  readonly owner: Int32Array;
  readonly fabric: Uint8Array;
  readonly wrong: Float64Array;
  readonly margin: Float64Array;
  private readonly extra: Float64Array;
  private readonly packed0: Float64Array;
  private readonly packed1: Float64Array;
  private readonly cost: Float64Array;
  // of a region, worked out when asked for: length over width (0: not yet), narrowest width, bounds of both squared (0: not yet),
  // whether it fits the paper (0: not yet, 1 no, 2 yes)
  private readonly stretches: Float64Array;
  private readonly narrow: Float64Array;
  private readonly thick: Float64Array;
  private readonly across: Float64Array;
  private readonly onPaper: Uint8Array;

  root: number;
  /** one past the highest node that was ever in use: does not depend on how many there is room for */
  usedNodes = 0;
  private pieceCost = 0;
  // free lists
  private readonly freeNodes: Int32Array;
  private freeNodeCount: number;
  private readonly freeRegions: Int32Array;
  private freeRegionCount: number;
  // the log of the change under way
  private readonly logInts: Int32Array;
  private readonly logNumbers: Float64Array;
  private logged = 0;
  private readonly stamp: Int32Array;
  private change = 0;
  private readonly madeRegions: Int32Array;
  private madeRegionCount = 0;
  private readonly oldRegions: Int32Array;
  private oldRegionCount = 0;
  private readonly madeNodes = new Int32Array(16);
  private madeNodeCount = 0;
  private readonly oldNodes = new Int32Array(MOST_GONE + 8);
  private oldNodeCount = 0;
  private startCost = 0;
  private startRoot = 0;
  // scratch
  /** the node of a cut that is only looked at */
  private readonly probed: number;
  private readonly sideOf = new Float64Array(CORNERS + 1);
  private readonly dirty: Int32Array;
  private readonly leftEnds = new Float64Array(512);
  private readonly rightEnds = new Float64Array(512);
  private readonly points = new Float64Array(64);
  private readonly leftCuts = new Int32Array(512);
  private readonly rightCuts = new Int32Array(512);
  private endCount = 0;

  constructor(
    readonly sums: CellSums,
    readonly size: readonly [number, number],
    public limits: FitLimits,
    public prices: FitPrices,
    mostPieces: number,
    /** 1 for the cells of the grid that lie in the face, where edges may be shorter */
    private readonly face?: Uint8Array,
  ) {
    const nodes = 2 * mostPieces + 32;
    const regions = 3 * nodes + 64;
    this.parent = new Int32Array(nodes);
    this.left = new Int32Array(nodes + 1).fill(-1);
    this.right = new Int32Array(nodes);
    this.nx = new Float64Array(nodes + 1);
    this.ny = new Float64Array(nodes + 1);
    this.d = new Float64Array(nodes + 1);
    this.probed = nodes;
    this.region = new Int32Array(nodes);
    this.pieces = new Int32Array(nodes);
    this.isSection = new Uint8Array(nodes);
    this.sewing = new Float64Array(nodes);
    this.joinCost = new Float64Array(nodes);
    this.stamp = new Int32Array(nodes);
    this.dirty = new Int32Array(nodes);
    this.corners = new Uint8Array(regions);
    this.xy = new Float64Array(regions * XY);
    this.owner = new Int32Array(regions * CORNERS);
    this.fabric = new Uint8Array(regions);
    this.wrong = new Float64Array(regions);
    this.margin = new Float64Array(regions);
    this.extra = new Float64Array(regions);
    this.packed0 = new Float64Array(regions);
    this.packed1 = new Float64Array(regions);
    this.cost = new Float64Array(regions);
    this.stretches = new Float64Array(regions);
    this.narrow = new Float64Array(regions);
    this.thick = new Float64Array(regions);
    this.across = new Float64Array(regions);
    this.onPaper = new Uint8Array(regions);
    this.logInts = new Int32Array(LOG_INTS * nodes);
    this.logNumbers = new Float64Array(LOG_NUMBERS * nodes);
    this.madeRegions = new Int32Array(regions);
    this.oldRegions = new Int32Array(regions);
    this.freeNodes = Int32Array.from({ length: nodes }, (_, i) => nodes - 1 - i);
    this.freeNodeCount = nodes;
    this.freeRegions = Int32Array.from({ length: regions }, (_, i) => regions - 1 - i);
    this.freeRegionCount = regions;

    this.begin();
    const whole = this.takeRegion();
    const [w, h] = size;
    this.corners[whole] = 4;
    this.xy.set([0, 0, w, 0, w, h, 0, h], whole * XY);
    this.owner.fill(OUTER, whole * CORNERS, whole * CORNERS + 4);
    this.root = this.takeNode(whole, -1);
    if (!this.priceLeaf(whole)) throw new Error('the block itself is no piece that can be sewn');
    this.pieceCost = this.cost[whole]!;
    this.priceSection(this.root, 1, whole);
    this.accept();
  }

  /** What the fit makes small: wrong weight, prices of pieces, sections and joins. */
  get total(): number {
    return this.pieceCost + this.sewing[this.root]!;
  }

  isLeaf(v: number): boolean {
    return this.left[v]! < 0;
  }

  // ---------- a change: begin, one or more edits, then accept or take back

  begin(): void {
    this.knownRegion = -1;
    this.logged = 0;
    this.madeRegionCount = 0;
    this.oldRegionCount = 0;
    this.madeNodeCount = 0;
    this.oldNodeCount = 0;
    this.startCost = this.pieceCost;
    this.startRoot = this.root;
    this.change++;
  }

  accept(): void {
    for (let i = 0; i < this.oldRegionCount; i++) this.freeRegions[this.freeRegionCount++] = this.oldRegions[i]!;
    for (let i = 0; i < this.oldNodeCount; i++) {
      this.left[this.oldNodes[i]!] = -1;
      this.freeNodes[this.freeNodeCount++] = this.oldNodes[i]!;
    }
  }

  takeBack(): void {
    const { logInts, logNumbers } = this;
    for (let i = this.logged - 1; i >= 0; i--) {
      const o = i * LOG_INTS;
      const v = logInts[o]!;
      this.parent[v] = logInts[o + 1]!;
      this.left[v] = logInts[o + 2]!;
      this.right[v] = logInts[o + 3]!;
      this.pieces[v] = logInts[o + 4]!;
      this.isSection[v] = logInts[o + 5]!;
      this.region[v] = logInts[o + 6]!;
      const n = i * LOG_NUMBERS;
      this.nx[v] = logNumbers[n]!;
      this.ny[v] = logNumbers[n + 1]!;
      this.d[v] = logNumbers[n + 2]!;
      this.sewing[v] = logNumbers[n + 3]!;
      this.joinCost[v] = logNumbers[n + 4]!;
    }
    for (let i = this.madeRegionCount - 1; i >= 0; i--) this.freeRegions[this.freeRegionCount++] = this.madeRegions[i]!;
    for (let i = this.madeNodeCount - 1; i >= 0; i--) {
      this.left[this.madeNodes[i]!] = -1;
      this.freeNodes[this.freeNodeCount++] = this.madeNodes[i]!;
    }
    this.pieceCost = this.startCost;
    this.root = this.startRoot;
  }

  /** Keeps node v as it was at the beginning of the change; call before touching it. */
  private save(v: number): void {
    if (this.stamp[v] === this.change) return;
    this.stamp[v] = this.change;
    const { logInts, logNumbers } = this;
    const o = this.logged * LOG_INTS;
    logInts[o] = v;
    logInts[o + 1] = this.parent[v]!;
    logInts[o + 2] = this.left[v]!;
    logInts[o + 3] = this.right[v]!;
    logInts[o + 4] = this.pieces[v]!;
    logInts[o + 5] = this.isSection[v]!;
    logInts[o + 6] = this.region[v]!;
    const n = this.logged * LOG_NUMBERS;
    logNumbers[n] = this.nx[v]!;
    logNumbers[n + 1] = this.ny[v]!;
    logNumbers[n + 2] = this.d[v]!;
    logNumbers[n + 3] = this.sewing[v]!;
    logNumbers[n + 4] = this.joinCost[v]!;
    this.logged++;
  }

  private takeRegion(): number {
    const b = this.freeRegions[--this.freeRegionCount]!;
    this.madeRegions[this.madeRegionCount++] = b;
    this.stretches[b] = 0;
    this.across[b] = 0;
    this.onPaper[b] = 0;
    return b;
  }

  private takeNode(region: number, parent: number): number {
    const v = this.freeNodes[--this.freeNodeCount]!;
    if (v >= this.usedNodes) this.usedNodes = v + 1;
    this.madeNodes[this.madeNodeCount++] = v;
    this.stamp[v] = this.change;
    this.parent[v] = parent;
    this.left[v] = -1;
    this.right[v] = -1;
    this.region[v] = region;
    this.pieces[v] = 1;
    this.isSection[v] = 1;
    this.joinCost[v] = 0;
    this.sewing[v] = 0;
    return v;
  }

  private retire(v: number): void {
    this.oldNodes[this.oldNodeCount++] = v;
    this.oldRegions[this.oldRegionCount++] = this.region[v]!;
  }

  private setRegion(v: number, b: number): void {
    this.save(v);
    this.oldRegions[this.oldRegionCount++] = this.region[v]!;
    this.region[v] = b;
  }

  private replaceChild(parent: number, from: number, to: number): void {
    if (parent < 0) this.root = to;
    else {
      this.save(parent);
      if (this.left[parent] === from) this.left[parent] = to;
      else this.right[parent] = to;
    }
    this.parent[to] = parent;
  }

  // ---------- edits. A piece that an edit would leave unsewable goes, and its sibling takes its place. Each edit says
  // whether anything that can be sewn is left; after false only takeBack() may follow.

  /** Lays the cut of inner node v along another line. */
  moveCut(v: number, nx: number, ny: number, d: number): boolean {
    this.save(v);
    this.nx[v] = nx;
    this.ny[v] = ny;
    this.d[v] = d;
    if (this.left[this.left[v]!]! < 0 && this.left[this.right[v]!]! < 0 && this.recutPair(v)) return this.rise(v);
    return this.rise(this.refitCut(v));
  }

  /** moveCut where both sides are pieces: only one of them has to be counted. False, with nothing changed, where one of them
   *  could not be sewn. */
  private recutPair(v: number): boolean {
    const L = this.takeRegion();
    const R = this.takeRegion();
    this.oldRegions[this.oldRegionCount] = L;
    this.oldRegions[this.oldRegionCount + 1] = R;
    if (!this.split(this.region[v]!, v, L, R) || !this.shapeLeaf(L) || !this.shapeLeaf(R)) {
      this.oldRegionCount += 2;
      return false;
    }
    const l = this.left[v]!;
    const r = this.right[v]!;
    const a = this.region[l]!;
    const b = this.region[r]!;
    this.weighLeaf(L);
    this.knowRest(R, this.packed0[a]! + this.packed0[b]!, this.packed1[a]! + this.packed1[b]!, L);
    this.weighLeaf(R);
    this.setRegion(l, L);
    this.setRegion(r, R);
    this.pieceCost += this.cost[L]! + this.cost[R]! - this.cost[a]! - this.cost[b]!;
    this.priceSection(l, 1, L);
    this.priceSection(r, 1, R);
    this.gather(v);
    return true;
  }

  /** Takes leaf v away; its sibling's subtree gets the whole of their parent's region. */
  deleteLeaf(v: number): boolean {
    const p = this.parent[v]!;
    const keep = this.left[p] === v ? this.right[p]! : this.left[p]!;
    if (this.left[keep]! >= 0) return this.rise(this.collapse(p, keep));
    // two pieces become one: what it holds is known
    const a = this.region[v]!;
    const b = this.region[keep]!;
    const whole0 = this.packed0[a]! + this.packed0[b]!;
    const whole1 = this.packed1[a]! + this.packed1[b]!;
    return this.rise(this.collapse(p, keep, whole0, whole1));
  }

  /** Lays a new cut through the region of v (leaf or subtree); what is kept of v lies left of it where `keepLeft`, and the
   *  other side is a new piece. */
  addCut(v: number, nx: number, ny: number, d: number, keepLeft: boolean): boolean {
    const old = this.region[v]!;
    const top = this.copyRegion(old);
    const p = this.takeNode(top, -1);
    this.nx[p] = nx;
    this.ny[p] = ny;
    this.d[p] = d;
    const L = this.takeRegion();
    const R = this.takeRegion();
    if (!this.split(top, p, L, R)) return false;
    this.save(v);
    this.replaceChild(this.parent[v]!, v, p);
    this.parent[v] = p;
    const b = keepLeft ? R : L;
    const piece = this.takeNode(b, p);
    this.left[p] = keepLeft ? v : piece;
    this.right[p] = keepLeft ? piece : v;
    if (!this.priceLeaf(b)) return false;
    this.pieceCost += this.cost[b]!;
    this.priceSection(piece, 1, b);
    const rest = keepLeft ? L : R;
    this.setRegion(v, rest);
    if (this.left[v]! < 0) this.knowRest(rest, this.packed0[old]!, this.packed1[old]!, b);
    if (this.refit(v, old) < 0) return false;
    this.lift(p);
    return true;
  }

  /** Two cuts, one below the other, that do not meet: the lower is made first. The pieces stay as they are; the sections may
   *  change. False where the lower cut v ends on its parent's. */
  swapWithParent(v: number): boolean {
    const p = this.parent[v]!;
    if (p < 0 || this.left[v]! < 0) return false;
    const l = this.left[v]!;
    const r = this.right[v]!;
    const alongL = this.edgeOn(this.region[l]!, p) >= 0;
    const alongR = this.edgeOn(this.region[r]!, p) >= 0;
    if (alongL === alongR) return false;
    // the child of v that lies along p's cut comes under p; v takes p's place
    const near = alongL ? l : r;
    const g = this.parent[p]!;
    this.save(v);
    this.save(p);
    this.save(near);
    const top = this.region[p]!;
    const L = this.takeRegion();
    const R = this.takeRegion();
    if (!this.split(top, v, L, R)) return false;
    this.replaceChild(g, p, v);
    if (this.left[p] === v) this.left[p] = near;
    else this.right[p] = near;
    this.parent[near] = p;
    if (alongL) this.left[v] = p;
    else this.right[v] = p;
    this.parent[p] = v;
    const under = alongL ? L : R;
    const spare = alongL ? R : L;
    this.oldRegions[this.oldRegionCount++] = spare;
    this.oldRegions[this.oldRegionCount++] = this.region[v]!;
    this.region[v] = top;
    this.region[p] = under;
    this.gather(p);
    this.lift(v);
    return true;
  }

  /** The last step of a change that can be sewn: what its joins cost. */
  settle(): void {
    if (this.prices.nearMiss === 0 && this.prices.match === 0) return;
    const { owner, corners, dirty } = this;
    let n = 0;
    const note = (b: number): void => {
      const at = b * CORNERS;
      for (let i = 0; i < corners[b]!; i++) {
        const v = owner[at + i]!;
        if (v >= 0 && this.left[v]! >= 0) {
          let known = false;
          for (let j = 0; j < n; j++) if (dirty[j] === v) known = true;
          if (!known) dirty[n++] = v;
        }
      }
    };
    for (let i = 0; i < this.madeRegionCount; i++) note(this.madeRegions[i]!);
    for (let i = 0; i < this.oldRegionCount; i++) note(this.oldRegions[i]!);
    outer: for (let i = 0; i < n; i++) {
      const v = dirty[i]!;
      for (let j = 0; j < this.oldNodeCount; j++) if (this.oldNodes[j] === v) continue outer;
      const price = this.joinPrice(v);
      if (price === this.joinCost[v]) continue;
      this.save(v);
      this.joinCost[v] = price;
      this.lift(v);
    }
  }

  // ---------- geometry

  private copyRegion(from: number): number {
    const to = this.takeRegion();
    const n = this.corners[from]!;
    this.corners[to] = n;
    const { xy, owner } = this;
    for (let i = 0; i < 2 * n; i++) xy[to * XY + i] = xy[from * XY + i]!;
    for (let i = 0; i < n; i++) owner[to * CORNERS + i] = owner[from * CORNERS + i]!;
    return to;
  }

  /** Splits region b by the line of cut `by` into L (smaller side) and R; the new edges belong to it. False where it does not
   *  cross b or the seam is too short. */
  private split(b: number, by: number, L: number, R: number): boolean {
    const { xy, owner, sideOf } = this;
    const nx = this.nx[by]!;
    const ny = this.ny[by]!;
    const d = this.d[by]!;
    const n = this.corners[b]!;
    const at = b * XY;
    const own = b * CORNERS;
    for (let i = 0; i < n; i++) {
      const f = nx * xy[at + 2 * i]! + ny * xy[at + 2 * i + 1]! - d;
      sideOf[i] = f > ON_CUT ? f : f < -ON_CUT ? f : 0;
    }
    sideOf[n] = sideOf[0]!;
    let nl = 0;
    let nr = 0;
    let ends = 0;
    let ex = 0;
    let ey = 0;
    let fx = 0;
    let fy = 0;
    let seam = 0;
    const atL = L * XY;
    const atR = R * XY;
    const ownL = L * CORNERS;
    const ownR = R * CORNERS;
    for (let i = 0; i < n; i++) {
      const f = sideOf[i]!;
      const g = sideOf[i + 1]!;
      const x = xy[at + 2 * i]!;
      const y = xy[at + 2 * i + 1]!;
      const o = owner[own + i]!;
      if (nl >= CORNERS - 1 || nr >= CORNERS - 1) return false;
      if (f <= 0) {
        xy[atL + 2 * nl] = x;
        xy[atL + 2 * nl + 1] = y;
        owner[ownL + nl++] = f === 0 && g >= 0 ? by : o;
      }
      if (f >= 0) {
        xy[atR + 2 * nr] = x;
        xy[atR + 2 * nr + 1] = y;
        owner[ownR + nr++] = f === 0 && g <= 0 ? by : o;
      }
      let cx = x;
      let cy = y;
      if (f === 0) {
        if (g === 0) return false;
      } else if ((f < 0 && g > 0) || (f > 0 && g < 0)) {
        const j = i + 1 === n ? 0 : i + 1;
        const t = f / (f - g);
        cx = x + t * (xy[at + 2 * j]! - x);
        cy = y + t * (xy[at + 2 * j + 1]! - y);
        xy[atL + 2 * nl] = cx;
        xy[atL + 2 * nl + 1] = cy;
        owner[ownL + nl++] = f < 0 ? by : o;
        xy[atR + 2 * nr] = cx;
        xy[atR + 2 * nr + 1] = cy;
        owner[ownR + nr++] = f > 0 ? by : o;
      } else continue;
      if (ends++) seam = (cx - ex) * (cx - ex) + (cy - ey) * (cy - ey);
      fx = ex;
      fy = ey;
      ex = cx;
      ey = cy;
    }
    if (ends !== 2 || nl < 3 || nr < 3) return false;
    this.corners[L] = nl;
    this.corners[R] = nr;
    const { shortestEdge, shortestFaceEdge } = this.limits;
    if (seam >= shortestEdge * shortestEdge) return true;
    return seam >= shortestFaceEdge * shortestFaceEdge && this.inFace((fx + ex) / 2, (fy + ey) / 2);
  }

  private inFace(x: number, y: number): boolean {
    if (!this.face) return false;
    const { width, height } = this.sums;
    const column = Math.min(width - 1, Math.floor((x / this.size[0]) * width));
    return this.face[Math.min(height - 1, Math.floor((y / this.size[1]) * height)) * width + column] === 1;
  }

  private same(a: number, b: number): boolean {
    const n = this.corners[a]!;
    if (n !== this.corners[b]) return false;
    const { xy, owner } = this;
    for (let i = 0; i < 2 * n; i++) {
      const off = xy[a * XY + i]! - xy[b * XY + i]!;
      if (off > 1e-9 || off < -1e-9) return false;
    }
    for (let i = 0; i < n; i++) if (owner[a * CORNERS + i] !== owner[b * CORNERS + i]) return false;
    return true;
  }

  /** The region of v is another than `before`: works that out for its subtree. Returns the node that now stands in v's
   *  place, or -1 where nothing of it can be sewn. */
  private refit(v: number, before: number): number {
    if (this.left[v]! >= 0) return this.refitCut(v);
    const b = this.region[v]!;
    this.pieceCost -= this.cost[before]!;
    if (!this.priceLeaf(b)) {
      this.cost[b] = 0;
      return -1;
    }
    this.pieceCost += this.cost[b]!;
    this.priceSection(v, 1, b);
    return v;
  }

  private refitCut(v: number): number {
    const L = this.takeRegion();
    const R = this.takeRegion();
    const l = this.left[v]!;
    const r = this.right[v]!;
    if (!this.split(this.region[v]!, v, L, R)) {
      this.oldRegions[this.oldRegionCount++] = L;
      this.oldRegions[this.oldRegionCount++] = R;
      return this.collapse(v, this.mostlyLeft(v) ? l : r);
    }
    if (this.same(this.region[l]!, L)) this.oldRegions[this.oldRegionCount++] = L;
    else {
      const old = this.region[l]!;
      this.setRegion(l, L);
      if (this.refit(l, old) < 0) {
        this.oldRegions[this.oldRegionCount++] = R;
        return this.collapse(v, r);
      }
    }
    if (this.same(this.region[r]!, R)) this.oldRegions[this.oldRegionCount++] = R;
    else {
      const old = this.region[r]!;
      this.setRegion(r, R);
      if (this.refit(r, old) < 0) return this.collapse(v, this.left[v]!);
    }
    this.gather(v);
    return v;
  }

  /** Takes one side of v's cut away, with all its pieces: `keep`, the other side, gets v's region and stands in its place. */
  private collapse(v: number, keep: number, whole0 = -1, whole1 = 0): number {
    const gone = this.left[v] === keep ? this.right[v]! : this.left[v]!;
    if (this.oldNodeCount + 2 * this.pieces[gone]! > MOST_GONE) return -1;
    this.dropSubtree(gone);
    const before = this.region[keep]!;
    const whole = this.copyRegion(this.region[v]!);
    this.save(keep);
    this.replaceChild(this.parent[v]!, v, keep);
    this.setRegion(keep, whole);
    this.retire(v);
    if (whole0 >= 0) this.knowRest(whole, whole0, whole1, -1);
    return this.refit(keep, before);
  }

  private dropSubtree(v: number): void {
    if (this.left[v]! < 0) this.pieceCost -= this.cost[this.region[v]!]!;
    else {
      this.dropSubtree(this.left[v]!);
      this.dropSubtree(this.right[v]!);
    }
    this.retire(v);
  }

  /** Which side of its own cut most of v's region lies on, where the cut does not cross it well. */
  private mostlyLeft(v: number): boolean {
    const b = this.region[v]!;
    let least = 0;
    let most = 0;
    for (let i = 0; i < this.corners[b]!; i++) {
      const f = this.nx[v]! * this.xy[b * XY + 2 * i]! + this.ny[v]! * this.xy[b * XY + 2 * i + 1]! - this.d[v]!;
      if (f < least) least = f;
      if (f > most) most = f;
    }
    return -least > most;
  }

  /** Works out afresh what lies above a node whose subtree changed. */
  private rise(v: number): boolean {
    if (v < 0) return false;
    if (this.parent[v]! >= 0) this.lift(this.parent[v]!);
    return true;
  }

  // ---------- what a subtree is and costs

  private gather(v: number): void {
    const l = this.left[v]!;
    const r = this.right[v]!;
    const n = this.pieces[l]! + this.pieces[r]!;
    this.pieces[v] = n;
    const b = this.region[v]!;
    if (
      joinsToSection(
        this.pieces[l]!,
        this.isSection[l] === 1,
        this.pieces[r]!,
        this.isSection[r] === 1,
        this.limits.mostPieces,
      ) &&
      this.fitsPaper(b)
    ) {
      this.isSection[v] = 1;
      this.priceSection(v, n, b);
    } else {
      this.isSection[v] = 0;
      this.sewing[v] = this.sewing[l]! + this.sewing[r]! + this.joinCost[v]!;
    }
  }

  /** Works out v and what lies above it afresh, as far as anything changes. */
  private lift(v: number): void {
    for (let u = v; u >= 0; u = this.parent[u]!) {
      const { pieces, isSection, sewing } = this;
      const n = pieces[u];
      const was = isSection[u];
      const cost = sewing[u];
      this.save(u);
      this.gather(u);
      if (u !== v && n === pieces[u] && was === isSection[u] && cost === sewing[u]) return;
    }
  }

  private priceSection(v: number, pieces: number, b: number): void {
    const { prices, limits } = this;
    let price = prices.section;
    if (pieces <= 2) price += prices.smallSection;
    if (prices.longSection > 0 && this.isLonger(b, limits.sectionStretch)) price += prices.longSection;
    this.sewing[v] = price * UNIT_WEIGHT;
  }

  /** Bounds that need no search for the narrowest width, squared: the region is at least `thick` wide and at most `across` long
   *  (its area is at most its width times its length). */
  private bound(b: number): void {
    const { xy } = this;
    const n = this.corners[b]!;
    const at = b * XY;
    let px = xy[at + 2 * n - 2]!;
    let py = xy[at + 2 * n - 1]!;
    let x0 = px;
    let x1 = px;
    let y0 = py;
    let y1 = py;
    let area = 0;
    for (let i = 0; i < n; i++) {
      const x = xy[at + 2 * i]!;
      const y = xy[at + 2 * i + 1]!;
      area += px * y - x * py;
      if (x < x0) x0 = x;
      else if (x > x1) x1 = x;
      if (y < y0) y0 = y;
      else if (y > y1) y1 = y;
      px = x;
      py = y;
    }
    const square = (x1 - x0) * (x1 - x0) + (y1 - y0) * (y1 - y0);
    this.across[b] = square;
    this.thick[b] = (area * area) / (4 * square);
  }

  /** Whether a region is longer than so many times its width. */
  private isLonger(b: number, times: number): boolean {
    // length over width is at most across over thick: mostly that settles it
    if (this.across[b] === 0) this.bound(b);
    if (this.across[b]! <= SURE * times * times * this.thick[b]!) return false;
    if (this.stretches[b] === 0) this.findStretch(b);
    return this.stretches[b]! > times;
  }

  /** Narrowest width of a region, and length over width, both along and square to it; into `narrow` and `stretches`. */
  private findStretch(b: number): void {
    const { xy } = this;
    const n = this.corners[b]!;
    const at = b * XY;
    let narrow = Infinity;
    let ex = 0;
    let ey = 0;
    for (let i = 0, j = n - 1; i < n; j = i++) {
      const ax = xy[at + 2 * j]!;
      const ay = xy[at + 2 * j + 1]!;
      const dx = xy[at + 2 * i]! - ax;
      const dy = xy[at + 2 * i + 1]! - ay;
      const square = dx * dx + dy * dy;
      if (square < 1e-18) continue;
      let far = 0;
      for (let k = 0; k < n; k++) {
        const v = dx * (xy[at + 2 * k + 1]! - ay) - dy * (xy[at + 2 * k]! - ax);
        if (v > far) far = v;
      }
      const wide = (far * far) / square;
      if (wide < narrow) {
        narrow = wide;
        const length = Math.sqrt(square);
        ex = dx / length;
        ey = dy / length;
      }
    }
    let u0 = Infinity;
    let u1 = -Infinity;
    for (let k = 0; k < n; k++) {
      const u = ex * xy[at + 2 * k]! + ey * xy[at + 2 * k + 1]!;
      if (u < u0) u0 = u;
      if (u > u1) u1 = u;
    }
    this.narrow[b] = Math.sqrt(narrow);
    this.stretches[b] = (u1 - u0) / this.narrow[b]!;
  }

  /** Fills fabric, wrong weight and cost of a piece's region; false where it is no piece that can be sewn. */
  private priceLeaf(b: number): boolean {
    if (!this.shapeLeaf(b)) return false;
    this.weighLeaf(b);
    return true;
  }

  /** Whether a region can be sewn as a piece, and what its shape costs. */
  private shapeLeaf(b: number): boolean {
    const { xy, limits, prices } = this;
    const n = this.corners[b]!;
    const at = b * XY;
    const own = b * CORNERS;
    const [w, h] = this.size;
    const shortest = limits.shortestEdge * limits.shortestEdge;
    const shortestInFace = limits.shortestFaceEdge * limits.shortestFaceEdge;
    let extra = 0;
    // edges and corners
    let px = xy[at + 2 * n - 2]!;
    let py = xy[at + 2 * n - 1]!;
    let ux = px - xy[at + 2 * n - 4]!;
    let uy = py - xy[at + 2 * n - 3]!;
    let ul = Math.sqrt(ux * ux + uy * uy);
    let outerBefore = this.owner[own + n - 2] === OUTER;
    for (let i = 0; i < n; i++) {
      // the corner at (px, py) between the edge before it (u) and the edge after it (v), which starts there
      const x = xy[at + 2 * i]!;
      const y = xy[at + 2 * i + 1]!;
      const vx = x - px;
      const vy = y - py;
      const square = vx * vx + vy * vy;
      if (square < shortest && (square < shortestInFace || !this.inFace((x + px) / 2, (y + py) / 2))) return false;
      const vl = Math.sqrt(square);
      const outer = this.owner[own + (i === 0 ? n - 1 : i - 1)] === OUTER;
      if (outer && vl < limits.shortestOuterEdge) return false;
      const cosine = -(ux * vx + uy * vy) / (ul * vl);
      if (cosine > limits.sharpCosine) {
        if (cosine > limits.leastCornerCosine) return false;
        extra += prices.sharpCorner;
      }
      if (outer !== outerBefore && (ux * vy - uy * vx) / (ul * vl) < limits.leastOuterSine) {
        // a seam that ends in the block's corner exactly may do so at any angle that its pieces' corners allow
        const inCorner = (px < ON_CUT || px > w - ON_CUT) && (py < ON_CUT || py > h - ON_CUT);
        if (!inCorner) return false;
      }
      px = x;
      py = y;
      ux = vx;
      uy = vy;
      ul = vl;
      outerBefore = outer;
    }
    this.bound(b);
    this.stretches[b] = 0;
    if (
      SURE * this.thick[b]! < limits.smallest * limits.smallest ||
      this.across[b]! > SURE * limits.longStretch * limits.longStretch * this.thick[b]!
    ) {
      this.findStretch(b);
      if (this.narrow[b]! < limits.smallest || this.stretches[b]! > limits.mostStretch) return false;
      if (this.stretches[b]! > limits.longStretch) extra += prices.longPiece;
    }
    this.extra[b] = extra * UNIT_WEIGHT;
    return true;
  }

  /** Fabric, wrong weight and cost of a region that can be sewn as a piece; what lies in it is counted, or known. */
  private weighLeaf(b: number): void {
    const { sums } = this;
    let total = 0;
    if (b === this.knownRegion) {
      total = sums.load(this.known0, this.known1);
      this.knownRegion = -1;
    } else total = sums.measure(this.xy, b * XY, this.corners[b]!);
    this.packed0[b] = sums.packed0;
    this.packed1[b] = sums.packed1;
    const s = sums.sums;
    let best = 0;
    let second = 0;
    for (let f = 1; f < sums.fabrics; f++)
      if (s[f]! > s[best]!) {
        second = s[best]!;
        best = f;
      } else if (s[f]! > second) second = s[f]!;
    this.fabric[b] = best;
    this.margin[b] = s[best]! - second;
    this.wrong[b] = total - s[best]!;
    this.cost[b] = total - s[best]! + this.extra[b]!;
  }

  /** What region b holds is known without counting: what `whole` holds, less what `part` does. */
  private knowRest(b: number, whole0: number, whole1: number, part: number): void {
    if (!this.sums.isPacked) return;
    this.knownRegion = b;
    this.known0 = whole0 - (part < 0 ? 0 : this.packed0[part]!);
    this.known1 = whole1 - (part < 0 ? 0 : this.packed1[part]!);
  }
  private knownRegion = -1;
  private known0 = 0;
  private known1 = 0;

  private fitsPaper(b: number): boolean {
    const known = this.onPaper[b]!;
    if (known > 0) return known === 2;
    const fits = this.findPaper(b);
    this.onPaper[b] = fits ? 2 : 1;
    return fits;
  }

  private findPaper(b: number): boolean {
    const { xy } = this;
    const n = this.corners[b]!;
    const at = b * XY;
    const { paper, allowance } = this.limits;
    const w = paper[0] - 2 * allowance;
    const h = paper[1] - 2 * allowance;
    const least = Math.min(w, h);
    if (this.across[b] === 0) this.bound(b);
    if (this.across[b]! < SURE * least * least) return true;
    for (let i = 0, j = n - 1; i < n; j = i++) {
      const ax = xy[at + 2 * j]!;
      const ay = xy[at + 2 * j + 1]!;
      let dx = xy[at + 2 * i]! - ax;
      let dy = xy[at + 2 * i + 1]! - ay;
      const length = Math.sqrt(dx * dx + dy * dy);
      if (length < 1e-9) continue;
      dx /= length;
      dy /= length;
      let far = 0;
      let u0 = 0;
      let u1 = 0;
      for (let k = 0; k < n; k++) {
        const px = xy[at + 2 * k]! - ax;
        const py = xy[at + 2 * k + 1]! - ay;
        const v = dx * py - dy * px;
        const u = dx * px + dy * py;
        if (v > far) far = v;
        if (u < u0) u0 = u;
        else if (u > u1) u1 = u;
      }
      const long = u1 - u0;
      if ((long <= w && far <= h) || (long <= h && far <= w)) return true;
    }
    return false;
  }

  // ---------- joins: seam ends that lie across from one another

  /** Seam ends on the cut of v: those on both sides at one place must be matched, those that nearly meet are misses. */
  private joinPrice(v: number): number {
    const l = this.left[v]!;
    const r = this.right[v]!;
    if (this.left[l]! < 0 || this.left[r]! < 0) return 0;
    this.endCount = 0;
    this.gatherEnds(l, v, this.leftEnds, this.leftCuts);
    const nl = this.endCount;
    if (nl === 0) return 0;
    this.endCount = 0;
    this.gatherEnds(r, v, this.rightEnds, this.rightCuts);
    const nr = this.endCount;
    const { nearMiss, matchWithin, pointsApart } = this.limits;
    let points = 0;
    const { prices } = this;
    let price = 0;
    for (let i = 0; i < nl; i++)
      for (let j = 0; j < nr; j++) {
        const apart = Math.abs(this.leftEnds[i]! - this.rightEnds[j]!);
        if (apart <= matchWithin) {
          price += prices.match;
          // points to match that crowd are no better than near misses
          for (let k = 0; k < points; k++)
            if (Math.abs(this.points[k]! - this.leftEnds[i]!) < pointsApart) price += prices.nearMiss;
          if (points < this.points.length) this.points[points++] = this.leftEnds[i]!;
        } else if (apart < nearMiss)
          price += prices.nearMiss * (1 + 2 * Math.min(apart / nearMiss, 1 - apart / nearMiss));
      }
    return price * UNIT_WEIGHT;
  }

  /** Pairs of cuts that nearly meet across the cut of v, each with the place of its end along it: cut, place, cut, place … */
  missesOn(v: number): number[] {
    const l = this.left[v]!;
    const r = this.right[v]!;
    if (l < 0 || this.left[l]! < 0 || this.left[r]! < 0) return [];
    this.endCount = 0;
    this.gatherEnds(l, v, this.leftEnds, this.leftCuts);
    const nl = this.endCount;
    this.endCount = 0;
    this.gatherEnds(r, v, this.rightEnds, this.rightCuts);
    const found: number[] = [];
    for (let i = 0; i < nl; i++)
      for (let j = 0; j < this.endCount; j++) {
        const apart = Math.abs(this.leftEnds[i]! - this.rightEnds[j]!);
        if (apart > this.limits.matchWithin && apart < this.limits.nearMiss)
          found.push(this.leftCuts[i]!, this.leftEnds[i]!, this.rightCuts[j]!, this.rightEnds[j]!);
      }
    return found;
  }

  /** Positions along the cut of v where a cut of the subtree at u ends on it, and which cuts they are. */
  private gatherEnds(u: number, v: number, into: Float64Array, cuts: Int32Array): void {
    const l = this.left[u]!;
    if (l < 0) return;
    const r = this.right[u]!;
    const a = this.edgeOn(this.region[l]!, v);
    const b = this.edgeOn(this.region[r]!, v);
    if (a >= 0 && b >= 0) {
      // both children lie along v: the end is where their edges on it meet
      const { xy } = this;
      const bl = this.region[l]!;
      const n = this.corners[bl]!;
      const p = bl * XY + 2 * a;
      const q = bl * XY + 2 * (a + 1 === n ? 0 : a + 1);
      // of the two corners of l's edge on v the one that lies on u's cut
      const offP = Math.abs(this.nx[u]! * xy[p]! + this.ny[u]! * xy[p + 1]! - this.d[u]!);
      const offQ = Math.abs(this.nx[u]! * xy[q]! + this.ny[u]! * xy[q + 1]! - this.d[u]!);
      const at = offP < offQ ? p : q;
      cuts[this.endCount] = u;
      into[this.endCount++] = this.nx[v]! * xy[at + 1]! - this.ny[v]! * xy[at]!;
    }
    if (a >= 0) this.gatherEnds(l, v, into, cuts);
    if (b >= 0) this.gatherEnds(r, v, into, cuts);
  }

  private edgeOn(b: number, v: number): number {
    const n = this.corners[b]!;
    const at = b * CORNERS;
    for (let i = 0; i < n; i++) if (this.owner[at + i] === v) return i;
    return -1;
  }

  // ---------- looking

  /** What cutting leaf v by a line would gain, without doing it: in cost, and in Gini impurity (weight) in `gini`.
   *  -Infinity where it cannot be sewn. Only outside a change. */
  probe(v: number, nx: number, ny: number, d: number): number {
    const L = this.freeRegions[this.freeRegionCount - 1]!;
    const R = this.freeRegions[this.freeRegionCount - 2]!;
    const b = this.region[v]!;
    this.nx[this.probed] = nx;
    this.ny[this.probed] = ny;
    this.d[this.probed] = d;
    if (!this.split(b, this.probed, L, R) || !this.shapeLeaf(L) || !this.shapeLeaf(R)) return -Infinity;
    this.weighLeaf(L);
    this.gini = this.impurity();
    this.knowRest(R, this.packed0[b]!, this.packed1[b]!, L);
    this.weighLeaf(R);
    this.gini += this.impurity();
    return this.cost[b]! - this.cost[L]! - this.cost[R]!;
  }
  /** impurity of the two sides of the last probe */
  gini = 0;

  /** Gini impurity of the polygon measured last, in weight: total - sum of squares / total (Breiman et al. 1984). */
  impurity(): number {
    const s = this.sums.sums;
    let total = 0;
    let squares = 0;
    for (let f = 0; f < this.sums.fabrics; f++) {
      total += s[f]!;
      squares += s[f]! * s[f]!;
    }
    return total > 0 ? total - squares / total : 0;
  }

  /** Whether a place in leaf v is at least `clear` away from all its edges. */
  roomAt(v: number, x: number, y: number, clear: number): boolean {
    const b = this.region[v]!;
    const n = this.corners[b]!;
    const at = b * XY;
    const { xy } = this;
    let px = xy[at + 2 * n - 2]!;
    let py = xy[at + 2 * n - 1]!;
    for (let i = 0; i < n; i++) {
      const qx = xy[at + 2 * i]!;
      const qy = xy[at + 2 * i + 1]!;
      const dx = qx - px;
      const dy = qy - py;
      const off = dx * (y - py) - dy * (x - px);
      if (off < 0 || off * off < clear * clear * (dx * dx + dy * dy)) return false;
      px = qx;
      py = qy;
    }
    return true;
  }

  /** The leaf that holds a place. */
  leafAt(x: number, y: number): number {
    let v = this.root;
    while (this.left[v]! >= 0) v = this.nx[v]! * x + this.ny[v]! * y < this.d[v]! ? this.left[v]! : this.right[v]!;
    return v;
  }

  /** Every node, parents before children. */
  nodes(): number[] {
    const list = [this.root];
    for (let i = 0; i < list.length; i++) {
      const v = list[i]!;
      if (this.left[v]! >= 0) list.push(this.left[v]!, this.right[v]!);
    }
    return list;
  }

  outline(v: number): [number, number][] {
    const b = this.region[v]!;
    return Array.from({ length: this.corners[b]! }, (_, i) => [this.xy[b * XY + 2 * i]!, this.xy[b * XY + 2 * i + 1]!]);
  }

  /** The two ends of v's cut, x, y, x, y; into `ends`. */
  cutEnds(v: number, ends: Float64Array): void {
    const b = this.region[this.left[v]!]!;
    const e = this.edgeOn(b, v);
    const n = this.corners[b]!;
    const f = e + 1 === n ? 0 : e + 1;
    ends[0] = this.xy[b * XY + 2 * e]!;
    ends[1] = this.xy[b * XY + 2 * e + 1]!;
    ends[2] = this.xy[b * XY + 2 * f]!;
    ends[3] = this.xy[b * XY + 2 * f + 1]!;
  }

  /** All costs from scratch, the slow and obvious way: for tests, and after prices or weights changed. */
  reprice(): void {
    this.begin();
    this.pieceCost = 0;
    const list = this.nodes();
    for (const v of list)
      if (this.left[v]! < 0) {
        const b = this.region[v]!;
        if (!this.priceLeaf(b)) throw new Error('a piece of the partition cannot be sewn');
        this.pieceCost += this.cost[b]!;
        this.priceSection(v, 1, b);
      }
    for (const v of list.reverse())
      if (this.left[v]! >= 0) {
        this.joinCost[v] = this.joinPrice(v);
        this.gather(v);
      }
  }

  /** What the sections cost, from scratch, after their price has changed. */
  repriceSections(section: number): void {
    this.begin();
    this.prices = { ...this.prices, section };
    for (const v of this.nodes().reverse())
      if (this.left[v]! < 0) this.priceSection(v, 1, this.region[v]!);
      else this.gather(v);
    this.accept();
  }

  /** The fewest sections of this tree: its maximal subtrees that are sections. */
  sections(v = this.root): number {
    return this.isSection[v] ? 1 : this.sections(this.left[v]!) + this.sections(this.right[v]!);
  }
}
