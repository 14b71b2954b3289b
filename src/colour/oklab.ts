// OKLab (Ottosson 2020): equal steps look about equally far apart, so averages and distances of colours are taken in it.
// Own few lines beside culori, because the pictures' pixels go through here by the million.

export type Lab = readonly [L: number, a: number, b: number];

/** sRGB byte -> linear light, IEC 61966-2-1. */
export const LINEAR = Float64Array.from({ length: 256 }, (_, i) => {
  const c = i / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
});

export function oklabOfRgb(r: number, g: number, b: number): [number, number, number] {
  const lab: [number, number, number] = [0, 0, 0];
  writeOklab(r, g, b, lab, 0);
  return lab;
}

/** `oklabOfRgb` written to out[at ... at + 2]: by the million without a million small arrays. */
export function writeOklab(r: number, g: number, b: number, out: { [i: number]: number }, at: number): void {
  const R = LINEAR[r]!;
  const G = LINEAR[g]!;
  const B = LINEAR[b]!;
  const l = Math.cbrt(0.4122214708 * R + 0.5363325363 * G + 0.0514459929 * B);
  const m = Math.cbrt(0.2119034982 * R + 0.6806995451 * G + 0.1073969566 * B);
  const s = Math.cbrt(0.0883024619 * R + 0.2817188376 * G + 0.6299787005 * B);
  out[at] = 0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s;
  out[at + 1] = 1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s;
  out[at + 2] = 0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s;
}

/** OKLab's lightness alone. */
export function oklabLightness(r: number, g: number, b: number): number {
  const R = LINEAR[r]!;
  const G = LINEAR[g]!;
  const B = LINEAR[b]!;
  const l = Math.cbrt(0.4122214708 * R + 0.5363325363 * G + 0.0514459929 * B);
  const m = Math.cbrt(0.2119034982 * R + 0.6806995451 * G + 0.1073969566 * B);
  const s = Math.cbrt(0.0883024619 * R + 0.2817188376 * G + 0.6299787005 * B);
  return 0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s;
}

const encode = (c: number): number => {
  const v = c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055;
  return Math.max(0, Math.min(255, Math.round(255 * v)));
};

/** The nearest sRGB colour as "#rrggbb"; what lies outside the gamut is clamped a channel. */
export function hexOfOklab([L, a, b]: Lab): string {
  const l = (L + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (L - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (L - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const rgb = [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
  return `#${rgb.map((c) => encode(c).toString(16).padStart(2, '0')).join('')}`;
}

export function rgbOfHex(hex: string): [number, number, number] {
  const n = Number.parseInt(hex.slice(1), 16);
  return [n >> 16, (n >> 8) & 255, n & 255];
}

export const oklabOfHex = (hex: string): Lab => oklabOfRgb(...rgbOfHex(hex));

export const labDistance = (p: Lab, q: Lab): number => {
  const L = p[0] - q[0];
  const a = p[1] - q[1];
  const b = p[2] - q[2];
  return Math.sqrt(L * L + a * a + b * b);
};
