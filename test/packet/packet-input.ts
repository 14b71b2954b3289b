// A packet's input for tests of its pages: templates laid out as they are, a plausible cutting list.
import type { Block } from '../../src/block.ts';
import type { Paper } from '../../src/drawing/paper.ts';
import type { PacketInput } from '../../src/packet/input.ts';
import { layOutTemplates } from '../../src/template/lay-out.ts';
import { inches } from '../../src/units.ts';
import { plainShopping } from './shopping.ts';

export function inputFor(block: Block, paper: Paper = 'letter'): PacketInput {
  const common = { paper, margin: inches(3 / 8), allowance: inches(1 / 4), system: 'inch' as const };
  const templates = layOutTemplates(block, common);
  return { ...common, block, templates, shopping: plainShopping(block), notes: ['One small thing was lost.'] };
}
