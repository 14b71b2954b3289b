// What can be wrong with the files and folders that someone names.
import type { Voice } from './problem.ts';

export const FILE_SENTENCES = {
  'no-file': (v: { path: string }) => `There is no file ${v.path}; check its name and folder.`,
  'is-a-folder': (v: { path: string; what: string }) => `${v.path} is a folder; name one ${v.what} in it.`,
  'file-too-large': (v: { path: string; what: string }) =>
    `${v.path} is larger than 512 MB, too large for a ${v.what}; save a smaller copy and use that.`,
  'not-a-file': (v: { path: string; what: string }) =>
    `${v.path} is no ordinary file but a device or a pipe; name a ${v.what}.`,
  'text-too-large': (v: { path: string; what: string; mostMb: number }) =>
    `${v.path} is larger than ${v.mostMb} MB, too large for a ${v.what}.`,
  'cannot-open': (v: { path: string; why: string }) => `${v.path} cannot be opened: ${v.why}.`,
  'is-there-already': (v: { path: string }, say: Voice) =>
    `${v.path} is there already; choose another ${say.field('name')} or ${say.field('out')}, or replace it with ${say.field('force')}.`,
  'came-meanwhile': (v: { path: string }, say: Voice) =>
    `${v.path} was written by another program meanwhile and is left as it is; choose another ${say.field('name')} or ${say.field('out')}.`,
  'is-a-folder-there': (v: { path: string }, say: Voice) =>
    `${v.path} is a folder, and a file of that name is to be written; choose another ${say.field('name')} or ${say.field('out')}.`,
  'out-is-a-file': (v: { folder: string; path: string }) =>
    `Nothing can be written to ${v.folder}: ${v.path} is a file, not a folder.`,
  'not-an-output': (v: { name: string }) => `"${v.name}" cannot name a file; choose a plain name without / and \\.`,
  'nothing-to-verify': (v: { folder: string }) =>
    `${v.folder} is neither a page's folder nor that of a series: name the one that holds works, or series.json.`,
  'verify-in-use': (v: { folder: string; file: string }) =>
    `${v.folder} is in use by another program; stop it first, or delete ${v.file} if there is none.`,
  'system-refused': (v: { path: string; why: string }) => `${v.path}: ${v.why}.`,
  'cannot-write': (v: { folder: string; why: string }) => `The files cannot be written to ${v.folder}: ${v.why}.`,
  'outside-picture': (
    v: { field: string; box: readonly number[]; file: string; pixels: readonly [number, number] },
    say: Voice,
  ) =>
    `${say.field(v.field)} ${v.box.join(',')} is not inside ${v.file}, which is ${v.pixels.join(' x ')} pixels; give left, top, width and height in pixels, or as fractions of the picture.`,
} as const;
