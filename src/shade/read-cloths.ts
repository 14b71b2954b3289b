// The fabrics that someone has: a list of names and colours, or snapshots of the cloth itself.
import { LINEAR } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import { PLAIN_TEXT, plainText } from '../names.ts';
import { UserError } from '../problems/problem.ts';

/** A print that must stand upright, or one so large that a piece shows only a part of it. */
export type Print = 'directional' | 'large';

export interface Cloth {
  readonly name: string;
  /** "#rrggbb" */
  readonly colour: string;
  readonly print?: Print;
}

const MOST_CLOTHS = 400;
const LONGEST_NAME = 60;
const PRINTS: readonly [RegExp, Print][] = [
  [/\bdirectional\b/i, 'directional'],
  [/\blarge([ _-]?print)?\b/i, 'large'],
];

const printOf = (text: string): Print | undefined => PRINTS.find(([word]) => word.test(text))?.[1];

/** A line at its commas, semicolons or tabs; a field in double quotes may hold them. */
function splitLine(line: string): string[] {
  const fields = line.match(/("([^"]|"")*"|[^,;\t]*)([,;\t]|$)/g) ?? [];
  return fields
    .map((f) => f.replace(/[,;\t]$/, '').trim())
    .map((f) => (f.startsWith('"') && f.endsWith('"') && f.length > 1 ? f.slice(1, -1).replaceAll('""', '"') : f));
}

/** Reads "name,colour" a line, a third field "directional" or "large" where the print is; or a JSON list of the same fields.
 *  Throws UserError that names the file and the line. */
export function readCloths(text: string, file: string): Cloth[] {
  const bare = text.replace(/^\uFEFF/, '').trim();
  const rows: { at: string; name: unknown; colour: unknown; print: unknown }[] = [];
  if (/^[[{]/.test(bare)) {
    let data: unknown;
    try {
      data = JSON.parse(bare);
    } catch {
      throw new UserError('fabrics-json-damaged', { file });
    }
    const list = Array.isArray(data) ? data : (data as { fabrics?: unknown }).fabrics;
    if (!Array.isArray(list)) throw new UserError('no-list-of-fabrics', { file });
    list.forEach((row, i) => {
      const { name, colour, print } = (row ?? {}) as Record<string, unknown>;
      rows.push({ at: `fabric ${i + 1}`, name, colour, print });
    });
  } else
    bare.split(/\r\n|\r|\n/).forEach((line, i) => {
      const [name, colour, print] = splitLine(line);
      const head = i === 0 && !/#/.test(line) && /colou?r/i.test(line);
      if (line.trim() && !head) rows.push({ at: `line ${i + 1}`, name, colour, print });
    });
  const cloths = rows.map(({ at, name, colour, print }): Cloth => {
    if (typeof name !== 'string' || !name.trim() || name.length > LONGEST_NAME || !PLAIN_TEXT.test(name))
      throw new UserError('fabric-needs-name', { file, at, most: LONGEST_NAME });
    const hex = typeof colour === 'string' ? /^#?([0-9a-f]{6}|[0-9a-f]{3})$/i.exec(colour.trim())?.[1] : undefined;
    if (!hex) throw new UserError('fabric-needs-colour', { file, at, name });
    const full = hex.length === 3 ? [...hex].map((c) => c + c).join('') : hex;
    const kind = typeof print === 'string' && print.trim() ? printOf(print) : undefined;
    if (typeof print === 'string' && print.trim() && !kind) throw new UserError('no-such-print', { file, at, name });
    return { name: name.trim(), colour: `#${full.toLowerCase()}`, ...(kind && { print: kind }) };
  });
  return soundCloths(cloths, file);
}

/** No name twice, and not none or too many. Throws UserError. */
export function soundCloths(cloths: readonly Cloth[], file: string): Cloth[] {
  if (!cloths.length) throw new UserError('no-fabric-in-file', { file });
  if (cloths.length > MOST_CLOTHS)
    throw new UserError('too-many-fabrics', { file, fabrics: cloths.length, most: MOST_CLOTHS });
  const names = new Set<string>();
  for (const { name } of cloths) {
    if (names.has(name)) throw new UserError('fabric-twice', { file, key: 'name', value: name });
    names.add(name);
  }
  return [...cloths];
}

/** Share of a snapshot's width and height, in its middle, that shows the cloth and not the table. */
const MIDDLE = 0.5;

/** A cloth from a snapshot: the mean light of the picture's middle, as the eye mixes a print from afar. Words in the file's
 *  name tell a directional or large print. */
export function measureCloth(picture: Picture, fileName: string): Cloth {
  const { width, height, pixels } = picture;
  const from = (size: number): number => Math.floor((size * (1 - MIDDLE)) / 2);
  const [x0, y0] = [from(width), from(height)];
  const sum = [0, 0, 0];
  let n = 0;
  for (let y = y0; y < height - y0; y++)
    for (let x = x0; x < width - x0; x++) {
      for (let c = 0; c < 3; c++) sum[c]! += LINEAR[pixels[3 * (y * width + x) + c]!]!;
      n++;
    }
  const bytes = sum.map((v) => {
    const light = v / n;
    return Math.round(255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055));
  });
  const stem = fileName.replace(/^.*[/\\]/, '').replace(/\.[^.]*$/, '');
  const print = printOf(stem.replaceAll('_', ' '));
  const name = stem
    .replace(/[_-]+/g, ' ')
    .replace(/[([]?\b(directional|large( print)?)\b[)\]]?/gi, '')
    .replace(/\s+/g, ' ')
    .trim();
  return {
    name: plainText(name || stem).slice(0, 60) || 'cloth',
    colour: `#${bytes.map((v) => v.toString(16).padStart(2, '0')).join('')}`,
    ...(print && { print }),
  };
}
