// Kinds of values that are places in a picture or on a block: boxes, the corners of a sheet, discs.
import { z } from 'zod';
import { UserError } from '../problems/problem.ts';
import { type Kind, shown } from './kinds.ts';

/** left, top, width, height: shares of the upright picture where all are at most 1, else its pixels */
export type Box = readonly [number, number, number, number];
const positive = z.number().min(0);
/** px: a part of a picture with a shorter side shows nothing */
const LEAST_PIXELS = 16;
const boxSchema = z
  .tuple([positive, positive, positive, positive])
  .refine((b) => b.every((v) => v <= 1) || Math.min(b[2], b[3]) >= LEAST_PIXELS);
const notABox = (value: unknown, field: string): UserError =>
  new UserError('not-a-box', { field, value: shown(value) }, 2);

function readBox(written: string, field: string): Box {
  const parts = written.split(',').map(Number);
  if (parts.length !== 4 || parts.some((v) => !Number.isFinite(v) || v < 0)) throw notABox(written, field);
  return parts as unknown as Box;
}

/** A box, or one of the words that stand for one; `null` is written as no word at all. */
export function box<const W extends string | null>(...words: readonly W[]): Kind<Box | W> {
  const literals = words.map((w) => (w === null ? z.null() : z.literal(w)));
  return {
    schema: z.union([boxSchema, ...literals]) as unknown as z.ZodType<Box | W>,
    wrong: notABox,
    words: {
      placeholder: '<x,y,w,h>',
      read: (written, field) => words.find((w) => w === written) ?? readBox(written, field),
    },
  };
}

/** Four corners, clockwise from the top left, as shares of the upright picture. */
export type Corners = readonly [number, number, number, number, number, number, number, number];
const share = z.number().min(0).max(1);
/** the least turn from one side to the next, as twice the area of the triangle that the three corners make */
const LEAST_TURN = 1e-4;

/** Whether all turns go the same way: four corners in order, none behind another. */
function turnsRight(c: readonly number[]): boolean {
  const at = (i: number): [number, number] => [c[2 * (i % 4)]!, c[2 * (i % 4) + 1]!];
  return [0, 1, 2, 3].every((i) => {
    const [[ax, ay], [bx, by], [dx, dy]] = [at(i), at(i + 1), at(i + 2)];
    return (bx - ax) * (dy - by) - (by - ay) * (dx - bx) > LEAST_TURN;
  });
}

export function corners<const W extends string>(...words: readonly W[]): Kind<Corners | W> {
  const wrong = (value: unknown, field: string): UserError =>
    new UserError('not-corners', { field, value: shown(value) }, 2);
  const eight = z.tuple([share, share, share, share, share, share, share, share]).refine(turnsRight);
  return {
    schema: z.union([eight, ...words.map((w) => z.literal(w))]) as unknown as z.ZodType<Corners | W>,
    wrong,
    words: {
      placeholder: '<x,y,...>',
      read: (written, field) => {
        const word = words.find((w) => w === written);
        if (word !== undefined) return word;
        const c = written.split(',').map(Number);
        if (c.length !== 8 || c.some((v) => !(v >= 0 && v <= 1)) || !turnsRight(c)) throw wrong(written, field);
        return c as unknown as Corners;
      },
    },
  };
}

/** A disc on the block, as shares of its width, and how much more a cell in it counts. */
export interface Disc {
  readonly x: number;
  readonly y: number;
  readonly r: number;
  readonly weight: number;
}
const MOST_WEIGHT = 10;
const USUAL_WEIGHT = 3;
const MOST_DISCS = 20;
const disc = z.strictObject({
  x: share,
  y: share,
  r: z.number().gt(0).max(1),
  weight: z.number().min(1).max(MOST_WEIGHT),
});

/** Discs, or 'auto'; the word "none" is an empty list. */
export const discs: Kind<readonly Disc[] | 'auto'> = {
  schema: z.union([z.array(disc).max(MOST_DISCS), z.literal('auto')]),
  wrong: (value, field) => new UserError('not-a-disc', { field, value: shown(value), most: MOST_WEIGHT }, 2),
  words: {
    placeholder: '<x,y,r[,weight]>',
    many: true,
    // several are handed on one after another, with a line's end between
    read: (written, field) => {
      const each = written.split('\n');
      if (each.includes('none')) return [];
      return each.map((one) => {
        const [x, y, r, weight = USUAL_WEIGHT, ...more] = one.split(',').map(Number);
        const found = disc.safeParse({ x, y, r, weight });
        if (!found.success || more.length)
          throw new UserError('not-a-disc', { field, value: one, most: MOST_WEIGHT }, 2);
        return found.data;
      });
    },
  },
};

/** An eye or a nose that a person has placed: its middle and, where given, its size, as shares of the upright picture. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly w?: number;
  readonly h?: number;
}
const size = z.number().gt(0).max(1).optional();
const spot = z.strictObject({ x: share, y: share, w: size, h: size });

/** Up to `most` spots, or 'auto'; the word "none" is an empty list. */
export const spots = (most: number): Kind<readonly Spot[] | 'auto'> => ({
  schema: z.union([z.array(spot).max(most), z.literal('auto')]) as unknown as z.ZodType<readonly Spot[] | 'auto'>,
  wrong: (value, field) => new UserError('not-spots', { field, value: shown(value), most }, 2),
  words: {
    placeholder: '<x,y[,w,h]>',
    many: true,
    read: (written, field) => {
      const each = written.split('\n');
      if (each.includes('none')) return [];
      if (each.includes('auto')) return 'auto';
      return each.map((one) => {
        const [x, y, w, h, ...more] = one.split(',').map(Number);
        const found = spot.safeParse({ x, y, ...(w !== undefined && { w, h }) });
        if (!found.success || more.length || (w !== undefined && h === undefined))
          throw new UserError('not-spots', { field, value: one, most }, 2);
        return found.data as Spot;
      });
    },
  },
});
