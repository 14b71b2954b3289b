// What the page and its server say to each other about the shelf of fabrics and about plans of a class or a quilt.
/** A fabric that someone has. */
export interface ShelfFabric {
  readonly id: string;
  readonly name: string;
  readonly colour: string;
  readonly print?: 'directional' | 'large';
  /** whether there is a snapshot of it */
  readonly snapshot: boolean;
}
export type NewFabric = Pick<ShelfFabric, 'name' | 'colour' | 'print'>;

/** A class or a quilt of works; lengths in mm. */
export interface PlanAsked {
  readonly works: readonly string[];
  readonly name: string;
  readonly class?: { readonly people: number; readonly spare?: number; readonly kit?: 'patches' | 'lengths' };
  readonly quilt?: {
    readonly rows: number;
    readonly columns: number;
    readonly setting: 'straight' | 'on point';
    readonly sashing: number;
    readonly sashingAround: boolean;
    readonly cornerstones: boolean;
    readonly borders: readonly number[];
    /** as cut */
    readonly binding: number;
    /** beyond the top on each side */
    readonly overhang: number;
  };
}

/** What it takes, in words. */
export interface Plan {
  /** finished, of a quilt's top */
  readonly size?: string;
  readonly blocks: number;
  readonly buy: string;
  readonly fabrics: readonly {
    readonly code: string;
    readonly name: string;
    readonly colour: string;
    readonly buy: string;
  }[];
  /** sashing, borders, binding, backing */
  readonly cloths: readonly { readonly what: string; readonly buy: string }[];
  readonly batting?: string;
  readonly hours: number;
  readonly notes: readonly string[];
}
