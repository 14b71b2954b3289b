// All that can be set about a block, and nowhere else: of each field what it may be, its default, which stage reads it, and the words
// that people see. To add an option, add an entry to one of the three parts, read it in its stage, and give it a control on the page.
import { BLOCK_FIELDS } from './block-fields.ts';
import { PICTURE_FIELDS } from './picture-fields.ts';
import { PRINT_FIELDS } from './print-fields.ts';

/** The order is that of --help, and of what is kept in block files. */
export const FIELDS = { ...BLOCK_FIELDS, ...PICTURE_FIELDS, ...PRINT_FIELDS } as const;
