// What can be changed by hand.
import type { Point } from '../geometry/polygon.ts';

/** One change by hand that keeps a block sewable. Pieces are named "B3", sections "B", joins by number, fabrics by code, name
 *  or id; lengths in mm. */
export type BlockChange =
  | { readonly kind: 'fabric'; readonly pieces: readonly string[]; readonly fabric: string }
  | { readonly kind: 'merge'; readonly first: string; readonly second: string }
  | {
      readonly kind: 'divide';
      readonly piece: string;
      /** two points that the new seam lies on */
      readonly line: readonly [Point, Point];
      /** of the second part; the piece's own where absent */
      readonly fabric?: string;
    }
  /** positive makes the named piece, or the join's left side, larger */
  | { readonly kind: 'move'; readonly seam: string; readonly by: number }
  /** clockwise to the eye, about the seam's middle */
  | { readonly kind: 'swing'; readonly seam: string; readonly degrees: number }
  | { readonly kind: 'unite'; readonly first: string; readonly second: string }
  /** at the seam of `piece`, else along the evenest */
  | { readonly kind: 'part'; readonly section: string; readonly piece?: string }
  | { readonly kind: 'rename'; readonly fabric: string; readonly name: string }
  | { readonly kind: 'colour'; readonly fabric: string; readonly colour: string };
