// Edits of the tree. A piece that an edit would leave unsewable goes, and its sibling takes its place. Each edit says whether
// anything that can be sewn is left; after false only takeBack() may follow.
import { Features, FREE, locked } from './features';
import { dropRegion, Log, MOST_GONE, replaceChild, retire, save, setRegion, takeNode, takeRegion } from './log';
import { Straight, straighten } from './mirror';
import { gather, knowRest, lift, priceLeaf, priceSection, weighLeaf } from './price';
import { copyRegion, same, split } from './region';
import { shapeLeaf } from './shape';
import {
  corners,
  cost,
  d,
  edgeOn,
  left,
  nx,
  ny,
  packed0,
  packed1,
  parent,
  pieces,
  region,
  right,
  Tree,
  XY,
  xy,
} from './state';

/** Lays the cut of inner node v along another line. */
export function moveCut(v: i32, ax: f64, ay: f64, ad: f64): bool {
  if (locked[v] !== FREE) return false;
  save(v);
  straighten(region[v], ax, ay, ad);
  nx[v] = Straight.nx;
  ny[v] = Straight.ny;
  d[v] = Straight.d;
  if (left[left[v]] < 0 && left[right[v]] < 0 && recutPair(v)) return rise(v);
  return rise(refitCut(v));
}

/** moveCut where both sides are pieces: only one of them has to be counted. False, with nothing changed, where one of them
 *  could not be sewn. */
function recutPair(v: i32): bool {
  const L = takeRegion();
  const R = takeRegion();
  if (!split(region[v], v, L, R) || !shapeLeaf(L) || !shapeLeaf(R)) {
    dropRegion(L);
    dropRegion(R);
    return false;
  }
  const l = left[v];
  const r = right[v];
  const a = region[l];
  const b = region[r];
  weighLeaf(L);
  knowRest(R, packed0[a] + packed0[b], packed1[a] + packed1[b], L);
  weighLeaf(R);
  setRegion(l, L);
  setRegion(r, R);
  Tree.pieceCost += cost[L] + cost[R] - cost[a] - cost[b];
  priceSection(l, 1, L);
  priceSection(r, 1, R);
  gather(v);
  return true;
}

/** Takes leaf v away; its sibling's subtree gets the whole of their parent's region. */
export function deleteLeaf(v: i32): bool {
  const p = parent[v];
  const keep = left[p] === v ? right[p] : left[p];
  if (left[keep] >= 0) return rise(collapse(p, keep, -1, 0));
  // two pieces become one: what it holds is known
  const a = region[v];
  const b = region[keep];
  return rise(collapse(p, keep, packed0[a] + packed0[b], packed1[a] + packed1[b]));
}

/** Lays a new cut through the region of v (leaf or subtree); what is kept of v lies left of it where `keepLeft`, and the other
 *  side is a new piece. */
export function addCut(v: i32, ax: f64, ay: f64, ad: f64, keepLeft: bool): bool {
  const old = region[v];
  const top = copyRegion(old);
  const p = takeNode(top, -1);
  straighten(old, ax, ay, ad);
  nx[p] = Straight.nx;
  ny[p] = Straight.ny;
  d[p] = Straight.d;
  const L = takeRegion();
  const R = takeRegion();
  if (!split(top, p, L, R)) return false;
  save(v);
  replaceChild(parent[v], v, p);
  parent[v] = p;
  const b = keepLeft ? R : L;
  const piece = takeNode(b, p);
  left[p] = keepLeft ? v : piece;
  right[p] = keepLeft ? piece : v;
  if (!priceLeaf(b)) return false;
  Tree.pieceCost += cost[b];
  priceSection(piece, 1, b);
  const rest = keepLeft ? L : R;
  setRegion(v, rest);
  if (left[v] < 0) knowRest(rest, packed0[old], packed1[old], b);
  if (refit(v, old) < 0 || Features.refused) return false;
  lift(p);
  return true;
}

/** Two cuts, one below the other, that do not meet: the lower is made first. The pieces stay as they are; the sections may
 *  change. False where the lower cut v ends on its parent's. */
export function swapWithParent(v: i32): bool {
  const p = parent[v];
  if (p < 0 || left[v] < 0) return false;
  const l = left[v];
  const r = right[v];
  const alongL = edgeOn(region[l], p) >= 0;
  const alongR = edgeOn(region[r], p) >= 0;
  if (alongL === alongR) return false;
  // the child of v that lies along p's cut comes under p; v takes p's place
  const near = alongL ? l : r;
  const above = parent[p];
  save(v);
  save(p);
  save(near);
  const top = region[p];
  const L = takeRegion();
  const R = takeRegion();
  if (!split(top, v, L, R)) return false;
  replaceChild(above, p, v);
  if (left[p] === v) left[p] = near;
  else right[p] = near;
  parent[near] = p;
  if (alongL) left[v] = p;
  else right[v] = p;
  parent[p] = v;
  dropRegion(alongL ? R : L);
  dropRegion(region[v]);
  region[v] = top;
  region[p] = alongL ? L : R;
  gather(p);
  lift(v);
  return true;
}

/** The region of v is another than `before`: works that out for its subtree. Returns the node that now stands in v's place, or
 *  -1 where nothing of it can be sewn. */
function refit(v: i32, before: i32): i32 {
  if (left[v] >= 0) return refitCut(v);
  const b = region[v];
  Tree.pieceCost -= cost[before];
  if (!priceLeaf(b)) {
    cost[b] = 0;
    return -1;
  }
  Tree.pieceCost += cost[b];
  priceSection(v, 1, b);
  return v;
}

function refitCut(v: i32): i32 {
  const L = takeRegion();
  const R = takeRegion();
  const l = left[v];
  const r = right[v];
  if (!split(region[v], v, L, R)) {
    dropRegion(L);
    dropRegion(R);
    return collapse(v, mostlyLeft(v) ? l : r, -1, 0);
  }
  if (same(region[l], L)) dropRegion(L);
  else {
    const old = region[l];
    setRegion(l, L);
    if (refit(l, old) < 0) {
      dropRegion(R);
      return collapse(v, r, -1, 0);
    }
  }
  if (same(region[r], R)) dropRegion(R);
  else {
    const old = region[r];
    setRegion(r, R);
    if (refit(r, old) < 0) return collapse(v, left[v], -1, 0);
  }
  gather(v);
  return v;
}

/** Takes one side of v's cut away, with all its pieces: `keep`, the other side, gets v's region and stands in its place. What the
 *  whole holds is given, packed, where it is known. */
function collapse(v: i32, keep: i32, whole0: f64, whole1: f64): i32 {
  if (locked[v] !== FREE) Features.refused = true;
  if (Features.refused) return -1;
  const gone = left[v] === keep ? right[v] : left[v];
  if (Log.oldNodeCount + 2 * pieces[gone] > MOST_GONE) return -1;
  dropSubtree(gone);
  const before = region[keep];
  const whole = copyRegion(region[v]);
  save(keep);
  replaceChild(parent[v], v, keep);
  setRegion(keep, whole);
  retire(v);
  if (whole0 >= 0) knowRest(whole, whole0, whole1, -1);
  return refit(keep, before);
}

function dropSubtree(v: i32): void {
  if (locked[v] !== FREE) Features.refused = true;
  if (left[v] < 0) Tree.pieceCost -= cost[region[v]];
  else {
    dropSubtree(left[v]);
    dropSubtree(right[v]);
  }
  retire(v);
}

/** Which side of its own cut most of v's region lies on, where the cut does not cross it well. */
function mostlyLeft(v: i32): bool {
  const b = region[v];
  let least: f64 = 0;
  let most: f64 = 0;
  for (let i = 0; i < corners[b]; i++) {
    const f = nx[v] * xy[b * XY + 2 * i] + ny[v] * xy[b * XY + 2 * i + 1] - d[v];
    least = min(least, f);
    most = max(most, f);
  }
  return -least > most;
}

/** Works out afresh what lies above a node whose subtree changed. */
function rise(v: i32): bool {
  if (v < 0 || Features.refused) return false;
  if (parent[v] >= 0) lift(parent[v]);
  return true;
}
