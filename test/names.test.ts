import { expect, test } from 'vitest';
import { readableTitle } from '../src/names.ts';

test.each([
  ['pepper', 'Pepper'],
  ['pepper_the-goat', 'Pepper The Goat'],
  ['cat-chelsea-face', 'Cat Chelsea Face'],
  // what somebody wrote in words stays as it is
  ['Pepper the goat', 'Pepper the goat'],
  ['Mr. Whiskers', 'Mr. Whiskers'],
  ['ünal', 'Ünal'],
  ['犬', '犬'],
  ['facade12', 'Facade12'],
])('%s is %s on a cover', (name, title) => {
  expect(readableTitle(name)).toBe(title);
});

test.each(['IMG_4032', 'PXL_20230405_101112', 'dsc00012', 'photo (3)', '3f2a9c1b77de', 'block', '20231128_101500'])(
  '%s, which a camera or a program made up, is no title',
  (name) => {
    expect(readableTitle(name)).toBe('Untitled block');
  },
);
