// How colours look to people who lack one kind of cone (Machado, Oliveira & Fernandes 2009, severity 1, on linear light).
import { colourDifference } from './difference.ts';
import { LINEAR, rgbOfHex } from './oklab.ts';

export const SIGHTS = ['protan', 'deutan', 'tritan'] as const;
export type Sight = (typeof SIGHTS)[number];

const MATRICES: Record<Sight, readonly number[]> = {
  protan: [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
  deutan: [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
  tritan: [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
};

/** "#rrggbb" as it is seen. */
export function seenBy(hex: string, sight: Sight): string {
  const m = MATRICES[sight];
  const light = rgbOfHex(hex).map((v) => LINEAR[v]!);
  const bytes = [0, 3, 6].map((row) => {
    const v = Math.max(0, Math.min(1, m[row]! * light[0]! + m[row + 1]! * light[1]! + m[row + 2]! * light[2]!));
    return Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055));
  });
  return `#${bytes.map((v) => v.toString(16).padStart(2, '0')).join('')}`;
}

/** The least CIEDE2000 of two colours over those kinds of sight. */
export function leastDifference(a: string, b: string): { readonly difference: number; readonly sight: Sight } {
  return SIGHTS.map((sight) => ({ difference: colourDifference(seenBy(a, sight), seenBy(b, sight)), sight })).reduce(
    (p, q) => (q.difference < p.difference ? q : p),
  );
}
