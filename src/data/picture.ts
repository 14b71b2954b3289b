// What a file is read into.

/** 1 -> 2. The part of the picture that the block shows: upright, sRGB, no alpha. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** width x height x 3, sRGB bytes, row by row */
  readonly pixels: Uint8Array;
  readonly source: {
    readonly sha256: string;
    /** of the whole upright picture */
    readonly pixels: readonly [width: number, height: number];
    /** of what the block shows, in upright pixels */
    readonly crop: readonly [x: number, y: number, width: number, height: number];
    /** degrees clockwise that the crop is turned about its middle: a tilted face is shown upright */
    readonly turn?: number;
    /** what the file was by its content: "jpeg", "heic", "svg" … */
    readonly format: string;
    /** corners of the sheet of which the picture is a photo, clockwise from the top left, as shares of the upright picture;
     *  `pixels` and `crop` are then those of the sheet, squared up */
    readonly sheet?: readonly number[];
  };
  /** what the person should know, one sentence each: "first of 6 frames used" */
  readonly notes: readonly string[];
}
