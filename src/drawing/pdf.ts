// Drawings -> a PDF, one page each, at true size: 1 in is 72 units (ISO 32000). The same drawings give the same bytes.
import PDFDocument from 'pdfkit';
import { BLACK, type Drawing, type FaceName, type Item, MM_PER_PT, type Stroke } from './drawing.ts';
import { lineRuns, measureText, openFont, UNDERLINE } from './fonts.ts';

/** Documents carry one fixed date, so that two runs give the same file. */
const FIXED_DATE = new Date(Date.UTC(2000, 0, 1));

/** An entry of the outline that viewers show beside the pages: a part and what is in it. */
export interface OutlineEntry {
  readonly title: string;
  /** from 0 */
  readonly page: number;
  readonly within: readonly { readonly title: string; readonly page: number }[];
}

export interface PdfInfo {
  readonly title: string;
  readonly outline?: readonly OutlineEntry[];
  readonly author?: string;
  readonly subject?: string;
}

/** Adds the entries of the outline that begin on a page while that page is open: pdfkit ties an entry to it. */
function outlineWriter(doc: Doc, outline: readonly OutlineEntry[]): (page: number) => void {
  const made = new Map<OutlineEntry, PDFKit.PDFOutline>();
  return (page) => {
    for (const part of outline) {
      if (part.page === page) made.set(part, doc.outline.addItem(part.title));
      for (const w of part.within) if (w.page === page) made.get(part)?.addItem(w.title);
    }
  };
}

/** To points, at 1/10000 pt: no visible error, short numbers. */
const pt = (v: number): number => Math.round((v / MM_PER_PT) * 1e4) / 1e4;

type Doc = PDFKit.PDFDocument;

/** pdfkit also takes a font that fontkit has opened (its types do not say so); opening one anew for each file takes 0.2 s. */
const sharedFont = (face: FaceName): string => openFont(face) as unknown as string;

/** Embedded only where it is used. */
const useFont = (doc: Doc, face: FaceName): Doc => doc.font(sharedFont(face), face);

/** What pdfkit's own `text` comes down to for one line: it would measure each line twice more, for wrapping and underlines. */
interface Fragments {
  _fragment(words: string, x: number, y: number, options: typeof PLAIN_LINE): void;
}
const PLAIN_LINE = { lineBreak: false, baseline: 'alphabetic', textWidth: 0, wordCount: 1 };

/** What the page's state is: a colour or a width that holds already is not written again, which takes most of the time. */
interface Pen {
  fill?: string;
  stroke?: string;
  width?: number;
  dash?: string;
}

class Page {
  readonly doc: Doc;
  private pen: Pen = {};
  private readonly kept: Pen[] = [];

  constructor(doc: Doc) {
    this.doc = doc;
  }

  save(): void {
    this.kept.push({ ...this.pen });
    this.doc.save();
  }

  restore(): void {
    this.pen = this.kept.pop()!;
    this.doc.restore();
  }

  fillWith(colour: string): void {
    if (this.pen.fill !== colour) this.doc.fillColor(colour);
    this.pen.fill = colour;
  }

  strokeWith({ width, colour = BLACK, dash }: Stroke): void {
    if (this.pen.width !== width) this.doc.lineWidth(pt(width));
    if (this.pen.stroke !== colour) this.doc.strokeColor(colour);
    const dashed = dash?.join() ?? '';
    if (this.pen.dash !== dashed) {
      if (dash) this.doc.dash(pt(dash[0]), { space: pt(dash[1]) });
      else this.doc.undash();
    }
    this.pen = { ...this.pen, width, stroke: colour, dash: dashed };
  }
}

/** A shape in its colours: they are set before it is begun, for between a path and its painting nothing else may stand
 *  (ISO 32000-1, 8.2). */
function paint(page: Page, stroke: Stroke | undefined, fill: string | undefined, shape: () => void): void {
  if (fill) page.fillWith(fill);
  if (stroke) page.strokeWith(stroke);
  shape();
  // the rule alone: pdfkit writes what it is given as colours
  if (fill && stroke) page.doc.fillAndStroke('even-odd' as never);
  else if (fill) page.doc.fill('even-odd');
  else if (stroke) page.doc.stroke();
}

function drawItem(page: Page, it: Item): void {
  const { doc } = page;
  switch (it.kind) {
    case 'group':
      for (const inner of it.items) drawItem(page, inner);
      return;
    case 'clip':
      page.save();
      trace(doc, [it.ring], true);
      doc.clip();
      for (const inner of it.items) drawItem(page, inner);
      page.restore();
      return;
    case 'path':
      paint(page, it.stroke, it.fill, () => trace(doc, it.rings, it.closed));
      return;
    case 'circle':
      paint(page, it.stroke, it.fill, () => doc.circle(pt(it.centre[0]), pt(it.centre[1]), pt(it.radius)));
      return;
    case 'image':
      doc.image(Buffer.from(it.file), pt(it.at[0]), pt(it.at[1]), { width: pt(it.width), height: pt(it.height) });
      return;
    case 'text': {
      const { width } = measureText(it.text, it.size, it.font);
      const shift = it.align === 'start' ? 0 : it.align === 'middle' ? -width / 2 : -width;
      page.fillWith(it.colour ?? BLACK);
      // what is not turned needs no coordinates of its own
      const turned = it.turn % 360 !== 0;
      const [x0, y0] = turned ? [0, 0] : it.at;
      if (turned) {
        page.save();
        doc.translate(pt(it.at[0]), pt(it.at[1]));
        doc.rotate(it.turn);
      }
      doc.fontSize(it.size);
      let x = shift;
      const runs = lineRuns(it.text, it.font);
      for (const { face, words } of runs) {
        useFont(doc, face);
        (doc as unknown as Fragments)._fragment(words, pt(x0 + x), pt(y0), PLAIN_LINE);
        if (runs.length > 1) x += measureText(words, it.size, it.font).width;
      }
      if (it.underline)
        doc.rect(pt(x0 + shift), pt(y0) + UNDERLINE.drop * it.size, pt(width), UNDERLINE.thickness * it.size).fill();
      if (turned) page.restore();
    }
  }
}

function trace(doc: Doc, rings: readonly (readonly (readonly [number, number])[])[], closed: boolean): void {
  for (const ring of rings) {
    ring.forEach((q, i) => {
      if (i === 0) doc.moveTo(pt(q[0]), pt(q[1]));
      else doc.lineTo(pt(q[0]), pt(q[1]));
    });
    if (closed) doc.closePath();
  }
}

/** Points from which a line of bold text is a heading to those who listen to the pages. */
const HEADINGS: readonly (readonly [size: number, tag: string])[] = [
  [16, 'H1'],
  [12, 'H2'],
  [9.5, 'H3'],
];

/** What a reader for the blind says of an item: its text; lines and pictures it passes over. */
function tagOf(it: Item): string | undefined {
  if (it.kind !== 'text') return undefined;
  return (it.font === 'bold' && HEADINGS.find(([size]) => it.size >= size)?.[1]) || 'P';
}

/** A page's items in runs of one kind, each tagged (ISO 32000-1, 14.8): text with its kind, all else as an artifact. Groups, which are
 *  templates and the foot of their sheets, are figures with a name. */
function drawTagged(doc: Doc, paper: Page, page: Drawing, part: PDFKit.PDFStructureElement): void {
  let open: { readonly tag: string | undefined; readonly element?: PDFKit.PDFStructureElement } | undefined;
  const close = (): void => {
    if (!open) return;
    doc.endMarkedContent();
    open.element?.end();
    open = undefined;
  };
  const begin = (tag: string | undefined, alt?: string): void => {
    if (!tag) {
      doc.markContent('Artifact');
      open = { tag };
      return;
    }
    const element = doc.struct(tag as never, { ...(alt && { alt }) }, doc.markStructureContent(tag));
    part.add(element);
    open = { tag, element };
  };
  for (const it of page.items) {
    if (it.kind === 'group') {
      close();
      begin('Figure', it.name === 'sheet' ? page.title : `template of ${it.name}`);
      drawItem(paper, it);
      close();
      continue;
    }
    const tag = tagOf(it);
    if (open && open.tag !== tag) close();
    if (!open) begin(tag);
    drawItem(paper, it);
  }
  close();
}

/** Writes the drawings as pages. Viewers are asked to print at 100 %, one side only. */
export function writePdf(pages: Iterable<Drawing>, info: PdfInfo): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const doc = new PDFDocument({
      autoFirstPage: false,
      margin: 0,
      // no default font: it would be embedded beside ours
      font: null as unknown as string,
      pdfVersion: '1.7',
      lang: LANGUAGE,
      tagged: true,
      info: {
        Title: info.title,
        Creator: 'Seamwright',
        Producer: 'Seamwright',
        ...(info.author ? { Author: info.author } : {}),
        ...(info.subject ? { Subject: info.subject } : {}),
        CreationDate: FIXED_DATE,
        ModDate: FIXED_DATE,
      },
    });
    const chunks: Uint8Array[] = [];
    doc.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    doc.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    doc.on('error', reject);
    try {
      // pdfkit has no call for these two; plain strings become names (/None, /Simplex)
      const root = (doc as unknown as { _root: { data: Record<string, unknown> } })._root;
      root.data.ViewerPreferences = doc.ref({ PrintScaling: 'None', Duplex: 'Simplex', DisplayDocTitle: true });
      const whole = doc.struct('Document');
      doc.addStructure(whole);
      const addEntries = outlineWriter(doc, info.outline ?? []);
      let n = 0;
      for (const page of pages) {
        doc.addPage({ size: [pt(page.width), pt(page.height)], margin: 0 });
        addEntries(n++);
        const part = doc.struct('Sect');
        whole.add(part);
        drawTagged(doc, new Page(doc), page, part);
        part.end();
      }
      whole.end();
      doc.end();
    } catch (error) {
      reject(error);
    }
  });
}

/** The language of all words that are printed (BCP 47). */
const LANGUAGE = 'en-US';
