// What can be wrong with the files and folders that someone names.
import type { Voice } from './problem.ts';

export const FILE_SENTENCES = {
  'no-file': (v: { path: string }) => `There is no file ${v.path}; check its name and folder.`,
  'is-a-folder': (v: { path: string; what: string }) => `${v.path} is a folder; name one ${v.what} in it.`,
  'file-too-large': (v: { path: string; what: string }) =>
    `${v.path} is larger than 512 MB, too large for a ${v.what}; save a smaller copy and use that.`,
  'cannot-open': (v: { path: string }) => `${v.path} cannot be opened; check that you may read it.`,
  'is-there-already': (v: { path: string }, say: Voice) =>
    `${v.path} is there already; choose another ${say.field('name')} or ${say.field('out')}, or replace it with ${say.field('force')}.`,
  'cannot-write': (v: { folder: string; why: string }) => `The files cannot be written to ${v.folder}: ${v.why}.`,
  'outside-picture': (
    v: { field: string; box: readonly number[]; file: string; pixels: readonly [number, number] },
    say: Voice,
  ) =>
    `${say.field(v.field)} ${v.box.join(',')} is not inside ${v.file}, which is ${v.pixels.join(' x ')} pixels; give left, top, width and height in pixels, or as fractions of the picture.`,
} as const;
