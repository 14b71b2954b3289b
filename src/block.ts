// The Block: what the whole program is about, and its file NAME.block.json (an open exchange format; the JSON Schema is
// published by `blockJsonSchema` and by `seamwright schema`). Outlines are the finished face seen from the front, in
// millimetres on a grid of 1 micrometre, y down, without allowance. Unknown fields survive reading and writing.

import { z } from 'zod';
import { depthOf } from './depth.ts';
import type { Point } from './geometry/polygon.ts';
import { FABRIC_CODE, FABRIC_ID, PLAIN_TEXT, SECTION_ID } from './names.ts';
import { UserError } from './problems/problem.ts';

/** Bounds of a file, so that whatever is handed on can be answered: far beyond what anybody sews. */
export const BLOCK_LIMITS = {
  /** longest side, mm */
  side: 2000,
  pieces: 660,
  /** of one section, which is one paper */
  piecesOfSection: 100,
  /** of one outline */
  corners: 200,
  /** of all outlines together */
  allCorners: 8000,
  sections: 660,
  fabrics: 100,
  /** characters of a block's or fabric's name */
  name: 120,
  marks: 1000,
  /** of the file's brackets within one another */
  depth: 32,
  /** bytes of the file */
  bytes: 8_000_000,
} as const;

const MOST = BLOCK_LIMITS;
/** Faulty files have corners outside the block, which the check has to say. */
const coordinate = z
  .number()
  .min(-10 * MOST.side)
  .max(10 * MOST.side);
const point = z.tuple([coordinate, coordinate]).describe('a corner [x, y] in mm, y down');
const outline = z.array(point).min(3).max(MOST.corners);
const name = z.string().min(1).max(MOST.name).regex(PLAIN_TEXT, 'holds characters that do not show');
const sectionId = z.string().regex(SECTION_ID, 'is not one to three capital letters');
const fabricId = z.string().regex(FABRIC_ID, 'is not up to 40 letters and digits');
const seam = z.tuple([point, point]).describe('a straight stitching line from end to end');

const fabric = z.looseObject({
  id: fabricId,
  code: z
    .string()
    .regex(FABRIC_CODE, 'is not up to 6 letters and digits, or looks like a section or a piece')
    .describe('printed on every piece; looks like neither a section nor a piece'),
  name,
  colour: z.string().regex(/^#[0-9a-f]{6}$/),
  hatch: z.int().min(0).max(1000),
});

const piece = z.looseObject({
  number: z.int().min(1).max(MOST.pieces),
  fabric: fabricId,
  outline,
  seam: seam.nullable().describe('the line between this piece and the union of pieces 1 … n-1; null for piece 1'),
});

const section = z.looseObject({ id: sectionId, outline, pieces: z.array(piece).min(1).max(MOST.piecesOfSection) });

const join = z.looseObject({
  number: z.int().min(1).max(MOST.sections),
  left: z.array(sectionId).min(1).max(MOST.sections).describe('every section on this side at that moment'),
  right: z.array(sectionId).min(1).max(MOST.sections),
  seam,
});

const mark = z.looseObject({
  at: point.describe('its middle on the finished face'),
  width: z.number().positive().max(MOST.side).describe('mm across'),
  fabric: z.string().max(MOST.name).describe('the colour it would have'),
  outline: outline.optional().describe('its shape, where it is known'),
});

const source = z.looseObject({
  sha256: z.string().max(200),
  pixels: z.tuple([z.number(), z.number()]).describe('width and height of the upright picture'),
  crop: z
    .tuple([z.number(), z.number(), z.number(), z.number()])
    .describe('x, y, width, height of what the block shows'),
  settings: z.record(z.string(), z.unknown()),
});

const side = z.number().positive().max(MOST.side);

const blockSchema = z
  .looseObject({
    format: z.literal('seamwright-block'),
    version: z.literal(1),
    name,
    edition: z
      .string()
      .regex(/^[A-Z]{1,3}$/)
      .optional()
      .describe('A where absent; the next letter after every change, printed at the foot of every page'),
    unit: z.literal('mm'),
    size: z.tuple([side, side]).describe('finished width and height'),
    smallest: z.number().nonnegative().max(MOST.side).describe('the narrowest finished width that was asked for'),
    fabrics: z.array(fabric).min(1).max(MOST.fabrics),
    sections: z.array(section).min(1).max(MOST.sections),
    joins: z.array(join).max(MOST.sections),
    marks: z
      .array(mark)
      .max(MOST.marks)
      .optional()
      .describe('small details that got no piece: stitched or inked on the finished face'),
    stitches: z
      .array(z.array(point).min(2).max(200))
      .max(MOST.marks)
      .optional()
      .describe(
        'strokes that no piece shows: lines to stitch or ink on the finished face, each from one end to the other',
      ),
    source: source.optional(),
  })
  .describe('A foundation-paper-pieced block');

export type Fabric = z.infer<typeof fabric>;
export type Piece = z.infer<typeof piece>;
export type Section = z.infer<typeof section>;
export type Join = z.infer<typeof join>;
export type Mark = z.infer<typeof mark>;
export type Source = z.infer<typeof source>;
export type Block = z.infer<typeof blockSchema>;

/** The published JSON Schema (draft 2020-12) of a block file. */
export const blockJsonSchema = (): unknown => z.toJSONSchema(blockSchema);

/** Where in the file a problem sits, as people write it: sections[2].pieces[0].seam. */
const place = (path: readonly PropertyKey[]): string =>
  path.reduce<string>((t, k) => (typeof k === 'number' ? `${t}[${k}]` : t ? `${t}.${String(k)}` : String(k)), '');

/** Checks plain data against the schema. Throws UserError that names the first place that is wrong. */
export function parseBlock(data: unknown, file: string): Block {
  const result = blockSchema.safeParse(data);
  if (!result.success) {
    const issue = result.error.issues[0]!;
    const at = place(issue.path) || 'the file as a whole';
    throw new UserError('not-a-block-file', { file, at, why: issue.message });
  }
  const block = result.data;
  const pieces = block.sections.reduce((n, s) => n + s.pieces.length, 0);
  if (pieces > MOST.pieces) throw new UserError('block-too-large', { file, pieces, most: MOST.pieces });
  const corners = block.sections.reduce(
    (n, s) => s.pieces.reduce((m, p) => m + p.outline.length, n + s.outline.length),
    0,
  );
  if (corners > MOST.allCorners) throw new UserError('too-many-corners', { file, corners, most: MOST.allCorners });
  const known = new Set(block.fabrics.map((f) => f.id));
  for (const s of block.sections)
    for (const p of s.pieces)
      if (!known.has(p.fabric))
        throw new UserError('fabric-not-listed', { file, piece: `${s.id}${p.number}`, fabric: p.fabric });
  return block;
}

/** Reads the text of a block file. */
export function readBlock(text: string, file: string): Block {
  if (text.length > MOST.bytes) throw new UserError('block-file-too-long', { file });
  if (depthOf(text) > MOST.depth) throw new UserError('block-file-too-deep', { file });
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    throw new UserError('block-file-not-json', { file });
  }
  return parseBlock(data, file);
}

/** The text of a block file: one piece a line, so that a change shows as a change of lines. The same block gives the same bytes. */
export function writeBlock(block: Block): string {
  const line = (v: unknown): string => JSON.stringify(v);
  // in the schema's order, so that a file that is read and written again is the same
  const { sections, joins, fabrics, ...rest } = parseBlock(block, block.name);
  const head = Object.entries(rest).map(([k, v]) => `  ${line(k)}: ${line(v)}`);
  const list = (items: readonly unknown[]): string =>
    items.length ? `[\n    ${items.map(line).join(',\n    ')}\n  ]` : '[]';
  const sectionText = sections.map((s) => {
    const { pieces, ...own } = s;
    return `    { ${line(own).slice(1, -1)}, "pieces": [\n      ${pieces.map(line).join(',\n      ')} ] }`;
  });
  return `{\n${[
    ...head,
    `  "fabrics": ${list(fabrics)}`,
    `  "sections": [\n${sectionText.join(',\n')}\n  ]`,
    `  "joins": ${list(joins)}`,
  ].join(',\n')}\n}\n`;
}

/** "B3": the third piece of section B. */
export const pieceName = (s: Pick<Section, 'id'>, p: Pick<Piece, 'number'>): string => `${s.id}${p.number}`;

/** A, B … H, J … Z, AA, AB …: the letters I and O are skipped, for they read as 1 and 0 (common practice). */
export function sectionLetters(index: number): string {
  const letters = 'ABCDEFGHJKLMNPQRSTUVWXYZ';
  let text = '';
  for (let n = index; n >= 0; n = Math.floor(n / letters.length) - 1) text = letters[n % letters.length] + text;
  return text;
}

/** A coordinate on the grid of 1 micrometre that all outlines share. */
export const onGrid = (v: number): number => Math.round(v * 1000) / 1000 + 0;
export const pointOnGrid = (p: Point): [number, number] => [onGrid(p[0]), onGrid(p[1])];

/** The seam allowance that a block's templates were printed with, mm: 1/4 in unless its file says otherwise. */
export function allowanceOf(block: Pick<Block, 'source'>): number {
  const kept = block.source?.settings.allowance;
  return typeof kept === 'number' && kept >= 3 && kept <= 25.4 ? kept : 6.35;
}
