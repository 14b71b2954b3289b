// One rule of the table: its name, what was measured, whether it holds.

export interface RuleFound {
  readonly rule: number;
  readonly name: string;
  readonly holds: boolean;
  /** what was counted or measured; shares 0..1, lengths in mm */
  readonly figures: Readonly<Record<string, number>>;
}

/** mm: seam ends nearer than this meet */
export const MATCHED = 0.25;
/** mm: lengths may be off by so much */
export const ROUNDING = 0.02;

export function rule<F extends Record<string, number>>(
  n: number,
  name: string,
  figures: F,
  holds: (f: F) => boolean,
): RuleFound {
  return { rule: n, name, holds: holds(figures), figures };
}

/** 0 where there is no whole */
export const share = (part: number, whole: number): number => (whole > 0 ? part / whole : 0);
export const sum = <T>(list: readonly T[], f: (t: T) => number): number => list.reduce((n, t) => n + f(t), 0);
