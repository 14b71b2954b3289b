// A block file -> its templates on other paper, at another size, only some of them, in other formats; or its whole packet again.
import { type Block, pieceName } from '../block.ts';
import { checkBlock } from '../check/check-block.ts';
import type { Outlines } from '../data.ts';
import type { Fill } from '../drawing/fill.ts';
import { writePdf } from '../drawing/pdf.ts';
import { narrowestWidth } from '../geometry/polygon.ts';
import { LEVEL_DEFAULTS, LEVELS, type Level, REFUSED_WIDTH, WARNED_WIDTH } from '../levels.ts';
import { printBlock } from '../pipeline/print.ts';
import { UserError } from '../problems/problem.ts';
import { inkOfEachFill } from '../template/fill-ink.ts';
import { layOutTemplates, type TemplateSheetOptions, type TemplateSheets } from '../template/lay-out.ts';
import { turnLeftRight } from '../template/printed-side.ts';
import { rescaleBlock } from '../template/rescale.ts';
import { formatLength, formatSize, type Mm, mm, type System } from '../units.ts';
import type { Io } from './io.ts';
import { drawFiles, type FileOptions } from './sheet-files.ts';

export interface SheetsRequest {
  /** templates and paper; `sections` only these */
  readonly print: TemplateSheetOptions;
  /** the whole packet, not the template sheets alone */
  readonly packet: boolean;
  readonly form: 'full' | 'short';
  readonly files: { readonly format: 'pdf' } | FileOptions;
  /** whether the block became another one, with a block file and a preview of its own */
  readonly anew: boolean;
}

export interface SheetsOutput {
  /** bytes by what follows the block's name: "packet.pdf" */
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly templates: TemplateSheets;
  readonly notes: readonly string[];
  /** share of the paper that each way of filling pieces covers with ink */
  readonly ink: Readonly<Record<Fill, number>>;
}

/** Endings of the files that will come, as far as they are known before the templates are laid out. */
export const expectedFiles = ({ packet, files, anew, print }: SheetsRequest): string[] => [
  ...(anew ? ['block.json', 'preview.png'] : []),
  ...(packet ? ['packet.pdf'] : files.format === 'pdf' ? [`${print.unmirrored ? 'reference' : 'sheets'}.pdf`] : []),
];

/** `outlines`: the picture's regions at the block's size, for the packet's colouring page. */
export async function printSheets(
  block: Block,
  request: SheetsRequest,
  level: Level,
  outlines: () => Promise<Outlines | undefined>,
  warnings: readonly string[],
  { progress }: Io,
): Promise<SheetsOutput> {
  const { print, packet, files: asked, anew, form } = request;
  const files = new Map<string, Uint8Array>();
  let templates: TemplateSheets;
  if (anew || packet) {
    const { system, fill, designer, ...rest } = print;
    const settings = {
      ...{ level, slack: LEVEL_DEFAULTS[level].slack, units: system, fill: fill ?? 'hatch', designer: designer ?? '' },
      packet: form,
      ...rest,
    };
    // what may be sewn was judged when the block was changed
    const printed = await printBlock(block, { outlines: await outlines() }, settings, warnings, progress);
    templates = packet ? printed.templates : layOutTemplates(block, print);
    if (anew) files.set('block.json', printed.files.block).set('preview.png', printed.files.preview);
    if (packet) files.set('packet.pdf', printed.files.packet);
  } else {
    progress.stage('drawing templates');
    templates = layOutTemplates(block, print);
  }
  progress.stage('writing the files');
  if (!packet && asked.format === 'pdf') {
    const title = print.unmirrored ? `${block.name} (reference, not for sewing)` : block.name;
    files.set(`${print.unmirrored ? 'reference' : 'sheets'}.pdf`, await writePdf(templates.sheets, { title }));
  } else if (!packet && asked.format !== 'pdf')
    for (const [name, bytes] of drawFiles(block, templates, print, asked))
      files.set(`${print.unmirrored ? 'reference-' : ''}${name}`, bytes);
  const split = templates.split.map((id) => `Section ${id} is too large for one sheet and is printed in parts.`);
  return { files, templates, notes: [...warnings, ...split], ink: inkOfEachFill(block, templates.sheets, print) };
}

/** The level that a block was made for, as its file says. */
export const levelOf = (block: Block): Level =>
  LEVELS.find((l) => l === block.source?.settings.level) ?? 'intermediate';

/** mm: corners are rounded to the grid of 1 micrometre */
const NARROW_SLACK = 0.002;
/** sizes are suggested in steps of 1/4 in, mm */
const SIZE_STEP = 6.35;

/** A finished block at another size, or turned left to right: checked again. Throws UserError where it could not be sewn. */
export function resizeBlock(
  block: Block,
  change: { readonly size?: readonly [Mm, Mm]; readonly turn?: boolean; readonly name?: string },
  system: System,
): { block: Block; warnings: string[] } {
  const sized = change.size ? rescaleBlock(block, change.size, system) : block;
  const turned = change.turn ? turnLeftRight(sized) : sized;
  const changed = change.name ? { ...turned, name: change.name } : turned;
  const fault = checkBlock(changed, { smallest: mm(0) }).faults[0];
  if (fault) throw new UserError('cannot-be-sewn', { what: block.name, fault: fault.text });
  const widths = changed.sections.flatMap((s) =>
    s.pieces.map((p) => ({ name: pieceName(s, p), width: narrowestWidth(p.outline) })),
  );
  const least = widths.reduce((a, b) => (b.width < a.width ? b : a));
  if (change.size && least.width < REFUSED_WIDTH - NARROW_SLACK) {
    const grow = REFUSED_WIDTH / least.width;
    const enough = changed.size.map((v) => Math.ceil((v * grow) / SIZE_STEP) * SIZE_STEP) as [number, number];
    throw new UserError('too-small-for-piece', {
      ...{ size: formatSize(changed.size, system), piece: least.name },
      ...{ width: formatLength(least.width, system), enough: formatSize(enough, system) },
    });
  }
  const narrow = widths.filter((w) => w.width < WARNED_WIDTH - NARROW_SLACK).length;
  const warnings = narrow
    ? [
        `${narrow === 1 ? '1 piece finishes' : `${narrow} pieces finish`} under 3/8 in (1 cm) wide: take small stitches and press each seam before the next.`,
      ]
    : [];
  return { block: changed, warnings };
}
