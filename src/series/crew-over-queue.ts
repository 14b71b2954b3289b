// The work of a series by workers anywhere: pictures go out when they are asked for, what comes back is put where this computer's own
// threads would have put it.
import { basename } from 'node:path';
import type { HandOut } from '../queue/hand-out.ts';
import type { AskAllOptions, Outcome } from '../threads/ask-all.ts';
import { type BlockToMake, type PictureToShade, readBlockBytes, readPicture } from './block-bytes.ts';
import { type Made, writeBlockFolder } from './block-folder.ts';
import type { SeriesCrew } from './crew.ts';
import type { SentJobs } from './jobs.ts';
import { readShades, type Shades, writeShades } from './kept-shades.ts';

export function crewOverQueue(queue: HandOut<SentJobs>): SeriesCrew {
  return {
    async begin() {},
    async shade(pictures, how) {
      const outcomes: Outcome<Shades>[] = new Array(pictures.length);
      const missing: number[] = [];
      for (const [i, { cache }] of pictures.entries()) {
        const before = await readShades(cache);
        if (before) outcomes[i] = { result: before.shades };
        else missing.push(i);
        if (before) how.done?.(i);
      }
      const at = (m: number): PictureToShade => pictures[missing[m]!]!;
      const errors = await queue.askAll('shadeSentPicture', {
        stage: 'choosing shades',
        labels: missing.map((i) => basename(pictures[i]!.file)),
        inputOf: (m) => readPicture(at(m)),
        async keep(m, shaded) {
          await writeShades(at(m).cache, shaded);
          outcomes[missing[m]!] = { result: shaded.shades };
        },
        ...ofThese(how, missing),
      });
      return withErrors(outcomes, errors, missing);
    },
    async make(blocks, how) {
      const outcomes: Outcome<Made>[] = new Array(blocks.length);
      const all = blocks.map((_, i) => i);
      const errors = await queue.askAll('makeSentBlock', {
        stage: 'making the blocks',
        labels: blocks.map((b) => basename(b.file)),
        inputOf: (i) => readBlockBytes(blocks[i]!),
        async keep(i, { made, files }) {
          const { folder, settings }: BlockToMake = blocks[i]!;
          await writeBlockFolder(folder, settings.name, files, made);
          outcomes[i] = { result: made };
        },
        ...ofThese(how, all),
      });
      return withErrors(outcomes, errors, all);
    },
  };
}

const ofThese = ({ done, sizes }: AskAllOptions, which: readonly number[]) => ({
  done: done && ((m: number): void => done(which[m]!)),
  sizes: sizes && which.map((i) => sizes[i]!),
});

function withErrors<T>(
  outcomes: Outcome<T>[],
  errors: readonly (Error | undefined)[],
  which: readonly number[],
): Outcome<T>[] {
  errors.forEach((error, m) => {
    if (error) outcomes[which[m]!] = { error };
  });
  return outcomes;
}
