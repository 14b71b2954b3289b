// NAME.regions.png: the labels as 8-bit greyscale without profile, one value a cell = index into the fabrics.
// Read back (or made elsewhere) together with a list of fabrics, it takes the place of a picture.
import sharp from 'sharp';
import { z } from 'zod';
import { BLOCK_LIMITS, type Fabric } from '../block.ts';
import type { Shading } from '../data.ts';
import { depthOf } from '../depth.ts';
import { FABRIC_CODE, FABRIC_ID, PLAIN_TEXT } from '../names.ts';
import { UserError } from '../problems/problem.ts';
import { type Focus, focusOn } from './focus.ts';
import { fabricCode } from './make-fabrics.ts';

/** PNG bytes; the same shading gives the same bytes. */
export async function writeRegions(shading: Pick<Shading, 'width' | 'height' | 'labels'>): Promise<Uint8Array> {
  const { width, height, labels } = shading;
  const png = await sharp(labels, { raw: { width, height, channels: 1 } })
    .toColourspace('b-w')
    .png({ compressionLevel: 9, adaptiveFiltering: false })
    .toBuffer();
  return new Uint8Array(png);
}

/** NAME.shades.png: the same for people, every cell in its fabric's colour, enlarged so that it can be looked at. */
export async function writeShades({
  width,
  height,
  labels,
  fabrics,
}: Pick<Shading, 'width' | 'height' | 'labels' | 'fabrics'>): Promise<Uint8Array> {
  const colours = fabrics.map((f) => [1, 3, 5].map((i) => Number.parseInt(f.colour.slice(i, i + 2), 16)));
  const rgb = new Uint8Array(3 * width * height);
  for (let i = 0; i < width * height; i++) rgb.set(colours[labels[i]!]!, 3 * i);
  const times = Math.max(1, Math.ceil(LOOKED_AT / Math.max(width, height)));
  const png = await sharp(rgb, { raw: { width, height, channels: 3 } })
    .resize(width * times, height * times, { kernel: 'nearest' })
    .png({ compressionLevel: 9, adaptiveFiltering: false })
    .toBuffer();
  return new Uint8Array(png);
}

/** pixels of the longer side at least */
const LOOKED_AT = 600;

const fabricEntry = z.looseObject({
  id: z.string().regex(FABRIC_ID, 'write up to 40 letters and digits').optional(),
  code: z
    .string()
    .regex(FABRIC_CODE, 'write up to 6 letters and digits, not like a section (A) or a piece (A3)')
    .optional(),
  name: z.string().min(1).max(BLOCK_LIMITS.name).regex(PLAIN_TEXT, 'write characters that show'),
  colour: z.string().regex(/^#[0-9a-fA-F]{6}$/, 'write the colour as #rrggbb'),
  hatch: z.int().min(0).max(1000).optional(),
});

/** Reads a list like a block's `fabrics`; id, code and hatch may be left out. Throws UserError that names the file. */
export function readFabrics(text: string, file: string): Fabric[] {
  let data: unknown;
  try {
    data = JSON.parse(depthOf(text) > BLOCK_LIMITS.depth ? '' : text);
  } catch {
    throw new UserError('fabrics-not-json', { file });
  }
  const list = Array.isArray(data) ? data : (data as { fabrics?: unknown } | null)?.fabrics;
  const parsed = z.array(fabricEntry).min(1).max(BLOCK_LIMITS.fabrics).safeParse(list);
  if (!parsed.success) {
    const issue = parsed.error.issues[0]!;
    const [index, field] = issue.path;
    const at = index === undefined ? 'the list' : `fabric ${Number(index) + 1}${field ? `, ${String(field)}` : ''}`;
    throw new UserError('wrong-fabric', { file, at, why: issue.message });
  }
  const fabrics = parsed.data.map((f, i) => ({
    ...f,
    id: f.id ?? `f${i + 1}`,
    code: f.code ?? fabricCode(i),
    colour: f.colour.toLowerCase(),
    hatch: f.hatch ?? i,
  }));
  for (const key of ['id', 'code'] as const) {
    const seen = new Set<string>();
    for (const f of fabrics) {
      if (seen.has(f[key])) throw new UserError('fabric-twice', { file, key, value: f[key] });
      seen.add(f[key]);
    }
  }
  return fabrics;
}

const MOST_CELLS = 1_000_000;

/** A finished posterised picture with its fabrics, what makes a face in it weighed as in one shaded here; `focus` are discs
 *  to weigh instead. Throws UserError that says which file is wrong and where. */
export async function readRegions(
  png: Uint8Array,
  fabricsJson: string,
  names: { readonly regions: string; readonly fabrics: string } = { regions: 'The regions', fabrics: 'The fabrics' },
  focus?: readonly Focus[],
): Promise<Shading> {
  const fabrics = readFabrics(fabricsJson, names.fabrics);
  const isPng = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a].every((b, i) => png[i] === b);
  const file = names.regions;
  if (!isPng) throw new UserError('regions-not-png', { file });
  const image = sharp(png, { limitInputPixels: MOST_CELLS, failOn: 'error' });
  const meta = await image.metadata().catch(() => undefined);
  if (!meta) throw new UserError('regions-unreadable', { file, mostCells: MOST_CELLS });
  // by the file's own header, for a decoder may widen or reduce what it finds: bit depth at byte 24, colour type at 25
  if (png[24] !== 8 || png[25] !== 0) throw new UserError('regions-not-grey', { file });
  if (Math.min(meta.width, meta.height) < 8)
    throw new UserError('regions-too-small', { file, cells: [meta.width, meta.height] });
  const raw = await image
    .toColourspace('b-w')
    .raw()
    .toBuffer({ resolveWithObject: true })
    .catch(() => undefined);
  if (!raw) throw new UserError('regions-damaged', { file });
  const { width, height, channels } = raw.info;
  const labels = Uint8Array.from({ length: width * height }, (_, i) => raw.data[i * channels]!);
  const bad = labels.findIndex((l) => l >= fabrics.length);
  if (bad >= 0)
    throw new UserError('no-fabric-for-value', {
      ...{ file, value: labels[bad]!, column: (bad % width) + 1, row: Math.floor(bad / width) + 1 },
      ...{ list: names.fabrics, fabrics: fabrics.length },
    });
  return focusOn({ width, height, labels, fabrics, grown: [], lost: [], notes: [] }, focus).shading;
}
