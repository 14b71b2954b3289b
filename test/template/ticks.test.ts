// The ticks across the allowance, as they are printed: read back from the PDF and held against what the block alone says about
// where its sections meet.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Block, readBlock, type Section } from '../../src/block.ts';
import { writePdf } from '../../src/drawing/pdf.ts';
import { distance, offLine, type Point, type Segment } from '../../src/geometry/polygon.ts';
import { cleanOutline, findContacts } from '../../src/template/contacts.ts';
import { layOutTemplates } from '../../src/template/lay-out.ts';
import { turnLeftRight } from '../../src/template/printed-side.ts';
import { inches, mm } from '../../src/units.ts';
import { randomBlock } from '../packet/blocks.ts';
import { twelveBlocks } from '../packet/twelve-blocks.ts';
import { corners, readTemplates } from './printed.ts';

const ALLOWANCE = inches(1 / 4);
/** mm: seam ends of both sides no further apart than this are meant to meet (trade rule) */
const MEETS = 0.25;
/** mm: marks on a join are no further apart than 3 in (house rule) */
const FAR = 76.2;
/** mm: the two ticks of a pair; only these two of all marks lie so near */
const PAIR = 1.6;
/** mm: a stretch from here on without seams that meet has room for a pair, 7.2 mm off both its ends */
const PAIRED_FROM = 24;
const SAME = 0.1;
/** no section is printed in parts */
const LARGE = { width: mm(600), height: mm(900) };

/** Where two sections lie against each other: on an edge of one, from the first corner of that edge on. */
interface Stretch {
  readonly on: Section;
  readonly other: Section;
  readonly edge: number;
  readonly from: number;
  readonly to: number;
  readonly line: Segment;
}

const FOX = join(import.meta.dirname, '..', 'page', 'fox.block.json');
const BLOCKS: [string, Block][] = [
  ['a fitted fox', readBlock(readFileSync(FOX, 'utf8'), FOX)],
  ['80 random pieces', randomBlock(6, 80)],
  ['20 random pieces at 20 in', randomBlock(3, 20, { size: [508, 508], smallest: 30 })],
  ...twelveBlocks().map((b): [string, Block] => [b.name, b]),
];

describe.each(BLOCKS)('the ticks printed for %s', (_, block) => {
  const outlines = new Map(block.sections.map((s) => [s.id, corners(s.outline)]));
  const stretches = findStretches(block, outlines);
  let printed: Awaited<ReturnType<typeof print>>;
  beforeAll(async () => {
    printed = await print(block, outlines);
  });

  /** Ticks printed on a stretch, mm from its start, its ends left out. */
  const ticksOn = ({ on, edge, from, to }: Stretch): number[] => {
    const ticks = printed.get(on.id)![edge]!;
    return ticks.filter((t) => t > from + SAME && t < to - SAME).map((t) => t - from);
  };

  test('stand at the same places on both sides of a join', () => {
    expect(stretches.length).toBeGreaterThan(block.sections.length / 2);
    for (const s of stretches) {
      const back = stretches.find(
        (o) => o.on === s.other && o.other === s.on && distance(o.line[0], s.line[1]) < SAME,
      )!;
      const [here, there] = [
        ticksOn(s),
        ticksOn(back)
          .map((t) => s.to - s.from - t)
          .reverse(),
      ];
      expect(there.length, `${s.on.id} and ${s.other.id}`).toBe(here.length);
      for (const [i, t] of here.entries()) expect(Math.abs(t - there[i]!)).toBeLessThan(SAME);
    }
  });

  test('stand wherever seams of both sides meet', () => {
    let seen = 0;
    for (const s of stretches)
      for (const t of meetingSeams(s)) {
        const ticks = ticksOn(s);
        expect(
          ticks.some((at) => Math.abs(at - t) < MEETS),
          `${s.on.id} to ${s.other.id}, ${t} mm along, of ${ticks}`,
        ).toBe(true);
        seen++;
      }
    if (block.name.startsWith('noto')) expect(seen).toBeGreaterThan(3);
  });

  test('stand where another section ends along an edge', () => {
    let seen = 0;
    for (const s of stretches) {
      const edges = outlines.get(s.on.id)!;
      const length = distance(edges[s.edge]!, edges[(s.edge + 1) % edges.length]!);
      for (const t of [s.from, s.to]) {
        if (t < SAME || t > length - SAME) continue;
        const ticks = printed.get(s.on.id)![s.edge]!;
        expect(Math.min(...ticks.map((at) => Math.abs(at - t))), `${s.on.id} to ${s.other.id}`).toBeLessThan(SAME);
        seen++;
      }
    }
    expect(seen).toBeGreaterThan(0);
  });

  test('are no further apart than 3 in, and a pair off the middle tells one end from the other', () => {
    let pairs = 0;
    for (const s of stretches) {
      const ticks = ticksOn(s);
      const all = [0, ...ticks, s.to - s.from];
      for (const [i, t] of all.slice(1).entries()) expect(t - all[i]!).toBeLessThan(FAR + SAME);
      const near = ticks.flatMap((t, i) => (i && t - ticks[i - 1]! < 2 * PAIR ? [(t + ticks[i - 1]!) / 2] : []));
      expect(near.length).toBeLessThanOrEqual(1);
      if (s.to - s.from >= PAIRED_FROM && !meetingSeams(s).length) expect(near).toHaveLength(1);
      for (const middle of near) expect(Math.abs(middle / (s.to - s.from) - 0.5)).toBeGreaterThan(0.05);
      pairs += near.length;
    }
    expect(pairs).toBeGreaterThan(block.sections.length / 2);
  });

  test('are those that the contacts of the sections name, one and all', () => {
    // as they are printed: in the mirror
    const contacts = findContacts(turnLeftRight(block));
    const mirrored = ([x, y]: Point): Point => [block.size[0] - x, y];
    for (const s of stretches) {
      const ends = s.line.map(mirrored);
      const c = contacts
        .get(s.on.id)!
        .find((o) => o.other === s.other.id && o.line.some((q) => distance(q, ends[0]!) < SAME))!;
      const named = [...c.matched, ...c.ticks, ...(c.pair ?? [])].map((q) => distance(q, ends[0]!));
      const ticks = ticksOn(s);
      expect(ticks.length).toBe(named.length);
      for (const [i, t] of named.sort((x, y) => x - y).entries()) expect(Math.abs(t - ticks[i]!)).toBeLessThan(SAME);
    }
  });
});

/** Each section's ticks, edge by edge of its outline as it lies in the block. Which template is whose, and which corner its
 *  first, is known from the sheets' description, for shapes may be alike; the ticks themselves come from the PDF. */
async function print(
  block: Block,
  outlines: ReadonlyMap<string, readonly Point[]>,
): Promise<Map<string, readonly (readonly number[])[]>> {
  const options = { paper: LARGE, margin: inches(3 / 8), allowance: ALLOWANCE, system: 'inch' } as const;
  const { sheets, split } = layOutTemplates(block, options);
  expect(split).toEqual([]);
  const templates = await readTemplates(await writePdf(sheets, { title: 'ticks' }), ALLOWANCE);
  expect(templates).toHaveLength(block.sections.length);
  const mirrored = turnLeftRight(block);
  return new Map(
    block.sections.map((s, n) => {
      const drawn = sheets.flatMap((sheet, page) =>
        sheet.items.flatMap((g) =>
          g.kind === 'group' && g.name === `section ${s.id}`
            ? g.items.flatMap((i) =>
                i.kind === 'path' && i.role === 'sewing-line' ? [{ page, ring: i.rings[0]! }] : [],
              )
            : [],
        ),
      );
      expect(drawn).toHaveLength(1);
      const { page, ring } = drawn[0]!;
      const t = templates.find(
        (o) => o.page === page && ring.every((q) => o.outline.some((p) => distance(p, q) < SAME)),
      );
      expect(t, `section ${s.id} is printed`).toBeDefined();
      const places = cleanOutline(mirrored.sections[n]!.outline);
      expect(places).toHaveLength(ring.length);
      const printedAt = (q: Point): number => {
        const i = places.findIndex((p) => distance(p, [block.size[0] - q[0], q[1]]) < SAME);
        return t!.outline.findIndex((p) => distance(p, ring[i]!) < SAME);
      };
      const outline = outlines.get(s.id)!;
      return [
        s.id,
        outline.map((a, i) => {
          const b = outline[(i + 1) % outline.length]!;
          // in the mirror an edge runs the other way
          return t!.ticks[printedAt(b)]!.map((at) => distance(a, b) - at).reverse();
        }),
      ];
    }),
  );
}

/** Edges that run against each other on one line, found by trying all. */
function findStretches(block: Block, outlines: ReadonlyMap<string, readonly Point[]>): Stretch[] {
  const out: Stretch[] = [];
  for (const on of block.sections)
    for (const other of block.sections) {
      if (on === other) continue;
      const [P, Q] = [outlines.get(on.id)!, outlines.get(other.id)!];
      for (const [edge, a] of P.entries())
        for (const [k, c] of Q.entries()) {
          const [b, d] = [P[(edge + 1) % P.length]!, Q[(k + 1) % Q.length]!];
          if (Math.abs(offLine(a, b, c)) > 0.02 || Math.abs(offLine(a, b, d)) > 0.02) continue;
          const length = distance(a, b);
          const along = (q: Point): number => ((q[0] - a[0]) * (b[0] - a[0]) + (q[1] - a[1]) * (b[1] - a[1])) / length;
          const [from, to] = [Math.max(0, along(d)), Math.min(length, along(c))];
          const at = (t: number): Point => [a[0] + ((b[0] - a[0]) * t) / length, a[1] + ((b[1] - a[1]) * t) / length];
          if (to - from > SAME) out.push({ on, other, edge, from, to, line: [at(from), at(to)] });
        }
    }
  return out;
}

/** mm from the start of a stretch: where a seam of one section ends against a seam of the other. */
function meetingSeams({ on, other, line }: Stretch): number[] {
  const length = distance(line[0], line[1]);
  const ends = (s: Section): number[] =>
    s.pieces
      .flatMap((p) => (p.seam ?? []) as Point[])
      .filter((q) => Math.abs(offLine(line[0], line[1], q)) < 0.02)
      .map(
        (q) =>
          ((q[0] - line[0][0]) * (line[1][0] - line[0][0]) + (q[1] - line[0][1]) * (line[1][1] - line[0][1])) / length,
      )
      .filter((t) => t > MEETS && t < length - MEETS);
  const there = ends(other);
  return ends(on).filter((t) => there.some((v) => Math.abs(v - t) < MEETS));
}
