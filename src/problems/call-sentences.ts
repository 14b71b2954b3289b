// What can be wrong with a call: options that do not go together, words that cannot be read.
import type { Voice } from './problem.ts';

export const CALL_SENTENCES = {
  'either-or': (v: { one: string; field: string }, say: Voice) =>
    `Give either ${v.one} or ${say.field(v.field)}, not both.`,
  'name-a-picture': (_: object, say: Voice) =>
    `Name a picture: ${say.command('block PICTURE')} (or ${say.field('regions')} with ${say.field('fabrics')}).`,
  needs: (v: { field: string; needs: string; why: string }, say: Voice) =>
    `${say.field(v.field)} needs ${say.field(v.needs)}: ${v.why}.`,
  'leave-out': (v: { field: string; is: string; leave: string }, say: Voice) =>
    `${say.field(v.field)} ${v.is}; leave out ${say.field(v.leave)}.`,
  'copies-are-pdf': (v: { field: string }, say: Voice) =>
    `${say.field(v.field)} is for PDF; a cutter can be given one file often.`,
  'copies-are-sheets': (v: { field: string }, say: Voice) =>
    `${say.field(v.field)} is for template sheets; print the packet once and ask for the copies apart.`,
  'packet-on-a-roll': (v: { sections: string; format: string }, say: Voice) =>
    `A roll is for template sheets; give the packet a paper of pages, or ${say.field(v.sections)} or ${say.set(v.format, 'svg')}.`,
  'not-sections': (v: { field: string }, say: Voice) =>
    `${say.field(v.field)}: write the letters of sections, for example B,D.`,
  'not-like': (v: { field: string; value: string; example: string }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not like ${v.example}.`,
  'not-degrees': (v: { field: string; value: string }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not a number of degrees from -90 to 90.`,
  'no-change': (_: object, say: Voice) =>
    `Say what to change, for example ${say.set('fabric', 'A3=fb')} (${say.command('change --help')} lists all).`,
  'size-is-for-drawings': (v: { field: string }, say: Voice) =>
    `${say.field(v.field)} is for drawings; a block file has its size already.`,
  'one-output': (_: object, say: Voice) => `Choose one of ${say.field('json')} and ${say.field('csv')}.`,
  'not-rows-and-columns': (v: { field: string; value: string }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not rows x columns; write it like 4x3 (4 rows of 3 blocks).`,
  'cornerstones-need-sashing': (_: object, say: Voice) =>
    `Cornerstones lie where sashing crosses: give ${say.field('sashing')} its width, for example 2in.`,
  'not-a-list': (v: { field: string; value: string; least: number; most: number; longest: number }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not a list of up to ${v.longest} whole numbers from ${v.least} to ${v.most}, for example ${v.least === 2 && v.most === 12 ? '4,5,6' : '40,60,80'}.`,
  'too-many-snapshots': (v: { folder: string; files: number; most: number }) =>
    `${v.folder} holds ${v.files} files; put at most ${v.most} snapshots of cloth in one folder.`,
  'name-a-folder': (_: object, say: Voice) =>
    `Name the folder that holds the pictures: ${say.command('series FOLDER')}.`,
  stopped: (_: object) => 'Stopped; nothing was written.',
  'stopped-series': (v: { out: string }, say: Voice) =>
    `Stopped. What is done is in ${v.out}; ${say.field('resume')} goes on from there.`,
} as const;
