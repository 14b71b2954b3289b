// What the pages of a yardage plan are made of.
import type { Block, Fabric } from '../block.ts';
import type { Yardage } from '../data.ts';
import type { Paper } from '../drawing/paper.ts';
import type { System } from '../units.ts';

export interface YardagePages {
  readonly title: string;
  readonly system: System;
  readonly paper: Paper;
  /** mm; 3/8 in unless given */
  readonly margin?: number;
  readonly designer?: string;
  readonly version?: string;
}

/** What every page of the plan needs. */
export interface PlanPage extends YardagePages {
  readonly plan: Yardage;
  readonly margin: number;
  /** by code, over all blocks */
  readonly fabrics: ReadonlyMap<string, Fabric>;
  /** "A3", or "2-A3" where several blocks are cut together and are numbered */
  readonly patchName: (p: { readonly block: string; readonly section: string; readonly piece: number }) => string;
}

/** "pepper" or "1 pepper" where blocks are numbered. */
export const blockTitle = (page: PlanPage, block: Block): string => {
  const i = page.plan.blocks.findIndex((b) => b.block === block);
  return page.plan.blocks.length > 1 ? `${i + 1}  ${block.name}` : block.name;
};
