// 3. The grid of fabrics -> the pieces.
import type { Shading } from '../data.ts';
import { type FitFound, type FitOptions, fitPartitions } from '../fit/fit-partition.ts';
import type { Settings } from '../settings/settings.ts';
import { templateArea } from '../template/template-area.ts';
import type { SectionLimits } from '../tree/sections.ts';
import { type Beside, type Progress, quiet } from './work.ts';

type FitSettings = Pick<
  Settings,
  | 'size'
  | 'smallest'
  | 'pieces'
  | 'grow'
  | 'seed'
  | 'effort'
  | 'mirror'
  | 'mostPieces'
  | 'paper'
  | 'margin'
  | 'allowance'
>;

/** The numbers of pieces that a block is grown through, its own last. */
export const countsOf = ({ grow, pieces }: Pick<Settings, 'grow' | 'pieces'>): readonly number[] => [...grow, pieces];

/** One partition for each of the counts, ascending, each grown from the one before. */
export function fitPieces(
  shading: Shading,
  settings: FitSettings,
  counts: readonly number[] = countsOf(settings),
  progress: Progress = quiet,
): FitFound[] {
  progress.stage('fitting the pieces');
  return fitPartitions(shading, fitOptions(settings), counts, (d) => progress.done(d));
}

/** The same in another thread. */
export function fitBeside(
  shading: Shading,
  settings: FitSettings,
  progress: Progress,
  beside: Beside,
): Promise<FitFound[]> {
  progress.stage('fitting the pieces');
  return beside.fit(shading, fitOptions(settings), countsOf(settings), (d) => progress.done(d));
}

/** What of the settings the pieces depend on, as the stage takes it. */
export const fitOptions = (settings: FitSettings): FitOptions => {
  const { size, smallest, pieces, seed, effort, mirror } = settings;
  return { size, smallest, pieces, seed, effort, mirror, sections: sectionLimits(settings) };
};

export const sectionLimits = ({
  mostPieces,
  paper,
  margin,
  allowance,
}: Pick<Settings, 'mostPieces' | 'paper' | 'margin' | 'allowance'>): SectionLimits => ({
  mostPieces,
  paper: templateArea(paper, margin),
  allowance,
});

/** The settings that make the same block again: the `i`th of `counts`, grown through those before it. */
export const grownTo = (settings: Settings, counts: readonly number[], i: number): Settings => ({
  ...settings,
  pieces: counts[i]!,
  grow: counts.slice(0, i),
});
