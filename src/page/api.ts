// What the page's two halves say to each other: types only, no code, so that both may import it. Every address begins with
// /KEY, the token in the address that `seamwright page` prints; bodies are JSON unless said. Lengths are millimetres, y down.
//
//   GET    api/works                        WorkLine[], newest first
//   POST   api/works                        the bytes of a picture or a block file, told apart by content; its name in the
//                                           header x-file-name (percent-encoded) -> Work
//   GET    api/works/ID                     Work
//   PATCH  api/works/ID/settings            Partial<Settings> -> Work, before the new block is there; a newer call cancels an older.
//                                           409 Refusal with `changes`, and nothing has happened, where another fit would set changes
//                                           by hand aside; ?over=hand says that it may
//   POST   api/works/ID/changes             Change -> Work; what cannot be sewn: 422 Refusal, and nothing has happened
//   POST   api/works/ID/looks               Partial<Settings> -> Block, a first look at what they would give; the work stays as it is
//   POST   api/works/ID/undo, …/redo        -> Work; settings and changes alike, without end, over restarts
//   POST   api/works/ID/away, …/back        into the drawer of works put away, and out of it; nothing is ever deleted
//   POST   api/works/ID/copy                -> Work, to try something else
//   POST   api/works/ID/cloths              the bytes of a snapshot of cloth (x-file-name) -> WorkCloth
//   GET    api/works/ID/cloths/CLOTH.jpg    the middle of that snapshot, for showing pieces in the cloth itself
//   POST   api/works/ID/cloths/shelf/FABRIC a fabric of the shelf, for this work: its snapshot becomes the work's own -> WorkCloth
//   GET    api/works/ID/ticks               string[], the steps of sewing that are done
//   PUT    api/works/ID/ticks               { on: string[], off: string[] } -> string[]
//   GET    api/works/ID/picture.jpg         the whole picture upright, 1600 px at most
//   GET    api/works/ID/face.svg            the block's face from the front, for small pictures of it; 404 while there is none.
//                                           ?before=1: as it was before the last step
//   GET    api/works/ID/shades.png          the posterised picture that the block was fitted to
//   GET    api/works/ID/sheets              SheetLine[]
//   GET    api/works/ID/sheets/N.svg        a sheet as it will be printed
//   GET    api/works/ID/fabric              FabricList
//   POST   api/works/ID/compare             { shades?: number[], pieces?: number[] } -> WorkComparison, when it is done
//   GET    api/works/ID/files/FORMAT        a download (FORMAT of `Format`), content-disposition: attachment
//   GET    api/series                       Series[]
//   POST   api/series                       { name, works: ID[], settings: Partial<Settings>, common: 'fabrics' | 'background',
//                                           count?: number, own?: NewFabric[], locked?: NewFabric[] } -> Series
//   GET    api/series/ID                    Series; works in it are ordinary works
//   GET    api/series/ID/files/NAME         a download of the series: quilt plan, common key, shopping list, contact sheet
//   GET    api/packets.zip?works=ID,ID      the packets of several works
//   POST   api/plan                         PlanAsked -> Plan, what a class or a quilt of some works takes
//   POST   api/plan/yardage.pdf             the same as pages, as `seamwright yardage` writes them
//   GET    api/shelf                        ShelfFabric[], as on a shelf: by hue, then from light to dark
//   POST   api/shelf                        { fabrics: NewFabric[] } -> ShelfFabric[]
//   POST   api/shelf/list                   the bytes of a list of fabrics, as `--fabrics` reads it -> ShelfFabric[]
//   POST   api/shelf/snapshots              the bytes of a snapshot (x-file-name) -> ShelfFabric[]
//   PATCH  api/shelf/FABRIC                 { name?, colour?, print? } -> ShelfFabric[]
//   DELETE api/shelf/FABRIC                 -> ShelfFabric[]
//   GET    api/shelf/FABRIC.jpg             the middle of its snapshot
//   GET    api/here                         Here: whether this is the page itself or a tablet that looks on
//   POST   api/tablet                       { on: boolean, shows?: 'sewing' | 'all' } -> Here; off withdraws the key
//   GET    api/events                       text/event-stream of Event, one stream a tab
//
// Errors come with Refusal, whose `says` is one sentence for people: 404 nothing of that name, 413 larger than is taken, 422 it
// cannot be so, 500 a fault of the program. Who has no right to ask gets a bare 404.
import type { Block } from '../block.ts';
import type { BlockChange, FacePart, Show } from '../data.ts';
import type { ChangeLimits } from '../section/change-block.ts';
import type { OwnFabric } from '../settings/kinds.ts';
import type { Settings } from '../settings/settings.ts';

export interface Refusal {
  readonly says: string;
  /** 409: how many changes by hand would be set aside */
  readonly changes?: number;
}

export type Stage =
  /** on its way: `block` is absent, or the last one that there was */
  | 'waiting'
  /** a block fitted in a moment; the full one is on its way */
  | 'coarse'
  | 'full'
  /** changed by hand since it was fitted, or opened from a block file */
  | 'changed'
  | 'failed';

/** A box as shares (0..1) of the upright picture: left, top, width, height. */
export type Box = readonly [number, number, number, number];

/** All that can be set, by src/settings: lengths in mm, what is found automatically is 'auto'. */
export type { Settings };

/** What a change by hand must keep to: pieces of a section at most, the paper's room, how narrow a piece may become. */
export type HandLimits = ChangeLimits;

/** `id` is set where there is a snapshot of it. */
export type WorkCloth = OwnFabric;

/** The animal in a photo: places are shares of the upright picture, or of the sheet where one was squared up. */
export interface WorkFigure {
  /** left to right as seen; none where no face is surely found */
  readonly eyes: readonly FacePart[];
  readonly nose?: FacePart;
  /** eyes and nose that may be there, to be confirmed: nothing is drawn of them */
  readonly guess?: { readonly eyes: readonly FacePart[]; readonly nose?: FacePart };
  readonly head?: Box;
  /** what the block shows, and why in one sentence */
  readonly show: Show;
  readonly why: string;
  /** 0..1: of the face that was found, else of the guess */
  readonly sure: number;
}

/** What was chosen automatically. */
export interface WorkChoices {
  readonly kind: string;
  readonly because: string;
  /** what the block shows of the picture; it may reach beyond it */
  readonly crop: Box;
  /** degrees clockwise that the crop is turned about its middle */
  readonly turn?: number;
  /** what became of the background */
  readonly background: 'keep' | 'calm' | 'plain';
  /** the animal, where one was looked for */
  readonly figure?: WorkFigure;
  readonly shades: number;
  readonly focus: readonly { readonly x: number; readonly y: number; readonly r: number; readonly weight: number }[];
  readonly subject?: Box;
  /** corners of the sheet that the picture is a photo of, as shares of it: the block shows the sheet, squared up, and `crop` is a part
   *  of that */
  readonly sheet?: readonly number[];
}

export interface Summary {
  readonly pieces: number;
  readonly sections: number;
  readonly joins: number;
  /** points to match */
  readonly points: number;
  /** mm */
  readonly narrowest: number;
  /** share of the face in another fabric than the posterised picture; absent for a block file without its picture */
  readonly misplaced?: number;
  readonly hours: number;
  /** "5 fat eighths and 1 fat quarter"; empty while the stage is coarse */
  readonly buy: string;
}

export interface Work {
  readonly id: string;
  readonly name: string;
  /** grows with everything that is new in it */
  readonly revision: number;
  /** the upright picture's pixels; absent where the work began with a block file */
  readonly picture?: { readonly width: number; readonly height: number };
  readonly settings: Settings;
  readonly stage: Stage;
  /** one sentence, where it failed */
  readonly failed?: string;
  readonly block?: Block;
  readonly choices?: WorkChoices;
  readonly summary?: Summary;
  /** what the person should mind, one sentence each */
  readonly notes: readonly string[];
  /** steps back and forward that there are, with what each would do: "back to 80 pieces" */
  readonly undo?: string;
  readonly redo?: string;
  /** how many changes by hand another fit would set aside; absent where there are none */
  readonly byHand?: number;
  /** what a change by hand must keep to; absent while there is no block */
  readonly limits?: HandLimits;
  /** for fabrics whose cloth has a snapshot: fabric id -> cloth id */
  readonly shown: Readonly<Record<string, string>>;
}

export interface WorkLine {
  readonly id: string;
  readonly name: string;
  readonly stage: Stage;
  readonly pieces?: number;
  /** ISO date of the last change, from the file system: for people, no result depends on it */
  readonly changed: string;
  readonly away: boolean;
}

/** Changes that keep a block sewable. Pieces are named "B3", sections "B", joins by number, fabrics by id. */
export type Change =
  | BlockChange
  /** a whole shade in a cloth that was photographed */
  | { readonly kind: 'cloth'; readonly fabric: string; readonly cloth: string }
  /** pieces in a fabric that the block has not yet; `cloth`: its snapshot, one of the work's own */
  | {
      readonly kind: 'paint';
      readonly pieces: readonly string[];
      readonly name: string;
      readonly colour: string;
      readonly print?: 'directional' | 'large';
      readonly cloth?: string;
    }
  /** a seam moved and swung at once, as `move` and `swing`: what a hand does that drags its end */
  | { readonly kind: 'shift'; readonly seam: string; readonly by: number; readonly degrees: number };

export type Point = readonly [number, number];

export interface SheetLine {
  readonly number: number;
  /** sections on it */
  readonly sections: readonly string[];
}

export interface FabricList {
  readonly buy: string;
  readonly fabrics: readonly {
    readonly id: string;
    readonly code: string;
    readonly name: string;
    readonly colour: string;
    readonly buy: string;
    /** "2 strips 2 1/4 in wide, 31 in" */
    readonly strips: readonly string[];
    /** patches in it: "B3: 2 1/4 x 4 in" */
    readonly patches: readonly string[];
  }[];
  readonly notes: readonly string[];
}

export interface WorkComparison {
  readonly shades: readonly number[];
  readonly pieces: readonly number[];
  /** rows of pieces, columns of shades */
  readonly cells: readonly (readonly {
    readonly block: Block;
    readonly summary: Summary;
    /** to be PATCHed into the settings when this one is picked */
    readonly settings: Partial<Settings>;
  }[])[];
  readonly recommended: { readonly row: number; readonly column: number; readonly because: string };
}

/** block: the block file; sections in SVG, DXF and PNG come in one ZIP file. */
export type Format =
  | 'packet.pdf'
  | 'block.json'
  | 'preview.png'
  | 'sections-svg.zip'
  | 'sections-dxf.zip'
  | 'sheets-png.zip'
  | 'fabric.csv';

export interface Series {
  readonly id: string;
  readonly name: string;
  readonly stage: 'working' | 'done' | 'failed';
  readonly failed?: string;
  readonly works: readonly string[];
  readonly fabrics: readonly { readonly code: string; readonly name: string; readonly colour: string }[];
  readonly files: readonly { readonly name: string; readonly title: string }[];
  /** blocks that stand out of the series, and pictures that failed, a sentence each */
  readonly notes: readonly string[];
}

export type { NewFabric, Plan, PlanAsked, ShelfFabric } from './plan-api.ts';

/** Who looks at the page, and whether a tablet may. */
export interface Here {
  /** a tablet that looks on and ticks; it changes nothing else */
  readonly reads: boolean;
  /** the address for a tablet, with its key, while it is open; only the page itself is told */
  readonly tablet?: { readonly address: string; readonly others: readonly string[] };
}

export type Event =
  | { readonly kind: 'ticks'; readonly id: string }
  | { readonly kind: 'shelf' }
  | { readonly kind: 'work'; readonly id: string; readonly revision: number }
  | { readonly kind: 'works' }
  | { readonly kind: 'series'; readonly id: string }
  /** share is 0..1; said at the most ten times a second */
  | { readonly kind: 'progress'; readonly id: string; readonly stage: string; readonly share: number };
