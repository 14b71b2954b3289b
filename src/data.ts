// The plain data that one stage hands to the next. Types only: stages do not know one another, they know these.
// (The finished Block has its own file, block.ts.) Everything here can be written as JSON or PNG and looked at.
import type { Block, Fabric } from './block.ts';
import type { Point } from './geometry/polygon.ts';

/** Says how far a long step is, 0..1, and throws when the work was cancelled. */
export type Report = (done: number) => void;

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

/** A small region that stands out: an eye, a nose, a beak. Positions and sizes as shares of the block's width and height. */
export interface Landmark {
  readonly at: Point;
  /** share of the block's area */
  readonly area: number;
  readonly fabric: number;
}

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

/** A part of a face that must show as a shape of its own: an eye, its pupil, a nose, a beak, a mouth. */
export interface Feature {
  readonly kind: 'eye' | 'pupil' | 'nose' | 'beak' | 'mouth';
  /** convex, clockwise as seen, four to six corners; shares of the block's width and height */
  readonly outline: readonly Point[];
  readonly fabric: number;
  /** the same number stands on both of a pair */
  readonly pair?: number;
  /** for a pupil: index of the eye that it lies in */
  readonly within?: number;
}

/** 2 -> 3. The posterised picture: a grid of fabric labels that covers the block exactly. */
export interface Shading {
  readonly width: number;
  readonly height: number;
  /** width x height, index into fabrics */
  readonly labels: Uint8Array;
  /** light to dark */
  readonly fabrics: readonly Fabric[];
  /** how much a cell matters where it is shown in the wrong fabric, 1 = as any; absent where all are alike */
  readonly weights?: Float32Array;
  /** parts of a face that the fit keeps as shapes; painted into the labels already */
  readonly features?: readonly Feature[];
  /** where a face is seen straight from the front or the figure is symmetric: the upright axis it is mirrored about, as a share of
   *  the block's width */
  readonly axis?: number;
  /** strokes of a drawing that no piece shows (a smile, whiskers): lines to stitch or ink on the finished block; shares of the
   *  block's width and height, each from one end to the other */
  readonly strokes?: readonly (readonly Point[])[];
  /** regions that were too small to sew and stood out: grown until they can be sewn, or given up and reported */
  readonly grown: readonly Landmark[];
  readonly lost: readonly Landmark[];
  readonly notes: readonly string[];
}

/** 3 -> 4. The pieces that the picture was cut into: convex, without gap or overlap, on the grid of 1 micrometre. */
export interface Partition {
  /** finished width and height in mm */
  readonly size: readonly [number, number];
  readonly pieces: readonly { readonly outline: readonly Point[]; readonly fabric: number }[];
}

/** A side way from 2. Regions of one fabric as polygons whose borders are shared: no gap, no overlap. */
export interface Outlines {
  readonly size: readonly [number, number];
  readonly regions: readonly {
    readonly fabric: number;
    /** outer ring first, then holes; mm, y down */
    readonly rings: readonly (readonly Point[])[];
  }[];
}

/** 5. What the sewing check found; sewable where faults is empty. */
export interface Verdict {
  readonly faults: readonly Fault[];
}

export interface Fault {
  /** one of the kinds that check/ lists: "gap", "overlap", "not convex", "seam", "join" … */
  readonly kind: string;
  /** where in the block, mm */
  readonly at: Point;
  readonly text: string;
}

/** 7. One patch to cut: a rectangle, its width square to the seam that it is laid along. */
export interface Patch {
  readonly block: string;
  readonly section: string;
  readonly piece: number;
  readonly fabric: string;
  /** mm, square to the seam */
  readonly width: number;
  /** mm, along the seam */
  readonly length: number;
  /** what one side of it runs along: its seam, the block's outer edge (so it is on the straight grain there), or the block's
   *  sides with the print upright */
  readonly along?: 'seam' | 'edge' | 'upright';
  /** a section of one piece: cut to this shape, not pieced */
  readonly plain?: boolean;
  /** its four corners on the finished face when it has been laid, sewn and opened; mm, y down */
  readonly lies?: readonly Point[];
}

/** One patch in its place on the cloth. Positions in mm from the strip's end, across and along the strip. */
export interface Cell {
  /** "A3", or "pepper A3" where several blocks are cut together */
  readonly name: string;
  /** index into Shopping.patches */
  readonly patch: number;
  readonly along: number;
  readonly across: number;
  readonly length: number;
  readonly width: number;
  /** cut from what is left beside a larger patch */
  readonly leaving: boolean;
}

export interface Strip {
  /** mm */
  readonly width: number;
  /** mm used along the cloth */
  readonly length: number;
  /** names of the patches in it, in cutting order: "A3" */
  readonly patches: readonly string[];
  /** which of several fat quarters it is cut from, from 1 */
  readonly from?: number;
  /** the cutting plan: one cell a patch, in cutting order */
  readonly cells?: readonly Cell[];
}

/** 7 -> 8. What to cut and what to buy. */
export interface Shopping {
  readonly patches: readonly Patch[];
  readonly fabrics: readonly {
    readonly id: string;
    /** cut from what `buy` says: strips of a fat quarter are at most 21 in long */
    readonly strips: readonly Strip[];
    /** rounded up as shops cut */
    readonly yards: number;
    readonly metres: number;
    /** the least length of cloth in mm that could do, by area alone */
    readonly bound: number;
    /** "1 fat quarter", "1 fat eighth", "3/8 yd" */
    readonly buy: string;
    /** where each person gets a length: how much */
    readonly each?: string;
    readonly code?: string;
    /** usable width of what is bought, across which the strips run; mm */
    readonly clothWidth?: number;
    /** mm of cloth that strips across the whole width take off the bolt, without safety */
    readonly cloth?: number;
    /** mm² of finished pieces, and of all patches */
    readonly finished?: number;
    readonly cut?: number;
    /** in the currency of the price a yard or a metre that was given */
    readonly cost?: number;
  }[];
  /** "5 fat eighths and 1 fat quarter", where one block was asked for */
  readonly buy?: string;
  /** the whole cost, where a price was given */
  readonly cost?: number;
  readonly notes?: readonly string[];
}

/** 7. How much work a block is, and whom it suits; by house rules. */
export interface Work {
  readonly pieces: number;
  readonly sections: number;
  /** straight lines of stitching: inside sections and joins */
  readonly seams: number;
  /** metres of stitching */
  readonly metres: number;
  readonly joins: number;
  /** places on joins where seams of both sides meet */
  readonly points: number;
  /** narrowest finished piece; mm */
  readonly narrowest: number;
  readonly mostInSection: number;
  /** the lowest level whose limits all hold */
  readonly level: Skill;
  /** what keeps it from the level below, in words */
  readonly because: readonly string[];
  /** hours of sewing for each level, rounded to half an hour */
  readonly hours: Readonly<Record<Skill, number>>;
}
export type Skill = 'beginner' | 'intermediate' | 'advanced';

/** 7. What one fabric's cutter needs to know. */
export interface Ticket {
  readonly fabric: string;
  readonly code: string;
  readonly name: string;
  /** so many strips of this width, the longest used to this length; mm */
  readonly strips: readonly { readonly count: number; readonly width: number; readonly length: number }[];
  readonly patches: number;
  readonly buy: string;
  /** left blank for the shop to write in */
  readonly bolt: '';
  readonly price: '';
}

/** 7. A class or a shop: kits for many people. */
export interface ClassPlan {
  readonly people: number;
  readonly spare: number;
  readonly kit: 'patches' | 'lengths';
  readonly shopping: Shopping;
  /** what one person gets, a line a fabric */
  readonly card: readonly string[];
  readonly tickets: readonly Ticket[];
  /** bag labels in sewing order, for one set: "pepper, section A: A1 A2 A3" */
  readonly labels: readonly {
    readonly block: string;
    readonly section: string;
    readonly patches: readonly { readonly name: string; readonly code: string }[];
  }[];
  readonly supplies: readonly string[];
  /** packets to print, one a set */
  readonly packets: number;
  /** hours of cutting, rounded up to half an hour: of all sets, or of one person who gets lengths */
  readonly cuttingHours: number;
}

/** 7. Parts of a quilt that are cut alike. Widths and lengths as cut, allowance included; mm. */
export interface QuiltCut {
  readonly what: string;
  /** the cloth it is cut from: "sashing", "border 2" */
  readonly from: string;
  readonly count: number;
  readonly width: number;
  readonly length: number;
  /** lengthwise: along the selvage, in one piece */
  readonly way: 'lengthwise' | 'across';
  /** mm off the bolt, were it cut by itself */
  readonly cloth: number;
}

/** 7. One cloth of a quilt besides its blocks. */
export interface QuiltCloth {
  readonly what: string;
  /** in cutting order; `beside`: so many are cut from what lies beside the long ones, the rest from `strips` across the cloth */
  readonly cuts: readonly (QuiltCut & { readonly beside: number; readonly strips: number })[];
  /** mm off the bolt, without safety */
  readonly cloth: number;
  readonly yards: number;
  readonly metres: number;
  readonly buy: string;
  /** what would do, were the long parts pieced from strips across the cloth; where that is less */
  readonly pieced?: string;
  readonly cost?: number;
}

export interface Panels {
  /** how many strips or panels, each of this size; mm */
  readonly count: number;
  readonly width: number;
  readonly length: number;
  /** mm of cloth off the bolt */
  readonly cloth: number;
}

/** 7. A quilt of blocks. */
export interface QuiltPlan {
  /** finished */
  readonly size: readonly [width: number, height: number];
  readonly setting: 'straight' | 'on point';
  readonly rows: number;
  readonly columns: number;
  readonly block: readonly [width: number, height: number];
  readonly sashing: number;
  readonly sashingAround: boolean;
  readonly cornerstones: boolean;
  /** finished widths, from the blocks outward */
  readonly borders: readonly number[];
  readonly blocks: number;
  /** all cuts, the long ones first */
  readonly cuts: readonly QuiltCut[];
  /** what to buy besides the fabrics of the blocks */
  readonly cloths: readonly QuiltCloth[];
  readonly binding: Panels & { readonly total: number };
  readonly backing: Panels & { readonly seams: 'up' | 'across' };
  readonly batting: { readonly width: number; readonly height: number };
  readonly cost?: number;
}

/** 7 -> 8. All that is asked about some blocks: what to cut, what to buy, how long it takes. */
export interface Yardage {
  readonly blocks: readonly { readonly block: Block; readonly copies: number; readonly work: Work }[];
  /** for a class, for all sets together */
  readonly shopping: Shopping;
  readonly class?: ClassPlan;
  readonly quilt?: QuiltPlan;
  /** of everything, where a price was given */
  readonly cost?: number;
}

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
