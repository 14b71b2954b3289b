// Templates as they are printed, read back from the PDF: sewing line, cut line and the ticks across the allowance, in mm of the
// page, y down. Knows the trade's rule for lines, nothing of the code that draws them.
import { distance, offLine, type Point, type Polygon, signedArea } from '../../src/geometry/polygon.ts';
import { cutLines, sewingLines } from '../packet/judge-packet.ts';
import { type ReadPage, readPdf } from '../packet/read-back.ts';
import { toRing } from './cut-line-faults.ts';

const POINT = 25.4 / 72;
/** mm: what is printed is read to a few hundredths of a point */
const SAME = 0.03;

export interface PrintedTemplate {
  /** from 0 */
  readonly page: number;
  /** in positive order, corners on the line of their neighbours left out */
  readonly outline: Polygon;
  readonly cut: Polygon;
  /** for each edge of the outline, from its first corner on, where ticks stand on it: mm, ascending */
  readonly ticks: readonly (readonly number[])[];
}

export async function readTemplates(pdf: Uint8Array, allowance: number): Promise<PrintedTemplate[]> {
  const { pages } = await readPdf(pdf);
  return pages.flatMap((page, n) => templatesOn(page, allowance).map((t) => ({ page: n, ...t })));
}

function templatesOn(page: ReadPage, allowance: number): Omit<PrintedTemplate, 'page'>[] {
  const here = (ring: readonly (readonly [number, number])[]): Point[] =>
    ring.map(([x, y]): Point => [x * POINT, (page.view[3]! - y) * POINT]);
  const cuts = cutLines(page).map((s) => here(s.rings[0]!));
  // ticks are solid, 0.4 mm wide
  const thin = page.strokes
    .filter((s) => !s.closed && !s.dash.length && Math.abs(s.width * POINT - 0.4) < 0.01)
    .flatMap((s) => s.rings.filter((r) => r.length === 2).map((r) => here(r)));
  return sewingLines(page).map((s) => {
    const outline = corners(here(s.rings[0]!));
    const around = cuts.filter((c) => outline.every((q) => isInside(c, q)));
    if (around.length !== 1) throw new Error(`${around.length} cut lines about a sewing line`);
    const ticks = outline.map((a, i) => ticksOn(a, outline[(i + 1) % outline.length]!, thin, around[0]!, allowance));
    return { outline, cut: around[0]!, ticks };
  });
}

/** Where segments stand square on an edge and reach from it across the allowance to the cut line. */
function ticksOn(a: Point, b: Point, thin: readonly Point[][], cut: Polygon, allowance: number): number[] {
  const length = distance(a, b);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  return thin
    .flatMap(([from, to]) => {
      const at = (from![0] - a[0]) * ux + (from![1] - a[1]) * uy;
      const stands = Math.abs(offLine(a, b, from!)) < SAME && at > -SAME && at < length + SAME;
      const square = Math.abs((to![0] - from![0]) * ux + (to![1] - from![1]) * uy) < SAME;
      // outwards: to the right of an edge in positive order
      const across = Math.abs((to![0] - from![0]) * uy - (to![1] - from![1]) * ux - allowance) < SAME;
      return stands && square && across && toRing(to!, cut) < SAME ? [at] : [];
    })
    .sort((x, y) => x - y);
}

/** Positive order, without corners that are none. */
export function corners(ring: readonly Point[]): Point[] {
  const P = signedArea(ring) < 0 ? [...ring].reverse() : ring;
  const apart = P.filter((q, i) => distance(q, P[(i + P.length - 1) % P.length]!) > 0.01);
  return apart.filter((q, i) => {
    const [a, b] = [apart[(i + apart.length - 1) % apart.length]!, apart[(i + 1) % apart.length]!];
    return Math.abs(offLine(a, b, q)) > 0.005;
  });
}

const isInside = (P: Polygon, q: Point): boolean =>
  P.every((a, i) => offLine(a, P[(i + 1) % P.length]!, q) * Math.sign(signedArea(P)) > 0);
