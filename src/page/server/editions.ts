// Which letter a block that is changed by hand has: the next one only where paper or a file of the one before has been given out,
// so that two papers of one letter are always the same block, and trying things out uses up no letters.
import { createHash } from 'node:crypto';
import type { Block } from '../../block.ts';
import { followingEdition } from '../../pipeline/change.ts';

/** What has been given out: each letter with what the block was then. */
export type GivenOut = Readonly<Record<string, string>>;

/** All of the block but its letter. */
export function contentOf({ edition: _, ...rest }: Block): string {
  return createHash('sha256').update(JSON.stringify(rest)).digest('hex').slice(0, 32);
}

/** The letter of a block that was changed again; `following` is the one after that of the block before. */
export function editionAfter(
  before: { readonly by: string; readonly edition: string | undefined },
  following: string,
  out: GivenOut,
): string {
  let edition = before.by === 'change' && before.edition !== undefined ? before.edition : following;
  while (out[edition] !== undefined) edition = followingEdition(edition);
  return edition;
}

/** The block as it is given out: under another letter where its own has gone out with another block. */
export function lettered(block: Block, out: GivenOut): { readonly block: Block; readonly out: GivenOut } {
  const content = contentOf(block);
  let edition = block.edition ?? 'A';
  while (out[edition] !== undefined && out[edition] !== content) edition = followingEdition(edition);
  return { block: edition === block.edition ? block : { ...block, edition }, out: { ...out, [edition]: content } };
}
