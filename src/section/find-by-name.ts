// Pieces, sections and fabrics of a block by the names that people give them. What is not there is a UserError.
import { type Block, pieceName, type Section } from '../block.ts';
import { UserError } from '../problems/problem.ts';

/** "B3" -> the section and its piece. */
export function findPiece(block: Block, name: string): { section: Section; at: number } {
  for (const section of block.sections) {
    const at = section.pieces.findIndex((p) => pieceName(section, p).toLowerCase() === name.trim().toLowerCase());
    if (at >= 0) return { section, at };
  }
  const example = pieceName(block.sections[0]!, { number: 1 });
  throw new UserError('no-such-piece', { piece: name, block: block.name, example }, 2);
}

export function findSection(block: Block, id: string): Section {
  const section = block.sections.find((s) => s.id.toLowerCase() === id.trim().toLowerCase());
  const sections = block.sections.map((s) => s.id);
  if (!section) throw new UserError('no-such-section', { section: id, block: block.name, sections }, 2);
  return section;
}

/** By its code, name or id. */
export function findFabric(block: Block, name: string): Block['fabrics'][number] {
  const wanted = name.trim().toLowerCase();
  const fabric = block.fabrics.find((f) => [f.code, f.name, f.id].some((t) => t.toLowerCase() === wanted));
  const fabrics = block.fabrics.map((f) => `${f.code} (${f.name})`);
  if (!fabric) throw new UserError('no-such-fabric', { fabric: name, block: block.name, fabrics }, 2);
  return fabric;
}
