import { readFileSync } from 'node:fs';
import { create, type Font } from 'fontkit';
import { expect, test } from 'vitest';
import { fontPath } from '../../src/drawing/font-files.ts';
import { openFont } from '../../src/drawing/fonts.ts';

// fontkit's own layout, by the font's tables, is the reference: words with kerned pairs, joined letters, marks, other scripts
const WORDS =
  'AVATAR Tomorrow, WAX yTo. first office fjord flat staff "quoted" P.A. LT11 3/8 1 1/2in 100% ñandú Ærø Пёс 犬 f7 x';

test.each(['regular', 'bold'] as const)('%s: words are as wide, letter by letter, as by the font’s tables', (face) => {
  const reference = create(readFileSync(fontPath(face))) as Font;
  for (const word of WORDS.split(/(?<= )/)) {
    const [own, theirs] = [openFont(face).layout(word), reference.layout(word)];
    expect(own.advanceWidth, word).toBe(theirs.advanceWidth);
    expect(own.glyphs.map((g) => g.id)).toEqual(theirs.glyphs.map((g) => g.id));
    expect(own.positions.map((p) => p.xAdvance)).toEqual(theirs.positions.map((p) => p.xAdvance));
  }
});
