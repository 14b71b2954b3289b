import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readBlock } from '../../src/block.ts';
import { checkBlock } from '../../src/check/check-block.ts';
import { carryOver } from '../../src/page/server/carry-over.ts';
import { blockSettings, firstSettings } from '../../src/page/server/settings.ts';
import { changeFabric, dividePiece, renameFabric } from '../../src/section/change-block.ts';
import { moveSeam } from '../../src/section/move-seam.ts';

const FILE = join(import.meta.dirname, 'fox.block.json');
const fitted = readBlock(readFileSync(FILE, 'utf8'), FILE);
const settings = blockSettings(firstSettings('fox'));
const limits = { mostPieces: 12, paper: [190, 254], allowance: 6.35, narrowest: 6.35 } as const;
const names = fitted.sections.flatMap((s) => s.pieces.map((p) => `${s.id}${p.number}`));
const fabricOf = (block: typeof fitted, name: string): string =>
  block.sections
    .flatMap((s) => s.pieces.map((p) => [`${s.id}${p.number}`, p.fabric] as const))
    .find(([n]) => n === name)![1];

describe('changes by hand, for another fit', () => {
  const [first, second] = [names[0]!, names.at(-1)!];
  const other = (name: string): string => fitted.fabrics.find((f) => f.id !== fabricOf(fitted, name))!.id;
  const recoloured = changeFabric(changeFabric(fitted, [first], other(first)), [second], other(second));
  const changed = renameFabric(recoloured, fitted.fabrics[0]!.id, { name: 'barn red' });

  test('pieces that are where they were have their fabric again, and fabrics their name', () => {
    // the other fit: nearly the same pieces, one seam elsewhere
    const seamed = fitted.sections.flatMap((s) => s.pieces.slice(1).map((p) => `${s.id}${p.number}`));
    const block = moveSeam(fitted, seamed.find((n) => n !== first && n !== second)!, { by: 0.5, turn: 0 }, limits);
    const carried = carryOver({ fitted, changed, block, settings })!;
    expect([...carried.pieces].sort()).toEqual([first, second].sort());
    expect(carried.fabrics).toEqual(['barn red']);
    for (const n of [first, second]) expect(fabricOf(carried.block, n)).toBe(other(n));
    expect(carried.block.fabrics[0]!.name).toBe('barn red');
    expect(checkBlock(carried.block).faults).toEqual([]);
    // and nothing else is another
    for (const n of names.filter((m) => m !== first && m !== second))
      expect(fabricOf(carried.block, n)).toBe(fabricOf(block, n));
  });

  test('a piece whose place is another is left as it was fitted', () => {
    const p = fitted.sections[0]!.pieces[0]!;
    const xs = p.outline.map((q) => q[0]);
    const ys = p.outline.map((q) => q[1]);
    const middle = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2] as const;
    const line = [middle, [middle[0] + 0.3, middle[1] + 10]] as const;
    const block = dividePiece(fitted, first, line, { ...limits, mostPieces: 40, narrowest: 1 });
    const only = changeFabric(fitted, [first], other(first));
    expect(carryOver({ fitted, changed: only, block, settings })).toBeUndefined();
  });

  test('colours that the other fit has not are not forced on it', () => {
    const block = { ...fitted, fabrics: fitted.fabrics.map((f) => ({ ...f, colour: '#00ff7f' })) };
    expect(carryOver({ fitted, changed, block, settings })).toBeUndefined();
  });
});
