// What can be wrong with what is asked of the page's server, and with the folder that it keeps.
import type { Voice } from './problem.ts';

export const PAGE_SENTENCES = {
  'wrong-request': (v: { at: string; why: string }) => `${v.at}: ${v.why}.`,
  'not-json': (_: object) => 'What was sent is not JSON.',
  'request-too-long': (_: object) => 'What was sent is too long.',
  'request-too-deep': (_: object) => 'What was sent is nested too deep.',
  'came-as-a-file': (_: object) =>
    'This block came as a file: change it by hand, or begin with the picture to fit it anew.',
  'no-picture-to-compare': (_: object) => 'This block came as a file: there is no picture to compare by.',
  'no-picture-for-series': (v: { name: string }) => `${v.name} came as a block file; a series is made from pictures.`,
  'still-worked-out': (_: object) => 'The block is still being worked out; change it by hand when that is done.',
  'nothing-to-undo': (_: object) => 'There is nothing to go back to.',
  'nothing-to-redo': (_: object) => 'There is nothing to go forward to.',
  'no-block-yet': (v: { why?: string }) => v.why ?? 'There is no block yet.',
  'cut-off': (_: object) => 'What was sent broke off before its end; send it again.',
  'no-room': (v: { mostGb: number }, say: Voice) =>
    `The works take ${v.mostGb} GB, all the room that they may have: move folders of works away from the page's folder, or give them more by ${say.field('room')}.`,
  'work-not-whole': (_: object) =>
    'Nothing of this work can be read any more: its files were taken away or are damaged. Begin again with its picture.',
  'page-system-refused': (v: { why: string }) => `That could not be kept: ${v.why}.`,
  'thread-died': (_: object) =>
    'The work on this was broken off by a fault of the program; change something, or try it again.',
  'fault-in-thread': (v: { why: string }) => `This is a fault of the program, not yours: ${v.why}`,
  'port-taken': (v: { port: number }, say: Voice) =>
    `Port ${v.port} is taken by another program; choose another by ${say.field('port')}, or 0 for any free one.`,
  'no-network': (_: object) =>
    'This computer is in no network that a tablet could reach: connect it to your network at home, then try again.',
  'port-refused': (v: { port: number; why: string }) => `The page cannot be opened on port ${v.port}: ${v.why}.`,
  'cannot-make-folder': (v: { folder: string; why: string }, say: Voice) =>
    `The folder ${v.folder} cannot be made: ${v.why}; choose another by ${say.field('folder')}.`,
  'cannot-write-folder': (v: { folder: string; why: string }, say: Voice) =>
    `Nothing can be written to ${v.folder}: ${v.why}; choose another by ${say.field('folder')}.`,
  'folder-has-page': (v: { folder: string; address?: string }, say: Voice) =>
    `Another page works with ${v.folder} already${v.address ? `, at ${v.address}` : ''}; use that one, stop it, or choose another folder by ${say.field('folder')}.`,
  'folder-in-use': (v: { folder: string }) => `${v.folder} is in use by this program already.`,
  'cannot-take-over': (v: { path: string }) => `${v.path} cannot be taken over; delete it if no other page is running.`,
} as const;
