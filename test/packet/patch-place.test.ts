// Where along its seam a patch goes: what a step says is enough to cover the piece. Judged from the rule alone (../fabric/covers.ts).
import { expect, test } from 'vitest';
import type { Piece, Section } from '../../src/block.ts';
import { planFabric } from '../../src/fabric/plan-fabric.ts';
import { distance, type Point } from '../../src/geometry/polygon.ts';
import { placeAlongSeam, placeWords } from '../../src/packet/patch-place.ts';
import { inches, parseLength, type System } from '../../src/units.ts';
import { coversAskew, neededPoints, uncoveredPieces } from '../fabric/covers.ts';
import { twelveBlocks } from './twelve-blocks.ts';

const BLOCKS = twelveBlocks();

/** Where the patch's two ends come to lie along the seam when a hand does what the words say; mm from the seam's start. */
function laidAsSaid(piece: Piece, words: string | undefined, length: number): [number, number] {
  const [a, b] = piece.seam as [Point, Point];
  const seam = distance(a, b);
  if (!words) return [(seam - length) / 2, (seam + length) / 2];
  const [, past, end] = /^(.+) past (left|right|top|bottom)$/.exec(words)!;
  const by = parseLength(past!, 'past');
  // left is where x is smaller, top where y is
  const first =
    end === 'left' ? a[0] < b[0] : end === 'right' ? a[0] > b[0] : end === 'top' ? a[1] < b[1] : a[1] > b[1];
  return first ? [-by, length - by] : [seam + by - length, seam + by];
}

test.each(['inch', 'metric'] as const)(
  'every patch laid where its step says covers its piece: %s',
  (system: System) => {
    const allowance = system === 'inch' ? inches(1 / 4) : 6;
    let [centred, moved, failing] = [0, 0, 0];
    for (const block of BLOCKS) {
      const { patches } = planFabric([{ block }], { system, allowance });
      for (const s of block.sections)
        for (const p of s.pieces) {
          const patch = patches.find((q) => q.section === s.id && q.piece === p.number)!;
          const place = placeAlongSeam(p, patch);
          if (!place) continue;
          const words = placeWords(place, system);
          // its side along the seam is the one the plan has there
          const length = place.past[0] + place.past[1] + distance(...(p.seam as [Point, Point]));
          const [from, to] = laidAsSaid(p, words, length);
          const [low, high] = needed(p, s, allowance);
          expect(low - from, `${block.name} ${s.id}${p.number}: ${words}`).toBeGreaterThan(-0.01);
          expect(to - high, `${block.name} ${s.id}${p.number}: ${words}`).toBeGreaterThan(-0.01);
          if (words) moved++;
          else centred++;
          const middle = distance(...(p.seam as [Point, Point])) / 2;
          if (low < middle - length / 2 || high > middle + length / 2) failing++;
        }
    }
    expect(centred).toBeGreaterThan(100);
    expect(moved).toBeGreaterThan(30);
    // these would not cover if the step said nothing
    expect(failing).toBeGreaterThan(10);
  },
);

/** From where to where along its seam a piece with its share of the seam allowance reaches; mm from the seam's start. */
function needed(p: Piece, s: Section, allowance: number): [number, number] {
  const [a, b] = p.seam as [Point, Point];
  const length = distance(a, b);
  const along = neededPoints(p, s, allowance).map(
    (q) => ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / length,
  );
  return [Math.min(...along), Math.max(...along)];
}

test('twelve blocks: all patches cover, those askew as the picture shows them, and none is over 8 times its piece where a turn saves it', () => {
  let askew = 0;
  for (const block of BLOCKS) {
    const { patches } = planFabric([{ block }]);
    expect(uncoveredPieces(block, patches, inches(1 / 4)), block.name).toEqual([]);
    for (const patch of patches.filter((p) => p.along === 'turned')) {
      askew++;
      const s = block.sections.find((o) => o.id === patch.section)!;
      const p = s.pieces.find((o) => o.number === patch.piece)!;
      expect(coversAskew(neededPoints(p, s, inches(1 / 4)), patch)).toBe(true);
    }
  }
  expect(askew).toBeGreaterThan(3);
});

test('each patch is in the cutting plan once, and no strip is longer than its fabric is wide', () => {
  for (const block of BLOCKS) {
    const { patches, fabrics } = planFabric([{ block }]);
    const cut = fabrics.flatMap((f) => f.strips.flatMap((s) => s.patches));
    expect([...cut].sort()).toEqual(patches.map((p) => `${p.section}${p.piece}`).sort());
    for (const f of fabrics)
      for (const s of f.strips) {
        expect(s.length).toBeLessThanOrEqual(f.clothWidth! + 0.01);
        for (const c of s.cells!) {
          const p = patches[c.patch]!;
          expect([c.width, c.length].sort((x, y) => x - y)).toEqual(
            [p.width, p.length].sort((x, y) => x - y).map((v) => expect.closeTo(v, 2)),
          );
        }
      }
  }
});
