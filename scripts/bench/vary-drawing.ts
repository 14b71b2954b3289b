// Variations of a drawing, made by a fixed rule: gaps in its outline, uneven light, other paper, askew. Takes and gives pictures.
import type { Picture } from '../../src/data.ts';

export type Vary = (picture: Picture, figure: Uint8Array, seed: number) => { picture: Picture; figure: Uint8Array };

/** Deterministic numbers 0..1 (a linear congruential generator: Numerical Recipes, 1992). */
function* numbers(seed: number): Generator<number, never> {
  for (let s = seed >>> 0; ; ) {
    s = (Math.imul(s, 1664525) + 1013904223) >>> 0;
    yield s / 2 ** 32;
  }
}

const withPixels = (picture: Picture, colour: (x: number, y: number, i: number) => readonly number[]): Picture => {
  const { width: w, height: h } = picture;
  const pixels = new Uint8Array(3 * w * h);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const c = colour(x, y, 3 * (y * w + x));
      for (let q = 0; q < 3; q++) pixels[3 * (y * w + x) + q] = Math.max(0, Math.min(255, Math.round(c[q]!)));
    }
  return { ...picture, pixels };
};

/** The colour that most of the rim has, channel by channel. */
function paperOf({ width: w, height: h, pixels }: Picture): number[] {
  return [0, 1, 2].map((c) => {
    const list: number[] = [];
    for (let x = 0; x < w; x += 3) list.push(pixels[3 * x + c]!, pixels[3 * ((h - 1) * w + x) + c]!);
    return list.sort((a, b) => a - b)[Math.floor(0.6 * list.length)]!;
  });
}

/** Three gaps in the outline, each this share of the figure wide. */
const gaps =
  (share: number): Vary =>
  (picture, figure, seed) => {
    const { width: w, height: h } = picture;
    const n = Math.round(Math.sqrt(figure.length));
    const rim: number[] = [];
    let [x0, x1, y0, y1] = [n, 0, n, 0];
    for (let i = 0; i < figure.length; i++) {
      if (!figure[i]) continue;
      const [x, y] = [i % n, Math.floor(i / n)];
      [x0, x1, y0, y1] = [Math.min(x0, x), Math.max(x1, x), Math.min(y0, y), Math.max(y1, y)];
      if (x && y && x < n - 1 && y < n - 1 && !(figure[i - 1] && figure[i + 1] && figure[i - n] && figure[i + n]))
        rim.push(i);
    }
    const span = (Math.max(x1 - x0, y1 - y0) / n) * w;
    const random = numbers(seed);
    const places = Array.from({ length: 3 }, () => rim[Math.floor(random.next().value * rim.length)] ?? 0);
    const paper = paperOf(picture);
    // a gap is as wide as asked for between what is left of the stroke, which runs under the disc's middle
    const r = (share * span) / 2;
    const near = (x: number, y: number): boolean =>
      places.some((p) => Math.hypot(x - ((p % n) / n) * w, y - (Math.floor(p / n) / n) * h) < r);
    return {
      picture: withPixels(picture, (x, y, i) => (near(x, y) ? paper : [...picture.pixels.subarray(i, i + 3)])),
      figure,
    };
  };

const lit =
  (light: (u: number, v: number) => readonly [number, number, number]): Vary =>
  (picture, figure) => ({
    picture: withPixels(picture, (x, y, i) => {
      const l = light(x / picture.width, y / picture.height);
      return l.map((k, c) => k * picture.pixels[i + c]!);
    }),
    figure,
  });

const ruled: Vary = (picture, figure) => {
  const gap = picture.height / 22;
  return {
    picture: withPixels(picture, (_, y, i) =>
      [0.72, 0.82, 0.95].map((k, c) => (y % gap < Math.max(1, picture.height / 450) ? k : 1) * picture.pixels[i + c]!),
    ),
    figure,
  };
};

const grainy: Vary = (picture, figure, seed) => {
  const random = numbers(seed);
  return {
    picture: withPixels(picture, (_, __, i) => {
      const grain = 14 * (random.next().value - 0.5);
      return [0, 1, 2].map((c) => 0.9 * picture.pixels[i + c]! + 8 + grain);
    }),
    figure,
  };
};

/** Turned by 10 degrees about the middle, and drawn a tenth smaller so that nothing leaves the sheet. */
const askew: Vary = (picture, figure) => {
  const { width: w, height: h } = picture;
  const [c, s] = [Math.cos(Math.PI / 18), Math.sin(Math.PI / 18)];
  const from = (u: number, v: number): [number, number] => {
    const [x, y] = [(u - 0.5) / 0.85, (v - 0.5) / 0.85];
    return [x * c + y * s + 0.5, -x * s + y * c + 0.5];
  };
  const paper = paperOf(picture);
  const n = Math.round(Math.sqrt(figure.length));
  const turned = new Uint8Array(figure.length);
  for (let i = 0; i < figure.length; i++) {
    const [u, v] = from(((i % n) + 0.5) / n, (Math.floor(i / n) + 0.5) / n);
    if (u >= 0 && v >= 0 && u < 1 && v < 1) turned[i] = figure[Math.floor(v * n) * n + Math.floor(u * n)]!;
  }
  return {
    picture: withPixels(picture, (x, y) => {
      const [u, v] = from((x + 0.5) / w, (y + 0.5) / h);
      if (u < 0 || v < 0 || u >= 1 || v >= 1) return paper;
      const j = 3 * (Math.floor(v * h) * w + Math.floor(u * w));
      return [...picture.pixels.subarray(j, j + 3)];
    }),
    figure: turned,
  };
};

export const VARIATIONS: Readonly<Record<string, Vary>> = {
  clean: (picture, figure) => ({ picture, figure }),
  'gaps 1 %': gaps(0.01),
  'gaps 2 %': gaps(0.02),
  'gaps 3 %': gaps(0.03),
  'gaps 4 %': gaps(0.04),
  'gaps 5 %': gaps(0.05),
  'gaps 6 %': gaps(0.06),
  'grey light': lit(() => [0.7, 0.7, 0.7]),
  'yellow light': lit(() => [1, 0.92, 0.72]),
  'light falls off': lit((u) => [1 - 0.45 * u, 1 - 0.45 * u, 1 - 0.42 * u]),
  'shadow edge': lit((u, v) => (u + 0.4 * v > 0.7 ? [0.6, 0.6, 0.62] : [1, 1, 1])),
  'dark corner': lit((u, v) => {
    const k = 1 - 0.5 * Math.max(0, 1 - Math.hypot(1 - u, 1 - v) / 0.7);
    return [k, k, k];
  }),
  'ruled paper': ruled,
  'grainy paper': grainy,
  'askew 10 degrees': askew,
};
