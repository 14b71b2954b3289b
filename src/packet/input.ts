// What a packet is made of. Other stages made the parts; the packet only sets them on pages.
import type { Block } from '../block.ts';
import type { Outlines, Shopping, Work } from '../data.ts';
import type { Drawing } from '../drawing/drawing.ts';
import type { Paper } from '../drawing/paper.ts';
import type { Point } from '../geometry/polygon.ts';
import { readableTitle } from '../names.ts';
import type { Mm, System } from '../units.ts';

export interface PacketInput {
  readonly block: Block;
  readonly templates: {
    readonly sheets: readonly Drawing[];
    /** section id -> numbers of the template sheets it is on, from 1 */
    readonly sheetsOf: Readonly<Record<string, readonly number[]>>;
    /** sections too large for one sheet */
    readonly split: readonly string[];
    /** where on a template sheet its page number goes: the right end of the baseline */
    readonly numberAt: Point;
    /** sheets more than it would take with the sections in any order */
    readonly moreForOrder?: number;
  };
  /** a section to try first, and its template at true size */
  readonly practice?: { readonly block: Block; readonly template: Drawing };
  readonly shopping: Shopping;
  readonly outlines?: Outlines;
  /** what the block was made from, small; turned where the block is */
  readonly picture?: { readonly file: Uint8Array; readonly width: number; readonly height: number };
  /** how much work it is */
  readonly work?: Work;
  /** one sentence each: what was lost, what to mind */
  readonly notes: readonly string[];
  readonly system: System;
  readonly paper: Paper;
  readonly margin: Mm;
  readonly allowance: Mm;
  readonly level?: string;
  readonly designer?: string;
  readonly version?: string;
  /** short: for those who have sewn on paper before; full if absent */
  readonly packet?: 'full' | 'short';
}

/** The block's name as it stands on paper. */
export const titleOf = ({ name }: Pick<Block, 'name'>): string => readableTitle(name);
