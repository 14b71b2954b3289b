// What can be wrong with a value that was set, whoever set it: a word on the command line, a field of a request, a line of a file.
import type { Voice } from './problem.ts';

const list = (words: readonly string[]): string => words.join(', ');

export const SETTING_SENTENCES = {
  'not-whole': (v: { field: string; value: unknown; least: number; most: number }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not a whole number from ${v.least} to ${v.most}.`,
  'not-a-length': (v: { field: string; value: unknown }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not a length; write it with its unit, for example 12in, 3/8in, 30cm or 9.5mm.`,
  'length-under-zero': (v: { field: string; value: unknown }, say: Voice) =>
    `${say.field(v.field)}: a length cannot be less than zero, and "${v.value}" is.`,
  'length-out-of-range': (v: { field: string; least: number; most: number; mostInches: string }, say: Voice) =>
    `${say.field(v.field)}: choose from ${v.least} to ${v.most} mm (up to ${v.mostInches} in).`,
  'size-out-of-range': (v: { field: string; least: number; most: number }, say: Voice) =>
    `${say.field(v.field)}: a block is from ${v.least} to ${v.most} in (${Math.round(v.least * 2.54)} to ${Math.round((v.most * 2.54) / 10) * 10} cm) on each side.`,
  'too-narrow-to-sew': (v: { field: string }, say: Voice) =>
    `${say.field(v.field)}: pieces under 1/4 in (6.4 mm) cannot be sewn; choose 3/8in or more.`,
  'not-a-choice': (v: { field: string; value: unknown; choices: readonly string[] }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not one of ${list(v.choices)}.`,
  'not-yes-or-no': (v: { field: string; value: unknown }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is neither true nor false.`,
  'not-a-name': (v: { field: string; most: number }, say: Voice) =>
    `${say.field(v.field)}: choose a name of 1 to ${v.most} characters without / and \\, all of them visible, and none that Windows keeps for itself (CON, NUL).`,
  'text-too-long': (v: { field: string; most: number }, say: Voice) =>
    `${say.field(v.field)}: write at most ${v.most} characters, all of them visible, on one line.`,
  'not-a-box': (v: { field: string; value: unknown }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not x,y,width,height, for example 0.1,0,0.8,0.8.`,
  'not-corners': (v: { field: string; value: unknown }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is neither "no" nor four corners, clockwise from the top left, as shares of the picture, for example 0.1,0.1,0.9,0.12,0.95,0.9,0.05,0.88.`,
  'not-a-disc': (v: { field: string; value: unknown; most: number }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not x,y,r or x,y,r,weight: shares of the block from 0 to 1 and a weight from 1 to ${v.most}, for example 0.5,0.4,0.2,3.`,
  'not-spots': (v: { field: string; value: unknown; most: number }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not x,y or x,y,width,height as shares of the picture, for example 0.4,0.3,0.05,0.04; give at most ${v.most}, or none.`,
  'not-a-background': (v: { field: string; value: unknown }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not a colour; write it as #rrggbb, for example #e8e0d0.`,
  'not-role-colours': (v: { field: string; value: unknown; roles: readonly string[] }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not a part and its colour; write body #c58b4a, belly #f0dcc0; parts are ${list(v.roles)}.`,
  'not-fewer': (v: { field: string; value: number; pieces: number }, say: Voice) =>
    `${say.field(v.field)}: ${v.value} is not fewer than the ${v.pieces} pieces that the block is to have.`,
  'not-a-share': (v: { field: string; value: unknown }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not a share; write it like 10%, or 0 for none.`,
  'not-a-number': (v: { field: string; value: unknown }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not a number of zero or more.`,
  'not-a-paper': (v: { field: string; value: unknown; papers: readonly string[] }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is no paper; choose ${list(v.papers)}, a size such as 13x19in, or a roll such as "roll 36in".`,
  'paper-out-of-range': (v: { field: string }, say: Voice) =>
    `${say.field(v.field)}: paper is from 20 to 160 cm (8 to 63 in) wide and from 25 cm to 3 m (10 to 118 in) high.`,
  'margin-too-wide': (v: { margin: number; paper: string }) =>
    `A margin of ${v.margin} mm leaves too little of the paper (${v.paper}); choose 25 mm (1 in) or less.`,
  'paper-is-a-roll': (_: object, say: Voice) =>
    `A roll is for template sheets: give a paper of pages here, and print the templates on the roll with "${say.command('sheets')}".`,
  'not-fabrics': (v: { field: string; what: string }, say: Voice) => `${say.field(v.field)}: ${v.what}.`,
  'no-such-setting': (v: { field: string }, say: Voice) => `There is no setting ${say.field(v.field)}.`,
  'goes-with': (v: { field: string; with: string; because: string }, say: Voice) =>
    `${say.field(v.field)} goes with ${say.field(v.with)}: ${v.because}.`,
} as const;
