// A posterised picture that no stage of ours made: plain k-means in OKLab and a mode filter. What the fit is judged on.
import { clusterColours, gatherColours } from '../../src/colour/cluster.ts';
import { hexOfOklab, type Lab, labDistance } from '../../src/colour/oklab.ts';
import type { Picture, Shading } from '../../src/data.ts';
import { averageCells, blurChannels } from '../../src/shade/cells.ts';
import { fabricsOf } from '../../src/shade/make-fabrics.ts';

const GRID = 192;
const MODE_ROUNDS = 4;
const REACH = 2;

export function plainShades(picture: Picture, shades: number): Shading {
  const cells = averageCells(picture.pixels, picture.width, picture.height, GRID, GRID);
  const lab = blurChannels(cells.lab, GRID, GRID, 3, 1);
  const found = clusterColours(gatherColours(lab), shades, 1);
  const colours = [...found].sort((a, b) => b[0] - a[0]);
  let labels = new Uint8Array(GRID * GRID);
  for (let i = 0; i < labels.length; i++) {
    const own: Lab = [lab[3 * i]!, lab[3 * i + 1]!, lab[3 * i + 2]!];
    for (let j = 1; j < colours.length; j++)
      if (labDistance(own, colours[j]!) < labDistance(own, colours[labels[i]!]!)) labels[i] = j;
  }
  for (let round = 0; round < MODE_ROUNDS; round++) labels = modeFilter(labels, colours.length);
  return {
    width: GRID,
    height: GRID,
    labels,
    fabrics: fabricsOf(colours.map(hexOfOklab)),
    grown: [],
    lost: [],
    notes: [],
  };
}

/** Each cell gets the label that is most frequent in the 5 x 5 cells round it; its own where none is more so. */
function modeFilter(labels: Uint8Array, k: number): Uint8Array<ArrayBuffer> {
  const next = new Uint8Array(labels.length);
  const counts = new Uint16Array(k);
  for (let y = 0; y < GRID; y++)
    for (let x = 0; x < GRID; x++) {
      counts.fill(0);
      for (let Y = Math.max(0, y - REACH); Y <= Math.min(GRID - 1, y + REACH); Y++)
        for (let X = Math.max(0, x - REACH); X <= Math.min(GRID - 1, x + REACH); X++) counts[labels[Y * GRID + X]!]!++;
      let best = labels[y * GRID + x]!;
      for (let j = 0; j < k; j++) if (counts[j]! > counts[best]!) best = j;
      next[y * GRID + x] = best;
    }
  return next;
}
