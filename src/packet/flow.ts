// Words and pictures set down a page, on to the next where one is full. Gives drawings without page numbers; those come last.
import { type Drawing, type Item, MM_PER_PT, placeItems, polyline, rectangle, text } from '../drawing/drawing.ts';
import { measureText, wrapText } from '../drawing/fonts.ts';
import { type Paper, type PaperFrame, paperSize, printableFrame } from '../drawing/paper.ts';

/** mm at the foot of a page for its number */
const FOOT = 8;

/** A part of the packet, and where it is: pages from 0. */
export interface PartEntry {
  readonly title: string;
  readonly page: number;
  readonly last: number;
  readonly within: readonly { readonly title: string; readonly page: number }[];
}

export class Flow {
  readonly frame: PaperFrame;
  /** parts of the packet, each from its heading */
  readonly parts: { title: string; page: number; last: number; within: { title: string; page: number }[] }[] = [];
  private part?: string | undefined;
  private readonly pages: Item[][] = [];
  private readonly paper: Paper;
  /** mm from the top of the sheet to where the next thing goes */
  y = 0;

  constructor(paper: Paper, margin: number) {
    this.paper = paper;
    const f = printableFrame(paper, margin);
    this.frame = { ...f, height: f.height - FOOT };
    this.newPage();
  }

  get left(): number {
    return this.frame.x;
  }
  get width(): number {
    return this.frame.width;
  }
  get bottom(): number {
    return this.frame.y + this.frame.height;
  }

  /** pages so far */
  get length(): number {
    return this.pages.length;
  }

  newPage(): void {
    this.pages.push([]);
    this.y = this.frame.y;
  }

  /** A part of the packet: all that `draw` sets down, from its first heading on. */
  partOf(title: string, draw: () => void): void {
    this.part = title;
    draw();
    const own = this.parts.at(-1);
    if (own?.title === title) own.last = this.pages.length - 1;
  }

  /** Notes that something begins here that a reader may look for within a part. */
  begin(title: string): void {
    this.parts.at(-1)?.within.push({ title, page: this.pages.length - 1 });
  }

  /** A new page, unless nothing is on this one. */
  freshPage(): void {
    if (this.pages.at(-1)!.length) this.newPage();
  }

  add(...items: readonly Item[]): void {
    this.pages.at(-1)!.push(...items);
  }

  /** Items that were drawn about their own upper left corner, in their place. */
  place(items: readonly Item[], x: number, y: number): void {
    this.add(...placeItems(items, { turn: 0, dx: x, dy: y }));
  }

  /** A new page where less than `height` mm is left. */
  need(height: number): boolean {
    if (this.y + height <= this.bottom + 1e-6) return false;
    this.newPage();
    return true;
  }

  space(height: number): void {
    this.y += height;
  }

  heading(words: string, size = 16): void {
    const lines = wrapText(words, size, 'bold', this.width);
    this.need(lines.length * size * MM_PER_PT * 1.25 + 14);
    if (this.part !== undefined) {
      const page = this.pages.length - 1;
      this.parts.push({ title: this.part, page, last: page, within: [] });
      this.part = undefined;
    }
    for (const line of lines) {
      this.y += size * MM_PER_PT;
      this.add(text('text', [this.left, this.y], line, size, { font: 'bold' }));
      this.y += size * MM_PER_PT * 0.35;
    }
    if (size >= 14) {
      this.add(
        polyline(
          'rule',
          [
            [this.left, this.y],
            [this.left + this.width, this.y],
          ],
          { width: 0.3 },
        ),
      );
      this.y += 3;
    }
  }

  paragraph(
    words: string,
    options: { size?: number; bold?: boolean; indent?: number; bullet?: string; width?: number } = {},
  ): void {
    const { size = 9.5, bold = false, indent = 0, bullet } = options;
    const font = bold ? 'bold' : 'regular';
    const hang = bullet ? 5.5 : 0;
    const width = (options.width ?? this.width) - indent - hang;
    const leading = size * MM_PER_PT * 1.35;
    wrapText(words, size, font, width).forEach((line, i) => {
      this.need(leading);
      this.y += leading;
      const base = this.y - size * MM_PER_PT * 0.3;
      if (bullet && i === 0) this.add(text('text', [this.left + indent, base], bullet, size));
      this.add(text('text', [this.left + indent + hang, base], line, size, { font }));
    });
    this.y += size * MM_PER_PT * 0.4;
  }

  /** Cells of one width set in rows; each is drawn about its own upper left corner. */
  grid(cells: readonly Cell[], columns: number, gap: number): void {
    const width = (this.width - gap * (columns - 1)) / columns;
    for (let i = 0; i < cells.length; i += columns) {
      const row = cells.slice(i, i + columns);
      const height = Math.max(...row.map((c) => c.height));
      this.need(height);
      row.forEach((c, k) => {
        this.add(...placeItems(c.items, { turn: 0, dx: this.left + k * (width + gap), dy: this.y }));
      });
      this.y += height + gap;
    }
  }

  drawings(title: string): Drawing[] {
    const [width, height] = paperSize(this.paper);
    return this.pages.map((items) => ({ width, height, title, items }));
  }
}

export interface Cell {
  readonly height: number;
  readonly items: readonly Item[];
}

/** An empty square to tick. */
export const tickBox = (x: number, y: number, side = 3): Item =>
  rectangle('box', x, y, side, side, { stroke: { width: 0.25 } });

/** As much of a text as fits one line, with an ellipsis where some is left out. */
export function oneLine(words: string, size: number, width: number, bold = false): string {
  const font = bold ? 'bold' : 'regular';
  if (measureText(words, size, font).width <= width) return words;
  let short = words;
  while (short && measureText(`${short}…`, size, font).width > width) short = short.slice(0, -1).trimEnd();
  return `${short}…`;
}

/** The page's number and the block's name at its foot. */
export function withFoot(page: Drawing, frame: PaperFrame, words: string, number: string): Drawing {
  const y = frame.y + frame.height + FOOT - 1.5;
  return {
    ...page,
    items: [
      ...page.items,
      text('text', [frame.x, y], oneLine(words, 7, frame.width - 40), 7),
      text('text', [frame.x + frame.width, y], number, 7, { align: 'end' }),
    ],
  };
}
