// What a packet is made of. Other stages made the parts; the packet only sets them on pages.
import type { Block } from '../block.ts';
import type { Outlines, Shopping, Work } from '../data.ts';
import type { Drawing } from '../drawing/drawing.ts';
import type { Paper } from '../drawing/paper.ts';
import type { Point } from '../geometry/polygon.ts';
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
  };
  /** a section to try first, and its template at true size */
  readonly practice?: { readonly block: Block; readonly template: Drawing };
  readonly shopping: Shopping;
  readonly outlines?: Outlines;
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
}
