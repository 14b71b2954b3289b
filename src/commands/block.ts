// A picture, or its regions, -> the block and all that is printed for it.
import type { Figure, Picture, Shading } from '../data.ts';
import { WARNED_WIDTH } from '../levels.ts';
import type { MadeBlock } from '../pipeline/schedule.ts';
import { UserError } from '../problems/problem.ts';
import type { Settings } from '../settings/settings.ts';
import type { KindFound } from '../shade/find-kind.ts';
import type { Io } from './io.ts';

/** A file's bytes and what it is called: for messages, and to tell kinds of files apart. */
export interface NamedFile {
  readonly bytes: Uint8Array;
  readonly name: string;
}

export type BlockInput =
  | { readonly picture: NamedFile }
  /** a picture that was posterised elsewhere: an 8-bit grey PNG, and the list of fabrics that its values stand for */
  | { readonly regions: NamedFile; readonly fabrics: NamedFile };

export interface BlockOutput extends MadeBlock {
  /** what the person should know, the gravest first */
  readonly warnings: readonly string[];
  readonly picture?: Picture;
  readonly kind?: KindFound;
  /** the animal, where one was looked for in a photo */
  readonly figure?: Figure;
  readonly shaded: Shading;
  /** of the warnings, those that were known before the pieces were fitted */
  readonly early: readonly string[];
}

/** Throws UserError for what cannot become a block. */
export async function makeBlockOf(input: BlockInput, settings: Settings, io: Io): Promise<BlockOutput> {
  // loaded only now: calls that are refused do not wait for it
  const [{ shadeFile }, { finishBlock }, { readRegions }] = await Promise.all([
    import('../pipeline/shade.ts'),
    import('../pipeline/schedule.ts'),
    import('../shade/regions-file.ts'),
  ]);
  const { picture, shading, kind, read }: Shadable =
    'picture' in input
      ? await shadeFile(input.picture.bytes, input.picture.name, settings, io.progress, io.beside)
      : {
          shading: await readRegions(
            input.regions.bytes,
            new TextDecoder().decode(input.fabrics.bytes),
            { regions: input.regions.name, fabrics: input.fabrics.name },
            settings.focus === 'auto' ? undefined : settings.focus,
          ),
        };
  if ('regions' in input) refuseOtherShape(shading, settings, input.regions.name);
  const narrow = narrowWarnings(settings);
  // what stands in the way of a good block is said before the time for fitting is spent
  const early = [...narrow, ...(picture?.notes ?? []), ...shading.notes];
  for (const text of early) io.note?.(text);
  const made = await finishBlock(shading, settings, io.progress, picture, io.beside);
  return {
    ...made,
    ...{ early, warnings: [...narrow, ...made.warnings], shaded: shading },
    ...(picture && { picture }),
    ...(kind && { kind }),
    ...(read?.figure && { figure: read.figure }),
  };
}

/** Regions that were given have no picture, and nothing was looked for in them. */
interface Shadable {
  readonly picture?: Picture;
  readonly shading: Shading;
  readonly kind?: KindFound;
  readonly read?: { readonly figure?: Figure };
}

/** how far the shape of regions may be off the block's */
const SHAPE_SLACK = 0.02;

function refuseOtherShape(shading: Shading, { size }: Settings, file: string): void {
  const off = shading.width / shading.height / (size[0] / size[1]);
  if (Math.abs(off - 1) > SHAPE_SLACK)
    throw new UserError('other-shape', { file, cells: [shading.width, shading.height], field: 'size' }, 2);
}

export const narrowWarnings = ({ smallest }: Pick<Settings, 'smallest'>): string[] =>
  smallest < WARNED_WIDTH - 1e-9
    ? ['Pieces under 3/8 in (1 cm) are hard to sew: take small stitches and press each seam before the next.']
    : [];
