// The block's face in small: pieces in their colours or blank, some sections singled out. Drawn about its upper
// left corner.
import type { Block, Fabric } from '../block.ts';
import { type Drawing, type Item, polygon, polyline, type Stroke } from '../drawing/drawing.ts';
import type { Point, Polygon } from '../geometry/polygon.ts';

export interface PictureSize {
  readonly scale: number;
  readonly width: number;
  readonly height: number;
}

/** The largest size of a w x h thing within a box. */
export function sizeWithin(size: readonly [number, number], width: number, height: number): PictureSize {
  const scale = Math.min(width / size[0], height / size[1]);
  return { scale, width: size[0] * scale, height: size[1] * scale };
}

export const scaled = (P: Polygon, scale: number, dx = 0, dy = 0): Point[] =>
  P.map(([x, y]) => [x * scale + dx, y * scale + dy]);

export const fabricsById = (block: Block): ReadonlyMap<string, Fabric> => new Map(block.fabrics.map((f) => [f.id, f]));

/** The fabrics that some piece has: no other need be bought or explained. */
export function fabricsInUse(block: Block): Fabric[] {
  const used = new Set(block.sections.flatMap((s) => s.pieces.map((p) => p.fabric)));
  return block.fabrics.filter((f) => used.has(f.id));
}

/** Every piece in its colour, seams as thin lines. */
export function facePicture(block: Block, scale: number, seam: Stroke): Item[] {
  const fabrics = fabricsById(block);
  const pieces = block.sections.flatMap((s) => s.pieces);
  return pieces.map((p) =>
    polygon('picture', scaled(p.outline, scale), { fill: fabrics.get(p.fabric)!.colour, stroke: seam }),
  );
}

/** Lines to stitch or ink, dashed; dark on a thin light edge, so that they show on every fabric. */
export function stitchLines(block: Block, scale: number): Item[] {
  const longest = Math.max(...block.size) * scale;
  const line = (share: number, colour: string, dash?: readonly [number, number]): Stroke => ({
    width: longest * share,
    colour,
    ...(dash && { dash: [dash[0] * longest, dash[1] * longest] as const }),
  });
  return (block.stitches ?? []).flatMap((points) => [
    polyline('picture', scaled(points, scale), line(0.0038, '#ffffff')),
    polyline('picture', scaled(points, scale), line(0.0022, '#222222', [0.01, 0.006])),
  ]);
}

/** Some sections, their pieces in their colours and their outlines thin, scaled and then moved. */
export function partPicture(block: Block, ids: readonly string[], scale: number, dx: number, dy: number): Item[] {
  const fabrics = fabricsById(block);
  const sections = block.sections.filter((s) => ids.includes(s.id));
  return [
    ...sections.flatMap((s) =>
      s.pieces.map((p) => {
        const { colour } = fabrics.get(p.fabric)!;
        // a hair of its own colour closes the gaps that neighbours leave on screens
        return polygon('picture', scaled(p.outline, scale, dx, dy), { fill: colour, stroke: { width: 0.05, colour } });
      }),
    ),
    ...sections.map((s) =>
      polygon('outline', scaled(s.outline, scale, dx, dy), { stroke: { width: 0.12, colour: '#555555' } }),
    ),
  ];
}

/** The sections' outlines, each filled as `fill` says. */
export function sectionPicture(block: Block, scale: number, fill: (id: string) => string | undefined): Item[] {
  return block.sections.map((s) => {
    const colour = fill(s.id);
    return polygon('map', scaled(s.outline, scale), { stroke: { width: 0.15 }, ...(colour ? { fill: colour } : {}) });
  });
}

/** The finished face at its true size: fabrics' colours and thin seams. */
export function drawPreview(block: Block): Drawing {
  const longest = Math.max(...block.size);
  const seam: Stroke = { width: longest / 1200, colour: '#6f6f6f' };
  return {
    width: block.size[0],
    height: block.size[1],
    title: block.name,
    items: [...facePicture(block, 1, seam), ...stitchLines(block, 1)],
  };
}
