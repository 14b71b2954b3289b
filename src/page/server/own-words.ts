// Sentences that were written for the command, for somebody who types no options: the option becomes what the page calls it.

const WORDS: readonly (readonly [RegExp, string])[] = [
  [/try --background plain/g, 'try a plain background'],
  [/ with --subject/g, ''],
  [/; --sheet no shows it as it is, table and all/g, ''],
  [/ \(--most\)/g, ''],
  [/; seamwright check --repair mends it first/g, '; the command "seamwright check --repair" mends it first'],
];
const NAMES: Readonly<Record<string, string>> = { most: 'Pieces in a section', smallest: 'Narrowest piece' };

/** "--pieces: …" -> "Pieces: …". */
export function inOwnWords(sentence: string): string {
  const plain = WORDS.reduce((s, [from, to]) => s.replace(from, to), sentence);
  return plain.replace(/(?<!\S)--([a-z]+)(?=:)/g, (_, o: string) => NAMES[o] ?? o[0]!.toUpperCase() + o.slice(1));
}
