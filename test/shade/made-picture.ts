import type { Picture } from '../../src/data.ts';

/** A picture made cell by cell; noise is seeded. */
export function makePicture(
  n: number,
  noise: number,
  colour: (x: number, y: number) => readonly [number, number, number],
): Picture {
  const pixels = new Uint8Array(3 * n * n);
  let state = 7;
  for (let y = 0; y < n; y++)
    for (let x = 0; x < n; x++)
      colour(x, y).forEach((v, c) => {
        state = (Math.imul(state, 1103515245) + 12345) >>> 0;
        pixels[3 * (y * n + x) + c] = Math.max(0, Math.min(255, v + ((state >>> 16) % (2 * noise + 1)) - noise));
      });
  return {
    width: n,
    height: n,
    pixels,
    source: { sha256: '', pixels: [n, n], crop: [0, 0, n, n], format: 'png' },
    notes: [],
  };
}
