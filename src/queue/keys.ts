// How everything is called that lies in Redis, and how long it may lie there. Nothing of ours is there without a time limit except
// the queues themselves, and those hold no pictures.

/** Goes before every key, those of the queues included. */
export const PREFIX = 'seamwright';

/** The queue of all pictures of all series. Its jobs are a few words each; pictures travel beside it, when they are asked for. */
export const PICTURES = 'pictures';
/** The queue of a series' lots: each is the parent of the pictures in it, and comes up when they are all through. */
export const lotsQueue = (run: string): string => `lots-${run}`;

export const KEYS = {
  /** what all who use the queue agree on */
  version: `${PREFIX}:version`,
  /** ids of the series that are being made, and of the workers */
  runs: `${PREFIX}:runs`,
  workers: `${PREFIX}:workers`,
  run: (id: string): string => `${PREFIX}:run:${id}`,
  worker: (id: string): string => `${PREFIX}:worker:${id}`,
  /** letters to a worker, or to whoever hands out a series */
  post: (id: string): string => `${PREFIX}:post:${id}`,
  /** one way of one job between a series and one worker: the pieces of what travels */
  pieces: (way: 'in' | 'out', run: string, job: string, worker: string): string =>
    `${PREFIX}:${way}:${run}:${job}:${worker}`,
} as const;

/** Whoever uses the queue says so this often */
export const BEAT_MS = 5000;
/** and counts as gone after so long without a word. */
export const GONE_S = 30;
/** Pieces are taken at once or never: what is left after this was meant for somebody who is gone. */
export const PIECES_S = 120;
/** Room is kept for so long for something that was to be taken. */
export const TAKEN_WITHIN_MS = 60_000;
/** A letter that is not answered is written again after this. */
export const ANSWER_MS = 15_000;
export const POST_S = 300;
export const PIECE_BYTES = 256 * 1024;
