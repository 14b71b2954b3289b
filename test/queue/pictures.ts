// Small made-up pictures: a few shapes each, of colours drawn by a seed. No two are alike.
import { randomNumbers } from '../check/random-block.ts';

/** An SVG of an animal's head, roughly: ground, head, two ears, two eyes. */
export function drawPicture(seed: number): string {
  const random = randomNumbers(1000 + seed);
  const between = (a: number, b: number): number => Math.round(a + (b - a) * random());
  const colour = (least: number, most: number): string =>
    `#${[0, 1, 2].map(() => between(least, most).toString(16).padStart(2, '0')).join('')}`;
  const [x, y, r] = [between(85, 115), between(95, 120), between(45, 60)];
  const fur = colour(90, 190);
  const ear = (side: number): string =>
    `<polygon points="${x + side * r},${y} ${x + side * (r - 5)},${y - r - between(20, 40)} ${x + side * 8},${y - r + 12}" fill="${fur}"/>`;
  const eye = (side: number): string =>
    `<circle cx="${x + (side * r) / 2.5}" cy="${y - 8}" r="${between(7, 10)}" fill="${colour(0, 40)}"/>`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="200"><rect width="200" height="200" fill="${colour(215, 250)}"/>${ear(-1)}${ear(1)}<circle cx="${x}" cy="${y}" r="${r}" fill="${fur}"/>${eye(-1)}${eye(1)}</svg>\n`;
}

/** As few pieces as show anything, with little effort: what counts is how the work is shared out. */
export const QUICK =
  'paper: letter\nunits: inch\nblock: {pieces: 10, shades: 3, size: 6in, smallest: 3/8in, effort: quick}\n';
