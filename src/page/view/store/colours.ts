// Colours as they are looked at: by lightness alone, or as someone sees them who lacks one kind of cone.
import { type Sight, seenBy } from '../../../colour/colour-blind.ts';
import { LINEAR, rgbOfHex } from '../../../colour/oklab.ts';

/** How colours are shown: as they are, by lightness alone, or as someone sees them who lacks one kind of cone. */
export type See = 'fabrics' | 'values' | Sight;

/** Relative luminance of sRGB (IEC 61966-2-1). */
export function luminance(hex: string): number {
  const [r, g, b] = rgbOfHex(hex).map((v) => LINEAR[v]!) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** The grey of the same luminance: what is equally light in it is equally light in cloth. */
export function greyOf(hex: string): string {
  const y = luminance(hex);
  const v = Math.round(255 * (y <= 0.0031308 ? 12.92 * y : 1.055 * y ** (1 / 2.4) - 0.055));
  return `#${v.toString(16).padStart(2, '0').repeat(3)}`;
}

export const shownColour = (hex: string, see: See): string =>
  see === 'fabrics' ? hex : see === 'values' ? greyOf(hex) : seenBy(hex, see);

/** Black or white, whichever is read better on a colour. */
export const inkOn = (hex: string): string => (luminance(hex) > 0.179 ? '#000000' : '#ffffff');
