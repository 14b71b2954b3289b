// The cutting list and the shopping list as CSV (RFC 4180: commas, quotes doubled, CRLF), for spreadsheets. Lengths in the
// reader's unit with the unit in the heading, since a spreadsheet has to be able to add them up.
import type { QuiltPlan, Shopping } from '../data.ts';
import type { System } from '../units.ts';

/** What a spreadsheet would take for a formula, also behind spaces, unseen characters or in full width [OWASP, "CSV injection"]. */
const FORMULA = /^[\t\r\n]|^[\s\p{Cc}\p{Cf}]*[=+\-@\uff1d\uff0b\uff0d\uff20]/u;

/** A name that a spreadsheet would take for a formula is made text by a leading apostrophe. */
const field = (v: string | number): string => {
  const text = typeof v === 'string' && FORMULA.test(v) ? `'${v}` : String(v);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
};

const table = (rows: readonly (readonly (string | number)[])[]): string =>
  rows.map((r) => `${r.map(field).join(',')}\r\n`).join('');

const unitOf = (system: System): { name: string; of: (mm: number) => number } =>
  system === 'inch'
    ? { name: 'in', of: (v) => Math.round((v / 25.4) * 1000) / 1000 }
    : { name: 'cm', of: (v) => Math.round(v * 10) / 100 };

/** One row a patch, in sewing order. */
export function patchesCsv(s: Shopping, system: System): string {
  const u = unitOf(system);
  const code = new Map(s.fabrics.map((f) => [f.id, f.code ?? f.id]));
  return table([
    ['block', 'section', 'piece', 'fabric', `width (${u.name})`, `length (${u.name})`, 'lies along'],
    ...s.patches.map((p) => [
      p.block,
      p.section,
      p.piece,
      code.get(p.fabric) ?? p.fabric,
      u.of(p.width),
      u.of(p.length),
      p.plain ? 'cut to shape' : (p.along ?? 'seam'),
    ]),
  ]);
}

/** One row a strip, widest first, with its patches in cutting order. */
export function stripsCsv(s: Shopping, system: System): string {
  const u = unitOf(system);
  return table([
    ['fabric', `strip width (${u.name})`, `used (${u.name})`, 'patches'],
    ...s.fabrics.flatMap((f) =>
      f.strips.map((t) => [f.code ?? f.id, u.of(t.width), u.of(t.length), t.patches.join(' ')]),
    ),
  ]);
}

/** One row a fabric, then one for each cloth of the quilt, then the total where a price was given. */
export function shoppingCsv(s: Shopping, system: System, quilt?: QuiltPlan): string {
  const u = unitOf(system);
  const priced = s.cost !== undefined;
  const total = Math.round(((s.cost ?? 0) + (quilt?.cost ?? 0)) * 100) / 100;
  return table([
    ['fabric', 'buy', 'yards', 'metres', `least by area (${u.name})`, ...(priced ? ['cost'] : [])],
    ...s.fabrics.map((f) => [f.code ?? f.id, f.buy, f.yards, f.metres, u.of(f.bound), ...(priced ? [f.cost!] : [])]),
    ...(quilt?.cloths ?? []).map((c) => [c.what, c.buy, c.yards, c.metres, '', ...(priced ? [c.cost!] : [])]),
    ...(priced ? [['total', '', '', '', '', total]] : []),
  ]);
}
