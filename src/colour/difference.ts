// How different two fabrics look, by the published measures; culori does the arithmetic.
import { converter, differenceCiede2000, wcagContrast } from 'culori';

const toLab = converter('lab65');
const ciede = differenceCiede2000();

/** CIE L* (D65), 0 black to 100 white. */
export const lightness = (hex: string): number => toLab(hex)!.l;

/** CIEDE2000 of two "#rrggbb" colours on D65 Lab (Sharma, Wu & Dalal 2005). */
export const colourDifference = (a: string, b: string): number => ciede(toLab(a)!, toLab(b)!);

/** WCAG 2 contrast ratio, 1 to 21. */
export const contrast = (a: string, b: string): number => wcagContrast(a, b);
