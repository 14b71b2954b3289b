// One change of a finished block: the next edition of it, checked, and what of the printed paper and the cut cloth is void now.
import type { Block } from '../block.ts';
import { checkBlock } from '../check/check-block.ts';
import type { BlockChange } from '../data.ts';
import { type ChangedPatches, changedPatches } from '../fabric/changed-patches.ts';
import { narrowestWidth } from '../geometry/polygon.ts';
import { REFUSED_WIDTH } from '../levels.ts';
import { UserError } from '../problems/problem.ts';
import {
  type ChangeLimits,
  changeFabric,
  dividePiece,
  joinSections,
  mergePieces,
  renameFabric,
  splitSection,
} from '../section/change-block.ts';
import { moveSeam } from '../section/move-seam.ts';
import { changedTemplates } from '../template/changed-templates.ts';
import { templateArea } from '../template/template-area.ts';
import { mm } from '../units.ts';
import type { PacketSettings } from './print.ts';

export interface Void extends ChangedPatches {
  /** sections whose printed templates are useless: print these again */
  readonly print: readonly string[];
  /** sections that are no longer there */
  readonly gone: readonly string[];
}

const largestSection = (block: Block): number => Math.max(...block.sections.map((s) => s.pieces.length));

/** What changes of a block must keep to; sections that are larger already may stay so. */
export function changeLimits(
  block: Block,
  { mostPieces, paper, margin, allowance }: Pick<PacketSettings, 'mostPieces' | 'paper' | 'margin' | 'allowance'>,
): ChangeLimits {
  const most = Math.max(mostPieces, largestSection(block));
  return { mostPieces: most, paper: templateArea(paper, margin), allowance, narrowest: REFUSED_WIDTH };
}

/** What a changed block is held to when it is checked and printed: the limits it was made with, as far as it keeps to them. */
export const changedSettings = <T extends PacketSettings>(after: Block, settings: T): T => ({
  ...settings,
  smallest: mm(after.smallest),
  mostPieces: Math.max(settings.mostPieces, largestSection(after)),
});

/** One change of a block. Throws UserError where it cannot be. */
export function applyChange(block: Block, change: BlockChange, limits: ChangeLimits): Block {
  switch (change.kind) {
    case 'fabric':
      return changeFabric(block, change.pieces, change.fabric);
    case 'merge':
      return mergePieces(block, change.first, change.second, limits);
    case 'divide':
      return dividePiece(block, change.piece, change.line, limits, change.fabric);
    case 'move':
      return moveSeam(block, change.seam, { by: change.by, turn: 0 }, limits);
    case 'swing':
      return moveSeam(block, change.seam, { by: 0, turn: change.degrees }, limits);
    case 'unite':
      return joinSections(block, change.first, change.second, limits);
    case 'part':
      return splitSection(block, change.section, limits, change.piece);
    case 'rename':
      return renameFabric(block, change.fabric, { name: change.name });
    case 'colour':
      return renameFabric(block, change.fabric, { colour: change.colour });
  }
}

/** Applies a change to a block that passes the check. Throws UserError where what came out cannot be sewn. */
export function nextEdition(block: Block, change: (block: Block) => Block): Block {
  const { faults: before } = checkBlock(block);
  if (before[0]) throw new UserError('cannot-be-sewn-yet', { what: block.name, fault: before[0].text });
  const changed = change(block);
  const widths = changed.sections.flatMap((s) => s.pieces.map((p) => narrowestWidth(p.outline)));
  const edition = followingEdition(block.edition ?? 'A');
  // A change may be asked to go below the width that the fit was asked for.
  const smallest = Math.min(block.smallest, Math.floor(Math.min(...widths) * 1000) / 1000);
  const { format, version, name, ...rest } = changed;
  const next: Block = { format, version, name, ...rest, edition, smallest };
  const { faults } = checkBlock(next);
  if (faults[0]) throw new UserError('change-cannot-be-sewn', { fault: faults[0].text });
  return next;
}

/** A, B … Z, AA …: every letter, since these are read on paper beside a word. */
export function followingEdition(edition: string): string {
  const last = edition.charCodeAt(edition.length - 1);
  if (last < 90) return edition.slice(0, -1) + String.fromCharCode(last + 1);
  return `${edition.length > 1 ? followingEdition(edition.slice(0, -1)) : 'A'}A`;
}

/** What of the paper that was printed and the cloth that was cut for a block another edition of it has no use for. */
export function findVoid(before: Block, after: Block, { allowance, units: system, slack }: PacketSettings): Void {
  const { changed, gone } = changedTemplates(before, after, { allowance, system, fill: 'hatch' });
  return { print: changed, gone, ...changedPatches(before, after, { system, allowance, slack }) };
}
