// Many pictures, one set of fabrics: `seamwright series` over a folder of the page's.
import { join } from 'node:path';
import { makeSeries as makeSeriesOf, SERIES_FILES } from '../../commands/series.ts';
import { makeFolder, outputPath, writeOutputs } from '../../files.ts';
import type { Progress } from '../../pipeline/work.ts';
import { readSeriesSettings } from '../../series/settings.ts';
import { factsOf } from './facts.ts';
import type { SeriesMade, SeriesToMake } from './jobs.ts';

export async function makeSeries(job: SeriesToMake, progress: Progress): Promise<SeriesMade> {
  const { name, common, fabrics, keep, folder, out, workers } = job;
  const settings = readSeriesSettings(JSON.stringify({ name, common, fabrics, keep }), 'the series');
  let [jobs, done] = [1, 0];
  const first = Object.values(job.settings)[0]!;
  const { series, odd, files } = await makeSeriesOf(
    {
      ...{ folder, out, name, settings, workers, resume: true },
      settingsFor: (file) => job.settings[file]!,
      signal: new AbortController().signal,
      progress: {
        stage(stage, count) {
          [jobs, done] = [count, 0];
          progress.stage(stage);
        },
        step: () => progress.done(++done / jobs),
      },
    },
    first,
  );
  await makeFolder(out);
  await writeOutputs(new Map([...files].map(([ending, bytes]) => [outputPath(out, `${name}.${ending}`), bytes])), true);
  return {
    fabrics: series.fabrics,
    failed: series.failed,
    odd: odd.map((o) => `${o.name} does not go with the others: ${o.why}.`),
    files: [...files.keys()].map((ending) => ({ name: `${name}.${ending}`, title: SERIES_FILES[ending] })),
    blocks: series.blocks.map(({ entry, block, made, folder: own }) => {
      const { summary, minds } = factsOf(block, entry.settings, { misplaced: made.misplaced });
      return {
        ...{ file: entry.file, block, summary, minds },
        // what its packet says besides is found anew when that is printed
        notes: made.warnings.filter((w) => !minds.includes(w)),
        regions: join(own, `${entry.settings.name}.regions.png`),
      };
    }),
  };
}
