// The bundled font: how wide and high a text really is, and how it wraps. DejaVu Sans, free licence, from the package
// dejavu-fonts-ttf. Where its bytes come from is elsewhere: font-files.ts, or what was handed in.

import { create, type Font } from 'fontkit';
import { readFontFile } from '#font-files';
import type { Point } from '../geometry/polygon.ts';
import { type FaceName, type FontName, MM_PER_PT, type TextItem } from './drawing.ts';

export const FACES: readonly FaceName[] = ['regular', 'bold', 'serif', 'symbols'];
export const FONT_FAMILY = 'DejaVu Sans';

/** The bytes of TrueType files. Without `serif` and `symbols`, characters that the first two lack are measured as empty boxes. */
export interface FontBytes {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
  readonly serif?: Uint8Array;
  readonly symbols?: Uint8Array;
}

const opened = new Map<FaceName, Font | undefined>();

/** Hands in the fonts where none are installed, as in a browser; before anything with words is laid out. In Node those that are
 *  not handed in are the installed ones. */
export function useFonts(fonts: FontBytes): void {
  for (const face of FACES) if (fonts[face]) opened.set(face, parseFont(fonts[face]));
  for (const known of Object.values(measured)) known.clear();
}

// fontkit reads any bytes; its types ask for Node's own kind
const parseFont = (bytes: Uint8Array): Font => withQuickLayout(create(bytes as Buffer) as Font);

/** The parsed font; read once, for it never changes. */
function findFont(name: FaceName): Font | undefined {
  if (!opened.has(name)) {
    const bytes = readFontFile(name);
    opened.set(name, bytes && parseFont(bytes));
  }
  return opened.get(name);
}

/** Throws where there is no such font. */
export function openFont(name: FaceName): Font {
  const font = findFont(name);
  if (!font) throw new Error(`There is no font to measure words with: give its bytes to useFonts first ("${name}").`);
  return font;
}

/** Letters that may become one sign with their neighbour, or change by it: left to the font's own tables. */
const JOINING = /[^\x20-\x7e]|f[fijl]/;

/** What fontkit reads of a font's table `kern` in its format 0: pairs of glyphs and by how much they move together. */
interface KernTable {
  readonly tables: readonly {
    readonly format: number;
    readonly subtable: { readonly pairs: readonly { left: number; right: number; value: number }[] };
  }[];
}

/** In our fonts a plain word is as wide as its letters and the kerning of its pairs (a test compares): taken from the table of
 *  pairs, in a tenth of the time that the font's rules of layout take. The PDF's writer sets its text by the same font object. */
function withQuickLayout(font: Font): Font {
  const whole = font.layout.bind(font);
  const kern = new Map<number, number>();
  for (const { format, subtable } of (font as unknown as { kern?: KernTable }).kern?.tables ?? [])
    if (format === 0) for (const { left, right, value } of subtable.pairs) kern.set(left * 65536 + right, value);
  const quick = (text: string, ...rest: unknown[]): unknown => {
    if (!kern.size || rest.some((r) => r !== undefined) || JOINING.test(text))
      return (whole as (...given: unknown[]) => unknown)(text, ...rest);
    const glyphs = Array.from(text, (ch) => font.glyphForCodePoint(ch.codePointAt(0)!));
    // new each time: the writer scales them in place
    const positions = glyphs.map((g, i) => {
      const next = glyphs[i + 1];
      const xAdvance = g.advanceWidth + (next ? (kern.get(g.id * 65536 + next.id) ?? 0) : 0);
      return { xAdvance, yAdvance: 0, xOffset: 0, yOffset: 0 };
    });
    return { glyphs, positions, advanceWidth: positions.reduce((sum, p) => sum + p.xAdvance, 0) };
  };
  (font as { layout: unknown }).layout = quick;
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

const has = (face: FaceName, ch: string): boolean => findFont(face)?.hasGlyphForCodePoint(ch.codePointAt(0)!) ?? false;
/** marks that change the character before them and need no glyph of their own */
const SILENT = /\p{Default_Ignorable_Code_Point}/u;
const PLAIN = /^[\x20-\x7e]*$/;

/** A text in the faces that have its characters; what none of them has stays with the face that was asked for. */
export function runsOf(text: string, name: FontName): { face: FaceName; words: string }[] {
  if (PLAIN.test(text)) return [{ face: name, words: text }];
  const runs: { face: FaceName; words: string }[] = [];
  for (const ch of text) {
    const last = runs.at(-1);
    const own = SILENT.test(ch) || has(name, ch);
    const face = own ? (SILENT.test(ch) ? (last?.face ?? name) : name) : (FACES.find((f) => has(f, ch)) ?? name);
    if (last?.face === face) last.words += ch;
    else runs.push({ face, words: ch });
  }
  return runs;
}

const RIGHT_TO_LEFT = /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;
const LEFT_TO_RIGHT = /\p{L}/u;

/** A line as it stands from left to right on paper, in runs of one face: words of right-to-left scripts run the other way, and
 *  each is a run of its own. The first word decides the line (after the Unicode bidirectional algorithm, UAX 9, on whole words). */
export function lineRuns(line: string, name: FontName): { face: FaceName; words: string }[] {
  if (!RIGHT_TO_LEFT.test(line)) return runsOf(line, name);
  const turned = (w: string): boolean => RIGHT_TO_LEFT.test(w);
  const words = line.split(' ');
  const first = words.find((w) => turned(w) || LEFT_TO_RIGHT.test(w));
  const base = first !== undefined && turned(first);
  const groups: { rtl: boolean; words: string[] }[] = [];
  for (const w of words) {
    const rtl = turned(w) || (base && !LEFT_TO_RIGHT.test(w));
    if (groups.at(-1)?.rtl === rtl) groups.at(-1)!.words.push(w);
    else groups.push({ rtl, words: [w] });
  }
  const shown = groups.map((r) => (r.rtl ? [...r.words].reverse() : r.words));
  return (base ? shown.reverse() : shown)
    .flat()
    .flatMap((w, i) => [...(i ? [{ face: name as FaceName, words: ' ' }] : []), ...runsOf(w, name)]);
}

/** One word with the space after it, in ems. Words recur, lines do not; and the PDF sets its text word by word too. */
function measureWord(word: string, name: FontName): EmSize {
  const known = measured[name].get(word);
  if (known) return known;
  let [advance, top, bottom] = [0, 0, 0];
  for (const { face, words } of runsOf(word, name)) {
    const font = openFont(face);
    const em = font.unitsPerEm;
    const run = font.layout(words);
    for (const g of run.glyphs) {
      const b = g.bbox;
      if (!Number.isFinite(b.maxY)) continue;
      top = Math.max(top, b.maxY / em);
      bottom = Math.min(bottom, b.minY / em);
    }
    advance += run.advanceWidth / em;
  }
  const size = { advance, top, bottom };
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

/** Fonts take a while to be read, and their tables of letters when first asked: while another thread fits, this one has the time. */
export function openFonts(): void {
  const letters = Array.from({ length: 95 }, (_, i) => String.fromCharCode(32 + i)).join(' ');
  for (const font of ['regular', 'bold'] as const) measureText(letters, 10, font);
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
  const k = points * MM_PER_PT;
  const fits = (s: string): boolean => measureText(s, points, font).width <= width;
  const lines: string[] = [];
  for (const paragraph of text.split('\n')) {
    let line = '';
    // ems of the line with the space after it: each word is measured once
    let before = 0;
    for (const word of paragraph.split(/\s+/).filter(Boolean)) {
      if ((before + measureWord(word, font).advance) * k <= width) line = line ? `${line} ${word}` : word;
      else {
        if (line) lines.push(line);
        line = '';
        before = 0;
        for (const letter of word) {
          if (line && !fits(line + letter)) {
            lines.push(line);
            line = '';
          }
          line += letter;
        }
        before = 0;
        if (line !== word) {
          before = measureWord(`${line} `, font).advance;
          continue;
        }
      }
      before += measureWord(`${word} `, font).advance;
    }
    lines.push(line);
  }
  return lines;
}

/** The characters of a text that none of the bundled fonts can draw, each once. */
export const missingCharacters = (text: string): string[] =>
  [...new Set(text)].filter((ch) => !/\s/.test(ch) && !SILENT.test(ch) && !FACES.some((f) => has(f, ch)));
