// Takes the text of an SVG, gives it without anything that reaches outside the file, or throws why it is refused.
// Works on the text alone, in one pass over its tags, so that nothing can be made to run or to grow before it was counted.
import { UserError } from '../problems/problem.ts';

const MOST_TEXT = 20e6;
const MOST_DEPTH = 200;
const MOST_ELEMENTS = 200_000;
/** of one element: those who read them compare each with each */
const MOST_ATTRIBUTES = 1000;
const MOST_ENTITY_TEXT = 100_000;

export interface CheckedSvg {
  readonly text: string;
  readonly notes: readonly string[];
}

const COMMENT_OR_CDATA = /<!--[\s\S]*?(?:-->|$)|<!\[CDATA\[[\s\S]*?(?:\]\]>|$)/g;
const SCRIPT = /<((?:[\w-]+:)?script)\b(?:[^>]*\/>|[\s\S]*?(?:<\/\1\s*>|$))/g;
const TAG = /<(\/?)([\w:.-]+)((?:"[^"]*"|'[^']*'|[^<>"'])*?)(\/?)>/g;
const HREF = /(^|\s)((?:[\w.-]+:)?href)\s*=\s*("[^"]*"|'[^']*')/g;
const ENTITY = /<!ENTITY\s+(%\s*)?([\w:.-]+)\s+("[^"]*"|'[^']*'|SYSTEM|PUBLIC)/g;

/** Replaces the file's own entities (drawing programs write some for namespaces) by their text, within a limit. */
function expandEntities(text: string): string | undefined {
  const doctype = /<!DOCTYPE[^[>]*(?:\[[\s\S]*?\]\s*)?>/i.exec(text);
  if (!doctype) return text;
  const own = new Map<string, string>();
  for (const [, parameter, name, value] of doctype[0].matchAll(ENTITY)) {
    if (parameter || value === 'SYSTEM' || value === 'PUBLIC') return undefined;
    const plain = value!.slice(1, -1);
    if (/[<&%]/.test(plain)) return undefined; // an entity made of entities or of markup is no namespace
    own.set(name!, plain);
  }
  let grown = 0;
  const rest = text.slice(0, doctype.index) + text.slice(doctype.index + doctype[0].length);
  const out = rest.replace(/&([\w:.-]+);/g, (whole, name: string) => {
    const value = own.get(name);
    if (value === undefined) return whole;
    grown += value.length;
    return grown > MOST_ENTITY_TEXT ? '' : value;
  });
  return grown > MOST_ENTITY_TEXT ? undefined : out;
}

/** The text of an SVG's bytes, by its mark or by what it says of itself. */
export function textOf(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  const head = new TextDecoder('latin1').decode(bytes.subarray(0, 200));
  const named = /^<\?xml[^>]*encoding\s*=\s*["']([\w-]+)["']/.exec(head)?.[1];
  try {
    return new TextDecoder(named ?? 'utf-8', { fatal: false }).decode(bytes);
  } catch {
    return new TextDecoder('utf-8').decode(bytes);
  }
}

interface Count {
  elements: number;
  uses: string[];
}

/** How many elements would be drawn once every reference is followed; undefined where one leads back to itself. */
function countDrawn(groups: ReadonlyMap<string, Count>, whole: Count): number {
  const known = new Map<Count, number>();
  const follow = (group: Count, depth: number): number => {
    if (depth > MOST_DEPTH) return MOST_ELEMENTS + 1;
    const before = known.get(group);
    if (before !== undefined) return before;
    known.set(group, 0); // a reference that leads back to itself is not drawn again
    let sum = group.elements;
    for (const id of group.uses) {
      const target = groups.get(id);
      if (target) sum = Math.min(Number.MAX_SAFE_INTEGER, sum + follow(target, depth + 1));
    }
    known.set(group, sum);
    return sum;
  };
  return follow(whole, 0);
}

/** The text of an SVG made safe to draw. `images`: whether pictures that lie in the file itself stay. Throws UserError that names
 *  the file. */
export function checkSvg(source: string, file: string, images = true): CheckedSvg {
  if (source.length > MOST_TEXT) throw new UserError('svg-too-long', { file });
  const expanded = expandEntities(
    source.replace(COMMENT_OR_CDATA, (m) => (m.startsWith('<!--') ? '' : m)).replace(SCRIPT, ''),
  );
  if (expanded === undefined) throw new UserError('svg-entities', { file });
  const groups = new Map<string, Count>();
  const whole: Count = { elements: 0, uses: [] };
  // open elements, each with the counts (of those around it that have an id) that its content adds to
  const open: { name: string; counts: Count[] }[] = [];
  let elements = 0;
  let outside = false;
  const text = expanded.replace(TAG, (tag, close: string, name: string, attributes: string, empty: string) => {
    if (close) {
      if (open.pop()?.name !== name) throw new UserError('svg-tags-differ', { file });
      return tag;
    }
    if (++elements > MOST_ELEMENTS) throw new UserError('svg-too-many-parts', { file });
    const counts = [...(open.at(-1)?.counts ?? [whole])];
    const id = /(?:^|\s)id\s*=\s*(?:"([^"]*)"|'([^']*)')/.exec(attributes);
    if (id) {
      const own: Count = { elements: 0, uses: [] };
      groups.set(id[1] ?? id[2] ?? '', own);
      counts.push(own);
    }
    for (const c of counts) c.elements++;
    if (attributes.split('=', MOST_ATTRIBUTES + 2).length > MOST_ATTRIBUTES + 1)
      throw new UserError('svg-too-many-attributes', { file, most: MOST_ATTRIBUTES });
    const kept = attributes.replace(HREF, (whole, space: string, key: string, quoted: string) => {
      const target = quoted.slice(1, -1).trim();
      if (target.startsWith('#')) {
        for (const c of counts) c.uses.push(target.slice(1));
        return whole;
      }
      if (images && /^data:image\/(png|jpe?g|gif|webp)[;,]/i.test(target)) return whole;
      if (/(^|:)(image|use|feImage)$/.test(name)) outside = true;
      return `${space}${key}=""`;
    });
    if (!empty) {
      open.push({ name, counts });
      if (open.length > MOST_DEPTH) throw new UserError('svg-too-deep', { file });
    }
    return `<${name}${kept}${empty}>`;
  });
  if (open.length) throw new UserError('svg-cut-off', { file });
  if (countDrawn(groups, whole) > MOST_ELEMENTS) throw new UserError('svg-repeats-itself', { file });
  const notes = outside ? ['Parts of the SVG that lie outside the file were left out.'] : [];
  return { text, notes };
}
