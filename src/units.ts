// Lengths: millimetres inside, inches and centimetres only where people write or read them.
// 1 in = 25.4 mm exactly (international yard and pound agreement, 1959); 1 pt = 1/72 in (ISO 32000 user unit).
import { UserError } from './problems/problem.ts';

/** A length in millimetres. Branded where a mix-up with inches or points would cost a user fabric. */
export type Mm = number & { readonly unit: 'mm' };
export type System = 'inch' | 'metric';

export const mm = (n: number): Mm => n as Mm;
export const inMm = ([width, height]: readonly [number, number]): readonly [Mm, Mm] => [mm(width), mm(height)];
export const inches = (n: number): Mm => (n * 25.4) as Mm;
export const MM_PER_INCH = 25.4;
export const MM_PER_YARD = 914.4;

const FACTORS: Record<string, number> = { in: 25.4, inch: 25.4, inches: 25.4, '"': 25.4, '″': 25.4, cm: 10, mm: 1 };

/** Reads "12in", "30 cm", "9.5mm", `3/8in`, "12 1/2 in". Throws UserError (exit 2) that names the field when it is no length. */
export function parseLength(text: string, field: string): Mm {
  const m = /^\s*(?:(\d+(?:\.\d+)?)(?:[ -](\d+)\/(\d+))?|(\d+)\/(\d+))\s*(in|inch|inches|"|″|cm|mm)\s*$/i.exec(text);
  const wrong = () => new UserError('not-a-length', { field, value: text }, 2);
  if (!m) throw wrong();
  const [, whole, num, den, top, bottom, unit] = m;
  const value = whole ? Number(whole) + (num ? Number(num) / Number(den) : 0) : Number(top) / Number(bottom);
  if (!Number.isFinite(value)) throw wrong();
  return mm(value * FACTORS[unit!.toLowerCase()]!);
}

/** Reads a finished size, width x height: "12in" (square), "10x14in", "25 x 30 cm", "10in x 14in". */
export function parseSize(text: string, field: string): [Mm, Mm] {
  const [first, second, ...rest] = text.split(/[x×]/i).map((s) => s.trim());
  if (!first || rest.length) parseLength(text, field);
  if (second === undefined) {
    const side = parseLength(first!, field);
    return [side, side];
  }
  const unit = /[a-z"″]+$/i.exec(second)?.[0] ?? '';
  return [parseLength(/[a-z"″]$/i.test(first!) ? first! : first! + unit, field), parseLength(second, field)];
}

const FRACTION_STEPS = 16;

/** Inches as quilters write them, to the nearest sixteenth: "2 3/8", "12", "1/4". */
export function formatInches(length: number, steps = FRACTION_STEPS): string {
  const n = Math.round((length / 25.4) * steps);
  const whole = Math.trunc(n / steps);
  let top = n - whole * steps;
  let bottom = steps;
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  return top ? `${whole ? `${whole} ` : ''}${top}/${bottom}` : `${whole}`;
}

/** Centimetres to the millimetre, without a trailing zero: "30", "7.5". */
export const formatCm = (length: number): string => String(Math.round(length) / 10);

/** Under 1 cm a millimetre is too coarse: an allowance of 6.35 mm is 6.4 mm, not 0.6 cm. */
const inMillimetres = (length: number): boolean => length > 0 && length < 9.95;
const formatMm = (length: number): string => String(Math.round(length * 10) / 10);

/** A length with its unit, in the system the reader uses: "4 3/8 in" or "11.1 cm", and "6.4 mm" under 1 cm. */
export function formatLength(length: number, system: System): string {
  if (system === 'inch') return `${formatInches(length)} in`;
  return inMillimetres(length) ? `${formatMm(length)} mm` : `${formatCm(length)} cm`;
}

/** Width x height with the unit once: "12 x 12 in", "6.4 x 30 mm". */
export function formatSize(size: readonly [number, number], system: System): string {
  const [format, unit] =
    system === 'inch' ? [formatInches, 'in'] : size.some(inMillimetres) ? [formatMm, 'mm'] : [formatCm, 'cm'];
  return `${format(size[0])} x ${format(size[1])} ${unit}`;
}
