// What names may hold: of blocks, fabrics, sections and files. Block files and pictures are passed around between strangers, and
// what stands in them becomes file names, lines on a terminal, text in a drawing.

/** Control characters (C0, DEL, C1), line and paragraph separators, marks that change the direction of writing (Unicode
 *  Bidi_Control), invisible joiners of a file's start, and halves of surrogate pairs. */
const UNSEEN = '\\p{Cc}\\u2028\\u2029\\u061c\\u200e\\u200f\\u202a-\\u202e\\u2066-\\u2069\\ufeff\\p{Cs}';
const HAS_UNSEEN = new RegExp(`[${UNSEEN}]`, 'u');
const EACH_UNSEEN = new RegExp(`[${UNSEEN}]`, 'gu');

/** Text on one line that shows all that it holds. */
export const PLAIN_TEXT = new RegExp(`^[^${UNSEEN}]*$`, 'u');

/** Any text as plain text: without what does not show. */
export const plainText = (text: string): string => text.replace(EACH_UNSEEN, '');

/** Letters of a section, as on its sheets: A, B … AA. */
export const SECTION_ID = /^[A-Z]{1,3}$/;

/** A fabric's code, as printed on every piece: looks like neither a section ("A", "AB") nor a piece ("A3"). */
export const FABRIC_CODE = /^(?![A-Z]{1,3}\d*$)[\p{L}\p{N}._+-]{1,6}$/u;

/** What a fabric is called within its file. */
export const FABRIC_ID = /^[\p{L}\p{N}._+-]{1,40}$/u;

/** Names that Windows keeps for devices, whatever their ending [Microsoft, "Naming files, paths, and namespaces"]. */
const DEVICE = /^(?:con|prn|aux|nul|conin\$|conout\$|(?:com|lpt)[0-9\u00b9\u00b2\u00b3])(?:\.|\s*$)/i;

/** Whether a name can name files on any system: one step of a path, nothing unseen, no device. */
export const isFileName = (name: string): boolean =>
  /\S/.test(name) && !/[/\\]/.test(name) && !HAS_UNSEEN.test(name) && !DEVICE.test(name) && !/^\.{1,2}$/.test(name);

/** Any name as one that can name a file: what stands in block files that came from elsewhere. */
export function asFileName(name: string): string {
  const safe = name.replace(EACH_UNSEEN, '_').replace(/[/\\]/g, '_').replace(/^\.+/, '_');
  return isFileName(safe) ? safe : `_${safe.trim()}`;
}

/** Text for a terminal: what would steer it, or hide in it, is written out. Escapes are those of JSON, so that JSON stays what it
 *  is; ends of lines stay. */
export const shownText = (text: string): string =>
  text.replace(EACH_UNSEEN, (c, at: number) =>
    c === '\n' || c === '\t' || (c === '\r' && text[at + 1] === '\n')
      ? c
      : `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );

/** What cameras, phones and scanners call their pictures, and letters and digits by chance: nothing to print on a cover. */
const NO_TITLE =
  /^(?:img|dscn?|dscf|pxl|mvimg|cimg|image|photo|picture|pic|scan|screenshot|file|untitled|block|download)?[\s\d()]*(?:edited|copy)?[\s\d()]*$|^(?=(?:.*\d){3})[0-9a-f]{8,}$|^[0-9a-f]{8}( [0-9a-f]{4}){3} [0-9a-f]{12}$/i;

/** A block's name as people read it on paper: "pepper_the-goat" is "Pepper The Goat"; a name that somebody wrote in words stays. */
export function readableTitle(name: string): string {
  const words = name.replace(/[\s_.-]+/g, ' ').trim();
  if (NO_TITLE.test(words)) return 'Untitled block';
  if (/\s/.test(name.trim())) return name.trim();
  return words.replace(/(^| )(\p{Ll})(?=[\p{L}]|\d| |$)/gu, (_, gap: string, c: string) => gap + c.toUpperCase());
}
