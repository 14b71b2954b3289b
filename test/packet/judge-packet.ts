// What must hold of every packet, judged from the description of its pages and from its PDF read back: used by the tests on a
// few pictures and by the bench on all.
import type { Block } from '../../src/block.ts';
import { clipSegment } from '../../src/drawing/clip.ts';
import type { Drawing, Item } from '../../src/drawing/drawing.ts';
import { textCorners } from '../../src/drawing/fonts.ts';
import { insideConvex, type Point, type Polygon } from '../../src/geometry/polygon.ts';
import { cutLineFaults } from '../template/cut-line-faults.ts';
import { crowdedTexts } from '../template/readable.ts';
import { type ReadPage, readPdf, type StrokedPath } from './read-back.ts';

const PT = 72 / 25.4;

/** What a page shows: lines cut where they are clipped, texts left out that are hidden. */
export function shownItems(items: readonly Item[], within?: Polygon): Item[] {
  return items.flatMap((it): Item[] => {
    if (it.kind === 'group') return shownItems(it.items, within);
    if (it.kind === 'clip') return shownItems(it.items, it.ring);
    if (!within) return [it];
    if (it.kind === 'text') return textCorners(it).some((q) => insideConvex(within, q)) ? [it] : [];
    if (it.kind === 'circle') return insideConvex(within, it.centre, it.radius) ? [it] : [];
    if (it.kind !== 'path') return [it];
    const rings = it.rings.flatMap((r) =>
      r.flatMap((q, i) =>
        i + (it.closed ? 0 : 1) < r.length ? clipSegment([q, r[(i + 1) % r.length]!], within, []) : [],
      ),
    );
    return [{ ...it, rings, closed: false }];
  });
}

/** A disc of paper hides what was drawn before it: a number stands on it. */
function hideUnderDiscs(items: readonly Item[]): Item[] {
  const discs = items.flatMap((it, at) => (it.kind === 'circle' && it.fill === '#ffffff' ? [{ it, at }] : []));
  if (!discs.length) return [...items];
  return items.map((it, at): Item => {
    if (it.kind !== 'path') return it;
    const later = discs.filter((d) => d.at > at).map((d) => d.it);
    const far = (q: readonly [number, number]): boolean =>
      later.every((d) => Math.hypot(q[0] - d.centre[0], q[1] - d.centre[1]) > d.radius);
    if (!later.length) return it;
    // short pieces, and those under a disc are gone
    const rings = it.rings.flatMap((r) =>
      r.flatMap((a, i) => {
        if (i + (it.closed ? 0 : 1) >= r.length) return [];
        const b = r[(i + 1) % r.length]!;
        const n = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / 0.5));
        return Array.from({ length: n }, (_, k): [[number, number], [number, number]] => [
          [a[0] + ((b[0] - a[0]) * k) / n, a[1] + ((b[1] - a[1]) * k) / n],
          [a[0] + ((b[0] - a[0]) * (k + 1)) / n, a[1] + ((b[1] - a[1]) * (k + 1)) / n],
        ]).filter(([p, q]) => far(p) && far(q));
      }),
    );
    return { ...it, rings, closed: false };
  });
}

/** Texts that leave the page, touch a line or touch one another; one sentence each. `gap`: mm that lines keep off. */
export function unreadable(page: Drawing, gap: number): string[] {
  const items = hideUnderDiscs(shownItems(page.items)).filter((it) => !(it.kind === 'path' && it.role === 'picture'));
  const out = items.flatMap((it) =>
    it.kind === 'text' && textCorners(it).some(([x, y]) => x < 3 || y < 3 || x > page.width - 3 || y > page.height - 3)
      ? [`"${it.text}" leaves the page`]
      : [],
  );
  const crowded = crowdedTexts(items, gap, Math.min(gap, 0.15));
  return [...out, ...crowded.map((c) => `"${c.words}" lies ${c.gap.toFixed(2)} mm from ${c.by}`)];
}

const distance = (a: readonly number[], b: readonly number[]): number => Math.hypot(b[0]! - a[0]!, b[1]! - a[1]!);
const offLine = (a: readonly number[], b: readonly number[], q: readonly number[]): number =>
  ((b[0]! - a[0]!) * (q[1]! - a[1]!) - (b[1]! - a[1]!) * (q[0]! - a[0]!)) / distance(a, b);
const edges = (ring: readonly (readonly number[])[]) => ring.map((a, i) => [a, ring[(i + 1) % ring.length]!] as const);

/** Sewing lines are solid 0.6 mm, cut lines dashed 4 and 2 mm (trade rule). */
export const sewingLines = (p: ReadPage): StrokedPath[] =>
  p.strokes.filter((s) => s.closed && !s.dash.length && Math.abs(s.width - 0.6 * PT) < 0.01);
export const cutLines = (p: ReadPage): StrokedPath[] =>
  p.strokes.filter((s) => s.closed && s.dash.length === 2 && Math.abs(s.dash[0]! - 4 * PT) < 0.01);

/** The sides of a ring with straight corners left out, sorted: the same for a section and its mirrored, turned template. */
function sides(ring: readonly (readonly number[])[]): number[] {
  const kept = ring.filter((q, i) => {
    const a = ring[(i + ring.length - 1) % ring.length]!;
    const b = ring[(i + 1) % ring.length]!;
    return distance(a, q) > 1e-9 && Math.abs(offLine(a, b, q)) > 0.02;
  });
  return edges(kept)
    .map(([a, b]) => distance(a, b))
    .sort((x, y) => x - y);
}

export interface ReadBack {
  readonly faults: string[];
  readonly pages: number;
}

/** Reads the PDF of template sheets back: every section that is not split is there once, at true size within 0.1 mm, its cut
 *  line the allowance outside; page size, scale square; printing at 100 %. */
export async function readBackSheets(
  pdf: Uint8Array,
  block: Block,
  split: readonly string[],
  size: readonly [number, number],
  allowance: number,
): Promise<ReadBack> {
  const { pages, preferences } = await readPdf(pdf);
  const faults: string[] = [];
  if (preferences?.PrintScaling !== 'None' || preferences?.Duplex !== 'Simplex') faults.push('print preferences');
  const found: number[][] = [];
  pages.forEach((p, n) => {
    if (Math.abs(p.view[2]! - size[0] * PT) > 0.01 || Math.abs(p.view[3]! - size[1] * PT) > 0.01)
      faults.push(`page ${n + 1} has another size`);
    const square = p.strokes.some(
      (s) =>
        s.closed &&
        s.rings[0]!.length === 4 &&
        edges(s.rings[0]!).every(([a, b]) => Math.abs(distance(a, b) - 72) < 0.01),
    );
    if (!square) faults.push(`page ${n + 1} has no square of 1 in`);
    const cuts = cutLines(p);
    for (const sewing of sewingLines(p)) {
      const ring = sewing.rings[0]!;
      found.push(sides(ring).map((v) => v / PT));
      const around = cuts.filter((c) => ring.every((q) => insideConvex(c.rings[0]!, q)));
      if (around.length !== 1) faults.push(`page ${n + 1}: a sewing line lies in ${around.length} cut lines`);
      const inMm = (P: readonly [number, number][]): Point[] => P.map(([x, y]) => [x / PT, -y / PT]);
      for (const c of around)
        for (const fault of cutLineFaults(inMm(ring), inMm(c.rings[0]!), allowance))
          faults.push(`page ${n + 1}: ${fault}`);
    }
  });
  for (const s of block.sections) {
    if (split.includes(s.id)) continue;
    const want = sides(s.outline);
    const at = found.findIndex(
      (got) => got.length === want.length && got.every((v, i) => Math.abs(v - want[i]!) < 0.1),
    );
    if (at < 0) faults.push(`section ${s.id} is missing or not at true size`);
    else found.splice(at, 1);
  }
  return { faults, pages: pages.length };
}
