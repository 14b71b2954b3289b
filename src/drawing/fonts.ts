// The bundled font: where its files lie (from source and from a built dist alike), how wide and high a text really is,
// and how it wraps. DejaVu Sans, free licence, from the package dejavu-fonts-ttf.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { create, type Font } from 'fontkit';
import type { Point } from '../geometry/polygon.ts';
import { type FontName, MM_PER_PT, type TextItem } from './drawing.ts';

const FILES: Record<FontName, string> = { regular: 'DejaVuSans.ttf', bold: 'DejaVuSans-Bold.ttf' };
export const FONT_FAMILY = 'DejaVu Sans';

/** Path of the font file. */
export function fontPath(name: FontName): string {
  const home = dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json'));
  return join(home, 'ttf', FILES[name]);
}

const opened = new Map<FontName, Font>();
/** The parsed font; read once, for it never changes. */
export function openFont(name: FontName): Font {
  let font = opened.get(name);
  if (!font) {
    font = create(readFileSync(fontPath(name))) as Font;
    opened.set(name, font);
  }
  return font;
}

export interface TextSize {
  /** mm: how far the pen moves */
  readonly width: number;
  /** mm of ink above the baseline */
  readonly ascent: number;
  /** mm of ink below the baseline */
  readonly descent: number;
}

interface EmSize {
  readonly advance: number;
  readonly top: number;
  readonly bottom: number;
}
const measured: Record<FontName, Map<string, EmSize>> = { regular: new Map(), bold: new Map() };

/** One word with the space after it, in ems. Words recur, lines do not; and the PDF sets its text word by word too. */
function measureWord(word: string, name: FontName): EmSize {
  const known = measured[name].get(word);
  if (known) return known;
  const font = openFont(name);
  let [top, bottom] = [0, 0];
  const run = font.layout(word);
  for (const g of run.glyphs) {
    const b = g.bbox;
    if (!Number.isFinite(b.maxY)) continue;
    top = Math.max(top, b.maxY);
    bottom = Math.min(bottom, b.minY);
  }
  const em = font.unitsPerEm;
  const size = { advance: run.advanceWidth / em, top: top / em, bottom: bottom / em };
  if (measured[name].size > 20000) measured[name].clear();
  measured[name].set(word, size);
  return size;
}

/** Size of one line of text, `points` high, in mm, from the font's own glyphs. */
export function measureText(text: string, points: number, font: FontName = 'regular'): TextSize {
  const k = points * MM_PER_PT;
  let [advance, top, bottom] = [0, 0, 0];
  for (const word of text.split(/(?<= )/)) {
    const e = measureWord(word, font);
    advance += e.advance;
    top = Math.max(top, e.top);
    bottom = Math.min(bottom, e.bottom);
  }
  return { width: advance * k, ascent: top * k, descent: -bottom * k };
}

/** Where the underline lies below the baseline and how thick it is, as shares of the text's size. */
export const UNDERLINE = { drop: 0.14, thickness: 0.06 };

/** The four corners of the ink of a text item. */
export function textCorners(t: TextItem): Point[] {
  const m = measureText(t.text, t.size, t.font);
  const x0 = t.align === 'start' ? 0 : t.align === 'middle' ? -m.width / 2 : -m.width;
  const below = t.underline
    ? Math.max(m.descent, (UNDERLINE.drop + UNDERLINE.thickness) * t.size * MM_PER_PT)
    : m.descent;
  const a = (t.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  const corner = (x: number, y: number): Point => [t.at[0] + x * c - y * s, t.at[1] + x * s + y * c];
  return [corner(x0, -m.ascent), corner(x0 + m.width, -m.ascent), corner(x0 + m.width, below), corner(x0, below)];
}

/** Breaks a text into lines no wider than `width` mm; a word wider than that is broken too. */
export function wrapText(text: string, points: number, font: FontName, width: number): string[] {
  const fits = (s: string): boolean => measureText(s, points, font).width <= width;
  const lines: string[] = [];
  for (const paragraph of text.split('\n')) {
    let line = '';
    for (const word of paragraph.split(/\s+/).filter(Boolean)) {
      const longer = line ? `${line} ${word}` : word;
      if (fits(longer)) {
        line = longer;
        continue;
      }
      if (line) lines.push(line);
      line = '';
      for (const letter of word) {
        if (line && !fits(line + letter)) {
          lines.push(line);
          line = '';
        }
        line += letter;
      }
    }
    lines.push(line);
  }
  return lines;
}

/** The characters of a text that the bundled font cannot draw, each once. */
export function missingCharacters(text: string): string[] {
  const font = openFont('regular');
  return [...new Set(text)].filter((ch) => !/\s/.test(ch) && !font.hasGlyphForCodePoint(ch.codePointAt(0)!));
}
