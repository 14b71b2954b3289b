// Sews a block in the mind, from outlines and numbers alone, and says what cannot be sewn. Takes a Block, gives a Verdict.
// Shares no code with the stages that made the block: its own arithmetic is exact.ts, on whole micrometres.
import { type Block, pieceName, type Section } from '../block.ts';
import type { Fault, Verdict } from '../data.ts';
import { FABRIC_CODE, SECTION_ID } from '../names.ts';
import type { Mm } from '../units.ts';
import { Border, CornerTable, type Loop } from './corners.ts';
import { bend, fitsBox, LARGEST, type Micro, narrowest, notConvexAt, OFF_LINE, spikeIn, toMicro } from './exact.ts';
import { fault, list } from './fault.ts';
import { sewJoins } from './sew-joins.ts';
import { mmText, sewSection } from './sew-section.ts';
import { findMisfits } from './tiling.ts';

export interface CheckOptions {
  /** narrowest finished width of a piece; default: what the block itself asks for; 0 to leave it unchecked */
  readonly smallest?: Mm;
  /** most pieces in a section; default: any number */
  readonly most?: number;
  /** printable width and height; default: any size. A section of one piece is a plain patch and needs no sheet. */
  readonly paper?: readonly [width: Mm, height: Mm];
  /** around every section on its sheet; default 1/4 in */
  readonly allowance?: Mm;
  /** shortest seam; default: any length */
  readonly shortestSeam?: Mm;
}

const QUARTER_INCH = 6.35;

/** Where two corners happen to lie just as far apart as the tolerance, one edge takes both and the edge across it one. A proof
 *  under any of these tolerances holds, for all are far under what can be sewn; the first one's faults are reported. */
const BY_TOLERANCE: ReadonlySet<string> = new Set(['gap', 'overlap', 'outside', 'not convex', 'seam', 'order', 'join']);
const SLACKS = [OFF_LINE, OFF_LINE / 2, 2 * OFF_LINE];

/** Whether a block can be sewn: numbers, fabrics, convex pieces without gap or overlap, each seam straight and right across
 *  what is sewn by then, joins edge to edge until the rectangle is whole. Sewable where no fault is found.
 *  Method: pluck the pieces off in reverse (Leake, Bernstein, Davis & Agrawala, ACM TOG 40(4), 2021). */
export function checkBlock(block: Block, options: CheckOptions = {}): Verdict {
  let first: Verdict | undefined;
  for (const slack of SLACKS) {
    const verdict = checkWithin(block, options, slack);
    first ??= verdict;
    if (!verdict.faults.length) return verdict;
    if (verdict.faults.some((f) => !BY_TOLERANCE.has(f.kind))) break;
  }
  return first!;
}

function checkWithin(block: Block, options: CheckOptions, slack: number): Verdict {
  const size = toMicro(block.size);
  if (!(size[0] > 0 && size[1] > 0 && Math.max(...size) <= LARGEST))
    return { faults: [fault('size', [0, 0], `The block's size ${block.size.join(' x ')} mm cannot be sewn.`)] };
  const far = block.sections.flatMap((s) => [
    ...s.pieces.flatMap((p) => [...p.outline, ...(p.seam ?? [])]),
    ...s.outline,
  ]);
  const lost = [...far, ...block.joins.flatMap((j) => j.seam)].find(
    (p) => !p.every((v) => Math.abs(v) * 1000 <= LARGEST),
  );
  if (lost) return { faults: [fault('outside', toMicro(lost), 'A corner lies far outside the block.')] };

  const faults: Fault[] = [...checkNames(block)];
  const table = new CornerTable(slack);
  const rectangle = table.loop([[0, 0], [size[0], 0], size, [0, size[1]]]);
  const raw = block.sections.map((s) => ({
    outline: table.loop(s.outline.map(toMicro)),
    pieces: s.pieces.map((p) => table.loop(p.outline.map(toMicro))),
  }));
  for (const s of block.sections) {
    const shapes = [
      { name: `Section ${s.id}`, outline: s.outline },
      ...s.pieces.map((p) => ({ name: pieceName(s, p), outline: p.outline })),
    ];
    for (const { name, outline } of shapes) {
      const tip = spikeIn(outline.map(toMicro), bend(slack));
      if (tip)
        faults.push(fault('outline', tip, `${name}: its outline runs out to a point here and back the same way.`));
    }
  }
  // Only now are all corners known.
  const frame = table.refine(rectangle);
  const sections: Shapes[] = raw.map((s) => ({
    outline: table.refine(s.outline),
    pieces: s.pieces.map((loop) => table.refine(loop)),
  }));
  const limits = { ...options, smallest: options.smallest ?? (block.smallest as Mm) };
  let whole = true;
  block.sections.forEach((s, i) => {
    const found = checkSection(s, sections[i]!, table, limits);
    faults.push(...found.faults);
    whole &&= found.sound;
  });

  const outlines = sections.map((s) => s.outline);
  if (outlines.every((o) => o.length >= 3))
    for (const m of findMisfits(table, outlines, frame)) {
      whole = false;
      const names = list(m.parts.map((k) => block.sections[k]!.id));
      const plural = m.parts.length > 1;
      if (m.kind === 'gap')
        faults.push(fault('gap', m.at, `The block has a hole beside section${plural ? 's' : ''} ${names}.`));
      else if (m.kind === 'overlap') faults.push(fault('overlap', m.at, `Sections ${names} lie on each other.`));
      else
        faults.push(
          fault('outside', m.at, `Section${plural ? 's' : ''} ${names} reach${plural ? '' : 'es'} out of the block.`),
        );
    }
  const borders = new Map(block.sections.map((s, i) => [s.id, new Border().add(outlines[i]!)]));
  faults.push(...sewJoins(block, table, whole ? borders : undefined, (options.shortestSeam ?? 0) * 1000));
  return { faults };
}

interface Shapes {
  readonly outline: Loop;
  readonly pieces: readonly Loop[];
}

/** One section: its limits, its shapes, whether the pieces make it up, and its sewing. Sound where the geometry holds. */
function checkSection(s: Section, shapes: Shapes, table: CornerTable, limits: CheckOptions & { smallest: Mm }) {
  const faults: Fault[] = [];
  const at = toMicro(s.outline[0]!);
  const corners = (loop: Loop): Micro[] => loop.map((c) => table.at(c));
  let sound = true;
  const bad = (f: Fault): void => {
    faults.push(f);
    sound = false;
  };
  if (limits.most && s.pieces.length > limits.most)
    faults.push(
      fault('too many pieces', at, `Section ${s.id} has ${s.pieces.length} pieces, more than ${limits.most}.`),
    );
  if (shapes.outline.length < 3) bad(fault('outline', at, `Section ${s.id} has no area.`));
  else {
    const outline = corners(shapes.outline);
    const dent = notConvexAt(outline, bend(table.slack));
    if (dent)
      bad(fault('not convex', dent, `Section ${s.id} is not convex: its outline turns inward here or crosses itself.`));
    const [w, h] = limits.paper ?? [Infinity, Infinity];
    const margin = (limits.allowance ?? QUARTER_INCH) * 1000;
    if (s.pieces.length > 1 && !fitsBox(outline, w * 1000, h * 1000, margin))
      faults.push(fault('too large', at, `Section ${s.id} with its allowance does not fit the sheet.`));
  }
  const smallest = limits.smallest * 1000;
  s.pieces.forEach((p, k) => {
    const name = pieceName(s, p);
    const loop = corners(shapes.pieces[k]!);
    const dent = loop.length < 3 ? undefined : notConvexAt(loop, bend(table.slack));
    // Both of the parallel lines may be off by a rounding.
    const width = loop.length < 3 ? 0 : narrowest(loop);
    if (loop.length < 3) bad(fault('outline', toMicro(p.outline[0]!), `${name} has no area.`));
    else if (dent)
      bad(fault('not convex', dent, `${name} is not convex: its outline turns inward here or crosses itself.`));
    else if (width < smallest - 2 * OFF_LINE)
      faults.push(fault('too narrow', loop[0]!, `${name} is ${mmText(width)} mm wide, under ${mmText(smallest)} mm.`));
  });
  if (sound)
    for (const m of findMisfits(table, shapes.pieces, shapes.outline)) {
      const names = list(m.parts.map((k) => pieceName(s, s.pieces[k]!)));
      if (m.kind === 'gap') bad(fault('gap', m.at, `Section ${s.id} has a hole beside ${names}.`));
      else if (m.kind === 'overlap') bad(fault('overlap', m.at, `${names} lie on each other.`));
      else bad(fault('outside', m.at, `Section ${s.id}: its outline does not reach round ${names}.`));
    }
  if (sound) {
    const order = s.pieces.map((p, k) => ({ p, loop: shapes.pieces[k]! })).sort((a, b) => a.p.number - b.p.number);
    const pieces = order.map(({ p, loop }) => ({
      name: pieceName(s, p),
      loop,
      seam: p.seam && ([toMicro(p.seam[0]), toMicro(p.seam[1])] as const),
    }));
    faults.push(...sewSection(table, pieces, (limits.shortestSeam ?? 0) * 1000));
  }
  return { faults, sound };
}

/** Fabrics, letters and numbers: what can be said without looking at the outlines. */
function checkNames(block: Block): Fault[] {
  const faults: Fault[] = [];
  const twice = (names: readonly string[]): string[] => [...new Set(names.filter((n, i) => names.indexOf(n) !== i))];
  for (const { code } of block.fabrics)
    if (!FABRIC_CODE.test(code))
      faults.push(fault('fabric', [0, 0], `The code ${JSON.stringify(code)} looks like a section or a piece.`));
  for (const s of block.sections)
    if (!SECTION_ID.test(s.id))
      faults.push(
        fault('section', toMicro(s.outline[0]!), `The name ${JSON.stringify(s.id)} is no letter of a section.`),
      );
  const known = new Set(block.fabrics.map((f) => f.id));
  for (const id of twice(block.fabrics.map((f) => f.id)))
    faults.push(fault('fabric', [0, 0], `Two fabrics are both called "${id}".`));
  for (const code of twice(block.fabrics.map((f) => f.code)))
    faults.push(fault('fabric', [0, 0], `Two fabrics have the code "${code}".`));
  for (const id of twice(block.sections.map((s) => s.id))) {
    const s = block.sections.find((t) => t.id === id)!;
    faults.push(fault('section', toMicro(s.outline[0]!), `Two sections are both called ${id}.`));
  }
  for (const s of block.sections) {
    const numbers = s.pieces.map((p) => p.number).sort((a, b) => a - b);
    if (numbers.some((n, i) => n !== i + 1))
      faults.push(
        fault(
          'number',
          toMicro(s.outline[0]!),
          `The pieces of section ${s.id} are not numbered 1 to ${numbers.length}.`,
        ),
      );
    for (const p of s.pieces)
      if (!known.has(p.fabric))
        faults.push(
          fault(
            'fabric',
            toMicro(p.outline[0]!),
            `${pieceName(s, p)} asks for fabric "${p.fabric}", which the block does not have.`,
          ),
        );
  }
  return faults;
}
