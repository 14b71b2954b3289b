// The animal in a picture, and its face: as found in the picture, and as it is to be drawn on the block.
import type { Point } from '../geometry/polygon.ts';
import type { Feature } from './shading.ts';

/** Where a part of a face lies in the picture: middle, width and height as shares of the upright picture's width and height. */
export interface FacePart {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
  /** 0..1; 1 where a person has given it */
  readonly sure: number;
}

export interface EyePart extends FacePart {
  /** "#rrggbb" of what is dark in it, and of the iris where one is to be seen */
  readonly pupil?: string;
  readonly iris?: string;
}

/** What a block shows: the head, the whole animal, or the picture as it is. */
export type Show = 'head' | 'animal' | 'picture';

/** The animal in a picture, as far as it is found or given: between 1 and 2. */
export interface Figure {
  /** left to right as seen; none where no face is found */
  readonly eyes: readonly EyePart[];
  readonly nose?: FacePart & { readonly colour?: string };
  /** where eyes and nose were not surely found: the best guess, to be confirmed; nothing is drawn of it */
  readonly guess?: Pick<Figure, 'eyes' | 'nose'>;
  /** midway between the eyes, as shares of the picture; degrees clockwise that the face is tilted; whether it is seen from the front */
  readonly face?: { readonly x: number; readonly y: number; readonly tilt: number; readonly front: boolean };
  /** tips of ears that stand up, left to right as seen; shares of the picture */
  readonly ears?: readonly { readonly x: number; readonly y: number }[];
  /** left, top, width, height as shares of the upright picture; ears and chin inside */
  readonly head?: { readonly box: readonly [number, number, number, number]; readonly sure: number };
  readonly show: Show;
  /** one sentence for the person: why this is shown */
  readonly why: string;
  /** the part to show where it is the head: pixels of the upright picture, turned clockwise about its middle by so many degrees */
  readonly crop?: { readonly box: readonly [number, number, number, number]; readonly turn: number };
}

/** A part of a face as it is to be drawn on the block, before it has a fabric. */
export interface FaceShape {
  readonly kind: Feature['kind'];
  /** as in Feature */
  readonly outline: readonly Point[];
  /** "#rrggbb" that it has in the picture */
  readonly colour: string;
  readonly pair?: number;
  readonly within?: number;
}

/** An ear that stands up: its tip, and where its inner and its outer side meet the head. Shares of the block's width and height. */
export interface EarShape {
  readonly tip: Point;
  readonly inner: Point;
  readonly outer: Point;
}

export interface EarsOnBlock {
  readonly ears: readonly EarShape[];
  /** where both ears stand up: from one tip by the forehead to the other; what lies above it is not the animal's head */
  readonly between?: readonly Point[];
}

/** What is to be seen of a face on the block. */
export interface FaceOnBlock {
  readonly shapes: readonly FaceShape[];
  /** share of the block's width */
  readonly axis?: number;
  /** ears that stand up */
  readonly ears?: EarsOnBlock;
  /** the head's box as shares of the block: left, top, width, height */
  readonly head?: readonly [number, number, number, number];
}
