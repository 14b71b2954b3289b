// Where the picture is a photo of a sheet that was squared up: the sheet's rim on the picture.
import type { Settings, Work } from '../../api.ts';

/** Corners of the sheet that the block shows, as shares of the picture; undefined where it shows the picture itself, as it does
 *  where a frame was drawn on it. */
export function sheetOf(work: Work, settings: Settings): readonly number[] | undefined {
  const framed = typeof settings.crop !== 'string' || settings.subject !== null;
  return framed || settings.sheet === 'no' ? undefined : work.choices?.sheet;
}

export function SheetRim({ corners }: { readonly corners: readonly number[] }) {
  return (
    <svg class="sheet-rim" viewBox="0 0 1 1" preserveAspectRatio="none" aria-hidden="true">
      <polygon points={corners.join(' ')} />
    </svg>
  );
}
