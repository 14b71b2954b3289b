// Reads a PDF back with pdfjs: page boxes, text, stroked paths in points (y up), viewer preferences, fonts.
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface StrokedPath {
  /** subpaths in points of the page, y up */
  readonly rings: [number, number][][];
  readonly width: number;
  readonly dash: number[];
  readonly closed: boolean;
  /** #rrggbb where it is filled too */
  readonly fill?: string;
}

export interface ReadPage {
  readonly view: number[];
  readonly words: string[];
  readonly strokes: StrokedPath[];
}

type Matrix = [number, number, number, number, number, number];
const times = (m: Matrix, n: Matrix): Matrix => [
  m[0] * n[0] + m[2] * n[1],
  m[1] * n[0] + m[3] * n[1],
  m[0] * n[2] + m[2] * n[3],
  m[1] * n[2] + m[3] * n[3],
  m[0] * n[4] + m[2] * n[5] + m[4],
  m[1] * n[4] + m[3] * n[5] + m[5],
];

export async function readPdf(bytes: Uint8Array) {
  const doc = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const pages: ReadPage[] = [];
  for (let n = 1; n <= doc.numPages; n++) {
    const page = await doc.getPage(n);
    const content = await page.getTextContent();
    const words = content.items.flatMap((it) => ('str' in it && it.str.trim() ? [it.str.trim()] : []));
    const list = await page.getOperatorList();
    pages.push({ view: page.view, words, strokes: strokesOf(list.fnArray, list.argsArray) });
  }
  const preferences = (await doc.getViewerPreferences()) as Record<string, unknown> | null;
  const info = (await doc.getMetadata()).info as Record<string, unknown>;
  const marked = ((await doc.getMarkInfo()) as { Marked?: boolean } | null)?.Marked ?? false;
  const entries = ((await doc.getOutline()) ?? []) as unknown as RawEntry[];
  const outline = await Promise.all(
    entries.map(async ({ title, dest, items }) => ({ title, items, page: await doc.getPageIndex(dest[0] as never) })),
  );
  const tree: string[][] = [];
  for (let n = 1; n <= doc.numPages; n++) tree.push(rolesIn(await (await doc.getPage(n)).getStructTree()));
  await doc.destroy();
  return { pages, preferences, info, outline, marked, tree };
}

interface RawEntry {
  readonly title: string;
  readonly dest: readonly unknown[];
  readonly items: readonly { readonly title: string }[];
}

/** What the parts of a page are to those who listen to it: "H1", "P", "Figure". */
function rolesIn(node: unknown): string[] {
  const { role, children = [] } = (node ?? {}) as { role?: string; children?: unknown[] };
  return [...(role ? [role] : []), ...children.flatMap(rolesIn)];
}

function strokesOf(fns: number[], args: unknown[][]): StrokedPath[] {
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  let width = 1;
  let dash: number[] = [];
  let fill = '#000000';
  const stack: { matrix: Matrix; width: number; dash: number[]; fill: string }[] = [];
  const out: StrokedPath[] = [];
  fns.forEach((fn, i) => {
    const a = args[i]!;
    if (fn === OPS.save) stack.push({ matrix, width, dash, fill });
    else if (fn === OPS.restore) ({ matrix, width, dash, fill } = stack.pop()!);
    else if (fn === OPS.transform) matrix = times(matrix, a as Matrix);
    else if (fn === OPS.setLineWidth) width = a[0] as number;
    else if (fn === OPS.setDash) dash = a[0] as number[];
    else if (fn === OPS.setFillRGBColor) fill = a[0] as string;
    else if (fn === OPS.constructPath) {
      const [painting, data] = a as [number, (Float32Array | null)[]];
      if (![OPS.stroke, OPS.closeStroke, OPS.fillStroke, OPS.eoFillStroke].includes(painting)) return;
      const path = data[0];
      if (!path) return;
      const rings: [number, number][][] = [];
      let closed = false;
      const at = (x: number, y: number): [number, number] => [
        matrix[0] * x + matrix[2] * y + matrix[4],
        matrix[1] * x + matrix[3] * y + matrix[5],
      ];
      // 0 move, 1 line, 2 curve, 3 quadratic, 4 close: pdfjs's own numbering of path commands
      for (let k = 0; k < path.length; ) {
        const op = path[k++]!;
        if (op === 0) rings.push([at(path[k++]!, path[k++]!)]);
        else if (op === 1) rings.at(-1)!.push(at(path[k++]!, path[k++]!));
        else if (op === 2) k += 6;
        else if (op === 3) k += 4;
        else if (op === 4) closed = true;
        else throw new Error(`unknown path command ${op}`);
      }
      const filled = painting === OPS.fillStroke || painting === OPS.eoFillStroke;
      out.push({ rings, width, dash, closed, ...(filled && { fill }) });
    }
  });
  return out;
}
