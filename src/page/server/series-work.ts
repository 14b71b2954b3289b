// Many pictures, one set of fabrics: `seamwright series` over a folder of the page's.
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Progress } from '../../pipeline.ts';
import { finishSeries } from '../../series/finish-series.ts';
import { runSeries } from '../../series/run-series.ts';
import { readSeriesSettings } from '../../series/settings.ts';
import { factsOf } from './facts.ts';
import type { SeriesMade, SeriesToMake } from './jobs.ts';
import { writeWhole } from './keep.ts';

/** dots an inch of the contact sheet's picture, as `seamwright series` has it */
const CONTACT_DPI = 110;

export async function makeSeries(job: SeriesToMake, progress: Progress): Promise<SeriesMade> {
  const { name, common, folder, out, workers } = job;
  const settings = readSeriesSettings(JSON.stringify({ name, common }), 'the series');
  let [jobs, done] = [1, 0];
  const series = await runSeries({
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
  });
  await mkdir(out, { recursive: true });
  progress.stage('drawing the sheets for all of them');
  const first = Object.values(job.settings)[0]!;
  const { setting, cornerstones } = settings.quilt;
  const quilt = { setting, cornerstones, borders: [] };
  const sheets = series.blocks.length
    ? await finishSeries(series, { ...first, name, quilt, dpi: CONTACT_DPI })
    : undefined;
  const files = sheets
    ? [
        { name: `${name}.series.pdf`, title: 'Contact sheet and common key', bytes: sheets.pdf },
        { name: `${name}.yardage.pdf`, title: 'What to buy and cut, and the quilt', bytes: sheets.yardage },
        { name: `${name}.contact.png`, title: 'All blocks in one picture', bytes: sheets.contact },
      ]
    : [];
  for (const f of files) await writeWhole(join(out, f.name), f.bytes);
  return {
    fabrics: series.fabrics,
    failed: series.failed,
    odd: (sheets?.odd ?? []).map((o) => `${o.name} does not go with the others: ${o.why}.`),
    files: files.map(({ name: file, title }) => ({ name: file, title })),
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
