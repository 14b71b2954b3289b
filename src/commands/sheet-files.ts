// Laid-out templates as files for screens and cutters: one a sheet or one a section.
import type { Block } from '../block.ts';
import type { Drawing } from '../drawing/drawing.ts';
import { writeDxf } from '../drawing/dxf.ts';
import { writePng } from '../drawing/png.ts';
import { writeSvg } from '../drawing/svg.ts';
import { drawSectionSheet, type TemplateSheetOptions, type TemplateSheets } from '../template/lay-out.ts';

export interface FileOptions {
  readonly format: 'svg' | 'dxf' | 'png';
  readonly each: 'sheet' | 'section';
  readonly dpi: number;
}

/** Pairs of a file's ending ("sheet-1.svg", "section-A.dxf") and its bytes. */
export function drawFiles(
  block: Block,
  laid: TemplateSheets,
  options: TemplateSheetOptions,
  { format, each, dpi }: FileOptions,
): [ending: string, bytes: Uint8Array][] {
  const write = (d: Drawing): Uint8Array => {
    if (format === 'png') return writePng(d, dpi);
    return new TextEncoder().encode(format === 'svg' ? writeSvg(d) : writeDxf(d));
  };
  if (each === 'sheet') return laid.sheets.map((d, i) => [`sheet-${i + 1}.${format}`, write(d)]);
  const ids = block.sections.map((s) => s.id).filter((id) => laid.sheetsOf[id]);
  return ids.map((id) => [`section-${id}.${format}`, write(drawSectionSheet(block, id, options))]);
}
