// What every decoder in this folder gives, and the sizes they decode to.

/** A whole upright picture in sRGB with straight alpha, small enough to work on. */
export interface Decoded {
  readonly width: number;
  readonly height: number;
  /** width x height x 4 */
  readonly rgba: Uint8Array;
  /** of the upright picture in the file */
  readonly pixels: readonly [width: number, height: number];
  readonly notes: readonly string[];
}

/** A side under this shows nothing that could be sewn. */
export const LEAST_SIDE = 32;

export const WORKING_SHORT = 1024;
export const WORKING_LONG = 4096;

/** The size to decode to: a short side of 1024 where the picture has it, for a square block shows the short side and its
 *  192 cells want about five pixels each to find strokes and edges; more would only cost memory. Never enlarged;
 *  vector drawings are drawn at this size whatever size they name. */
export function workingSize(width: number, height: number): [number, number] {
  const short = Math.min(width, height);
  const long = Math.max(width, height);
  const scale = Math.min(WORKING_SHORT / short, WORKING_LONG / long, 1);
  return [Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale))];
}
