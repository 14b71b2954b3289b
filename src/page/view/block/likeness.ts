// How true a block is to its picture, in a word, and what of the picture it does not show.

export interface Likeness {
  readonly word: string;
  /** 0..1, for a bar */
  readonly share: number;
}

/** shares of the face in another fabric than the posterised picture [house rule, held against blocks that strangers named] */
const STEPS: readonly (readonly [most: number, word: string])[] = [
  [0.05, 'Very close'],
  [0.1, 'Close'],
  [0.16, 'Fair'],
  [1, 'Loose'],
];
/** a block that misses this much says nothing any more */
const WORST = 0.3;

export function likenessOf(misplaced: number): Likeness {
  const word = STEPS.find(([most]) => misplaced <= most)?.[1] ?? 'Loose';
  return { word, share: Math.max(0.05, 1 - misplaced / WORST) };
}

/** "the eyes, 3 small details", of the sentences that the fit says about what has no piece; empty where all is there. */
export function lostOf(notes: readonly string[]): string {
  const parts = notes.flatMap((n) => /^The (.+?) (?:got no piece|is too small|are too small)/.exec(n)?.[1] ?? []);
  const details = notes.filter((n) => /^A small detail .* got no piece/.test(n)).length;
  return [
    ...parts.map((p) => `the ${p}`),
    ...(details ? [details === 1 ? 'one small detail' : `${details} small details`] : []),
  ].join(', ');
}
