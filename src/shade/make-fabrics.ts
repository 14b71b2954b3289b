// Takes labels and colours, gives the block's fabrics: light to dark, named, coded, each with its hatch.
import type { Fabric } from '../block.ts';
import { nameColours } from '../colour/names.ts';
import { hexOfOklab, type Lab, oklabOfHex } from '../colour/oklab.ts';

/** "fa", "fb" … : f for fabric, then letters from the lightest on. Small letters in pairs look neither like a section ("A",
 *  "AB") nor like a piece ("A3"), and sort as the fabrics do. */
export function fabricCode(index: number): string {
  const letters = 'abcdefghjkmnpqrstuvwxyz';
  return `f${index < letters.length ? letters[index] : letters[Math.floor(index / letters.length) - 1]! + letters[index % letters.length]!}`;
}

/** The fabrics of a list of colours that is light to dark. */
export function fabricsOf(colours: readonly string[]): Fabric[] {
  const names = nameColours(colours.map(oklabOfHex));
  return colours.map((colour, i) => ({
    id: `f${i + 1}`,
    code: fabricCode(i),
    name: names[i]!,
    colour,
    hatch: i,
  }));
}

/** Drops colours without cells, orders the rest light to dark; `order[old]` is the new index. */
export function orderShades(
  labels: Uint8Array,
  colours: readonly Lab[],
): { labels: Uint8Array; colours: string[]; order: number[] } {
  const counts = new Uint32Array(colours.length);
  for (const l of labels) counts[l]!++;
  const used = colours.map((_, i) => i).filter((i) => counts[i]);
  used.sort((p, q) => colours[q]![0] - colours[p]![0] || p - q);
  const order = colours.map((_, i) => used.indexOf(i));
  return { labels: labels.map((l) => order[l]!), colours: used.map((i) => hexOfOklab(colours[i]!)), order };
}
