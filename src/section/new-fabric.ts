// Pieces in a fabric that the block has not yet: it joins the others, with a code, a hatch and an id of its own.
import type { Block } from '../block.ts';
import { changeFabric } from './change-block.ts';

export interface NewFabric {
  readonly name: string;
  /** "#rrggbb" */
  readonly colour: string;
  readonly print?: 'directional' | 'large';
}

const LETTERS = 'abcdefghjkmnpqrstuvwxyz';

/** The pieces in that fabric; one that the block has under this name and colour is that. Throws UserError for pieces that are not there. */
export function paintPieces(block: Block, pieces: readonly string[], { name, colour, print }: NewFabric): Block {
  const hex = colour.toLowerCase();
  const there = block.fabrics.find((f) => f.colour === hex && f.name === name);
  if (there) return changeFabric(block, pieces, there.id);
  const codes = new Set(block.fabrics.map((f) => f.code.toLowerCase()));
  const ids = new Set(block.fabrics.map((f) => f.id));
  let n = block.fabrics.length + 1;
  while (ids.has(`f${n}`)) n++;
  const fabric = {
    id: `f${n}`,
    code: freeCode(codes),
    name: freeName(name, new Set(block.fabrics.map((f) => f.name))),
    colour: hex,
    hatch: Math.max(-1, ...block.fabrics.map((f) => f.hatch)) + 1,
    ...(print && { print }),
  };
  return changeFabric({ ...block, fabrics: [...block.fabrics, fabric] }, pieces, fabric.id);
}

/** "fa", "fb" … as all fabrics are coded. */
function freeCode(taken: ReadonlySet<string>): string {
  for (const first of ['', ...LETTERS])
    for (const last of LETTERS) if (!taken.has(`f${first}${last}`)) return `f${first}${last}`;
  throw new Error('more fabrics than codes');
}

function freeName(name: string, taken: ReadonlySet<string>): string {
  let free = name;
  for (let n = 2; taken.has(free); n++) free = `${name} ${n}`;
  return free;
}
