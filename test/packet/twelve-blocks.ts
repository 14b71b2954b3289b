// Twelve blocks to hold what is measured on printed paper: those that the cases expect, as they were fitted to photos, drawings and
// flat art, and two by chance of 60 and 80 pieces.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Block, readBlock } from '../../src/block.ts';
import { randomBlock } from './blocks.ts';

const CASES = join(import.meta.dirname, '..', 'cases');

export function twelveBlocks(): Block[] {
  const names = readdirSync(CASES, { withFileTypes: true })
    .filter((d) => d.isDirectory())
    .map((d) => d.name)
    .sort();
  const fitted = names.map((name) => {
    const file = join(CASES, name, 'expected.block.json');
    return { ...readBlock(readFileSync(file, 'utf8'), file), name };
  });
  return [...fitted, randomBlock(9, 60), randomBlock(5, 80)];
}
