// What can be wrong with a series: its settings, its folder, what lies where it is to go.
import type { Voice } from './problem.ts';

export const SERIES_SENTENCES = {
  'wrong-line': (v: { file: string; line: number; why: string }) => `${v.file}, line ${v.line}: ${v.why}.`,
  'series-there-already': (v: { file: string }, say: Voice) =>
    `${v.file} is there already; go on with that series by ${say.field('resume')}, or choose another ${say.field('out')}.`,
  'series-begun-otherwise': (v: { file: string; common: string }, say: Voice) =>
    `${v.file} was begun with common: ${v.common}; choose another ${say.field('out')} for this one.`,
  'no-usable-picture': (v: { pictures: number; first: string }) =>
    `None of the ${v.pictures} pictures can be used; the first: ${v.first}`,
  'same-name-twice': (v: { files: readonly [string, string]; name: string }) =>
    `${v.files[0]} and ${v.files[1]} would both be called "${v.name}"; give one another name in the settings.`,
  'not-a-series': (v: { file: string }, say: Voice) =>
    `${v.file} is not the file of a series; choose another ${say.field('out')}.`,
  'fabrics-not-common': (_: object, say: Voice) =>
    `${say.field('fabrics')} are for all blocks in common; the settings say "common: background".`,
  'fabrics-of-a-series': (v: { most: number; given: number }, say: Voice) =>
    `${say.field('fabrics')}: a series is sewn from 2 to ${v.most} fabrics, not ${v.given}.`,
  'no-folder': (v: { folder: string }) => `There is no folder ${v.folder}; name the one that holds the pictures.`,
  'no-pictures': (v: { folder: string }) => `${v.folder} holds no pictures.`,
  'series-in-use': (v: { folder: string; file: string }) =>
    `Another run is making a series in ${v.folder}; wait for it, or delete ${v.file} if there is none.`,
} as const;
