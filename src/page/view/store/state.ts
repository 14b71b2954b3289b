// What the page knows, in one place: the address, what the server said last, and what the person has picked but not changed yet.
import { useLayoutEffect, useReducer, useRef } from 'preact/hooks';
import type { Here, Point, Series, Settings, ShelfFabric, Work, WorkComparison, WorkLine } from '../../api.ts';
import { WHOLE, type Zoom } from '../parts/zoom.ts';
import { type Address, readAddress } from './address.ts';
import { recall } from './browser-memory.ts';
import type { See } from './colours.ts';

export interface Look {
  readonly see: See;
  readonly seams: boolean;
  readonly numbers: boolean;
  readonly trueSize: boolean;
  readonly cloth: boolean;
  /** what of a work is in sight while its settings change; `both` where there is room */
  readonly view: 'both' | 'block' | 'picture';
  /** whether the settings are unfolded beside it */
  readonly panel: boolean;
  /** pixels of the page that make a millimetre on this screen, measured with a card; 96 to the inch until then */
  readonly pixelsPerMm: number;
}

/** What the pointer does on the block besides picking pieces. */
export type Tool = 'pick' | 'loop' | 'divide' | 'move' | 'pan';

export interface State {
  readonly address: Address;
  readonly reachable: boolean;
  readonly works: readonly WorkLine[] | undefined;
  readonly series: readonly Series[] | undefined;
  /** works ticked for a series, in its order; undefined while none is being gathered */
  readonly gathered: readonly string[] | undefined;
  /** files that are being brought: their names, how many are there, and what was refused */
  readonly bringing:
    | {
        readonly names: readonly string[];
        readonly at: number;
        readonly refused: readonly { name: string; says: string }[];
      }
    | undefined;
  readonly work: Work | undefined;
  /** settings that were changed here and that the server has not confirmed yet */
  readonly wanted: Partial<Settings>;
  /** how many changes by hand `wanted` would set aside, while the person is asked */
  readonly setsAside: number | undefined;
  /** what is waited for, in plain words */
  readonly waiting: string | undefined;
  readonly progress: { readonly id: string; readonly stage: string; readonly share: number } | undefined;
  /** a sentence for people on what was not done */
  readonly refusal: string | undefined;
  /** names of the pieces that are picked, in their order */
  readonly picked: readonly string[];
  /** whether each press adds a piece to those picked: where there is no Shift key */
  readonly several: boolean;
  /** the piece under the pointer or the keyboard */
  readonly at: string | undefined;
  readonly tool: Tool;
  /** the line along which a piece is to be divided, mm */
  readonly line: readonly [Point, Point] | undefined;
  /** the seam that is to be moved: a piece's name or a join's number */
  readonly seam: string | undefined;
  /** the last comparison, so that it is there again when someone comes back to it */
  readonly comparison: { readonly id: string; readonly result: WorkComparison } | undefined;
  /** the fabrics that someone has, as on a shelf; undefined until they are asked for */
  readonly shelf: readonly ShelfFabric[] | undefined;
  readonly here: Here | undefined;
  /** grows when ticks were changed, here or on another screen */
  readonly ticked: number;
  readonly look: Look;
  readonly blockZoom: Zoom;
  readonly pictureZoom: Zoom;
}

const LOOK: Look = {
  see: 'fabrics',
  seams: true,
  numbers: false,
  trueSize: false,
  cloth: false,
  view: 'both',
  panel: true,
  pixelsPerMm: 96 / 25.4,
};

let state: State = {
  address: readAddress(location.hash),
  reachable: true,
  works: undefined,
  series: undefined,
  gathered: undefined,
  bringing: undefined,
  work: undefined,
  wanted: {},
  setsAside: undefined,
  waiting: undefined,
  progress: undefined,
  refusal: undefined,
  picked: [],
  several: false,
  at: undefined,
  tool: 'pick',
  line: undefined,
  seam: undefined,
  comparison: undefined,
  shelf: undefined,
  here: undefined,
  ticked: 0,
  look: { ...LOOK, ...recall<Partial<Look>>('look', {}) },
  blockZoom: WHOLE,
  pictureZoom: WHOLE,
};
const listeners = new Set<() => void>();

export const now = (): State => state;

export function put(change: Partial<State>): void {
  state = { ...state, ...change };
  for (const tell of [...listeners]) tell();
}

/** A part of the state; the component is drawn again when that part becomes another. */
export function usePart<T>(select: (s: State) => T): T {
  const [, redraw] = useReducer((n: number) => n + 1, 0);
  const value = select(state);
  const last = useRef({ select, value });
  last.current = { select, value };
  useLayoutEffect(() => {
    const tell = (): void => {
      if (last.current.select(state) !== last.current.value) redraw(undefined as never);
    };
    listeners.add(tell);
    tell();
    return () => void listeners.delete(tell);
  }, []);
  return value;
}
