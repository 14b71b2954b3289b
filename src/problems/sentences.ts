// Every problem that a user can have, by its code: the values that it comes with, and the sentence that is made of them. One table
// for each part of the house.
import { BLOCK_SENTENCES } from './block-sentences.ts';
import { CALL_SENTENCES } from './call-sentences.ts';
import { DESIGN_SENTENCES } from './design-sentences.ts';
import { FABRIC_SENTENCES } from './fabric-sentences.ts';
import { FILE_SENTENCES } from './file-sentences.ts';
import { PAGE_SENTENCES } from './page-sentences.ts';
import { PICTURE_SENTENCES } from './picture-sentences.ts';
import type { Voice } from './problem.ts';
import { QUEUE_SENTENCES } from './queue-sentences.ts';
import { SECTION_SENTENCES } from './section-sentences.ts';
import { SERIES_SENTENCES } from './series-sentences.ts';
import { SETTING_SENTENCES } from './setting-sentences.ts';
import { SHADE_SENTENCES } from './shade-sentences.ts';

export const SENTENCES = {
  ...FILE_SENTENCES,
  ...PAGE_SENTENCES,
  ...CALL_SENTENCES,
  ...SETTING_SENTENCES,
  ...PICTURE_SENTENCES,
  ...SHADE_SENTENCES,
  ...DESIGN_SENTENCES,
  ...BLOCK_SENTENCES,
  ...SECTION_SENTENCES,
  ...FABRIC_SENTENCES,
  ...SERIES_SENTENCES,
  ...QUEUE_SENTENCES,
} as const;

export type Code = keyof typeof SENTENCES;
export type ValuesOf<C extends Code> = Parameters<(typeof SENTENCES)[C]>[0];
export type Sentences = Readonly<Record<string, (values: never, voice: Voice) => string>>;
