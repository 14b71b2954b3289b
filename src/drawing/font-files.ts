// The bundled font's files, as they are installed with the program. Where there are no files (no-font-files.ts), `useFonts` hands
// in the bytes; package.json ("imports") says which of the two is meant.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { FaceName } from './drawing.ts';

const FILES: Record<FaceName, string> = {
  regular: 'DejaVuSans.ttf',
  bold: 'DejaVuSans-Bold.ttf',
  serif: 'DejaVuSerif.ttf',
  symbols: 'DejaVuMathTeXGyre.ttf',
};

/** Path of the font file. */
export function fontPath(name: FaceName): string {
  const home = dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json'));
  return join(home, 'ttf', FILES[name]);
}

/** The file's bytes. */
export const readFontFile = (name: FaceName): Uint8Array => readFileSync(fontPath(name));
