// What can be wrong with a picture's file, and with the part of it that a block is to show.
import type { Voice } from './problem.ts';

const SAVE_AS = 'open it in a picture program and save it as PNG or JPEG';
const SMALLER = 'make it smaller in a picture program first';

type File = { file: string };
type Pixels = readonly [width: number, height: number];

const by = (pixels: Pixels): string => pixels.join(' x ');

export const PICTURE_SENTENCES = {
  'file-is-empty': (v: File) => `${v.file} is empty; copy the picture again.`,
  'file-too-short': (v: File) => `${v.file} is too short to be a picture; copy the picture again.`,
  'is-a-film': (v: File) => `${v.file} is a film, not a picture; take one picture from it and use that.`,
  'is-a-web-page': (v: File) => `${v.file} is a web page, not a picture; open the page and save the picture itself.`,
  'is-text': (v: File) => `${v.file} is text, not a picture; choose the picture.`,
  'is-raw': (v: File) => `${v.file} is a raw camera file; ${SAVE_AS}.`,
  'is-a-pdf': (v: File) => `${v.file} is a PDF, not a picture; ${SAVE_AS}.`,
  'is-layered': (v: File) => `${v.file} is a layered picture-program file; ${SAVE_AS}.`,
  'format-not-read': (v: { file: string; format: string }) =>
    `${v.file} is a ${v.format} picture, which is not read here; ${SAVE_AS}.`,
  'no-kind-of-picture': (v: File) => `${v.file} is no kind of picture that can be read here; ${SAVE_AS}.`,
  'damaged-picture': (v: { file: string; format: string }) =>
    `${v.file} cannot be read: the ${v.format} file is damaged or cut off; copy it again from the camera or save it again from a picture program.`,
  'too-many-pixels': (v: { file: string; mostMillions: number }) =>
    `${v.file} has more than ${v.mostMillions} million pixels; ${SMALLER}.`,
  'too-many-pixels-for-format': (v: { file: string; pixels: Pixels; format: string; mostMillions: number }) =>
    `${v.file} is ${by(v.pixels)} pixels; the most for ${v.format} is ${v.mostMillions} million: ${SMALLER}.`,
  'too-few-pixels': (v: { file: string; pixels: Pixels; least: number }) =>
    `${v.file} is only ${by(v.pixels)} pixels; a block needs at least ${v.least} each way, and 500 or more to look like its picture: use a larger picture.`,
  'takes-too-long': (v: File) => `${v.file} takes too long to read; ${SMALLER}.`,
  'takes-too-much-memory': (v: File) => `${v.file} takes too much memory to read; ${SMALLER}.`,

  'zipped-not-svg': (v: File) =>
    `${v.file} is a zipped file that cannot be read as an SVG; unzip it and save it as plain SVG.`,
  'zipped-no-picture': (v: File) => `${v.file} is a zipped file, not a picture; unzip it and choose the picture.`,
  'svg-too-long': (v: File) => `${v.file} is an SVG of more than 20 MB; simplify it and save it again.`,
  'svg-entities': (v: File) =>
    `${v.file} defines entities that grow or lie outside the file; save it again as plain SVG.`,
  'svg-tags-differ': (v: File) => `${v.file} is not whole: its tags do not match; save it again or copy it again.`,
  'svg-cut-off': (v: File) => `${v.file} is not whole: the end is missing; save it again or copy it again.`,
  'svg-too-many-parts': (v: File) => `${v.file} is an SVG of over 200 000 parts; simplify it and save it again.`,
  'svg-too-many-attributes': (v: { file: string; most: number }) =>
    `${v.file} is an SVG with more than ${v.most} attributes on one part; simplify it and save it again.`,
  'svg-repeats-itself': (v: File) =>
    `${v.file} draws over 200 000 parts by repeating itself; simplify it and save it again.`,
  'svg-too-deep': (v: File) => `${v.file} is an SVG nested over 200 groups deep; ungroup it and save it again.`,
  'svg-takes-too-long': (v: File) => `${v.file} takes too long to draw; simplify it and save it again.`,
  'svg-cannot-be-drawn': (v: { file: string; why: string }) =>
    `${v.file} cannot be drawn as an SVG: ${v.why}; open it in a drawing program and save it again.`,

  'picture-in-other-files': (v: File) =>
    `${v.file} shows nothing by itself: its picture lies in other files; save it again with the picture embedded.`,
  'all-transparent': (v: File) =>
    `${v.file} is wholly transparent: there is nothing in it to sew; choose another picture.`,
  'all-one-colour': (v: File) =>
    `${v.file} shows one colour all over: there is nothing in it to sew; choose another picture.`,
  'sheet-too-small': (v: { field: string; pixels: Pixels; file: string }, say: Voice) =>
    `The sheet that ${say.field(v.field)} gives is only ${by(v.pixels)} pixels of ${v.file}; give its four corners, clockwise from the top left.`,
  'too-narrow-for-block': (v: { file: string; left: number }) =>
    `${v.file} is too long and narrow for a block of this shape: only ${v.left} pixels of it would be left; crop the picture or choose another size of block.`,
} as const;
