// A Drawing -> DXF for cutters: lines, circles and words on one layer a role, in millimetres ($INSUNITS 4), y upwards.
// Fills, pictures and clips have no place on a cutter: fills and pictures are left out, and what a clip hides is cut off.
import { DxfWriter, LayerFlags, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import type { Point, Polygon } from '../geometry/polygon.ts';
import { clipSegment } from './clip.ts';
import { type Drawing, type Item, MM_PER_PT } from './drawing.ts';
import { measureText } from './fonts.ts';

/** AutoCAD colour numbers: 7 is black or white, 1 red, 5 blue, 8 grey. */
const COLOURS: Partial<Record<Item['role'], number>> = { 'cut-line': 1, 'sewing-line': 5, hatch: 8, map: 8 };

/** The drawing as the text of a DXF file (AutoCAD 2007 and later); the same drawing gives the same text. */
export function writeDxf(drawing: Drawing): string {
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Millimeters);
  const layers = new Set<string>();
  const layer = (role: Item['role']): { layerName: string } => {
    if (!layers.has(role)) dxf.addLayer(role, COLOURS[role] ?? 7, 'Continuous', LayerFlags.None);
    layers.add(role);
    return { layerName: role };
  };
  // on the grid of 1 micrometre: no digits without meaning
  const grid = (v: number): number => Math.round(v * 1000) / 1000 + 0;
  const up = ([x, y]: Point): Point => [grid(x), grid(drawing.height - y)];
  const line = (role: Item['role'], ring: readonly Point[], closed: boolean): void => {
    const vertices = ring.map((q) => ({ point: point2d(...up(q)) }));
    dxf.addLWPolyline(vertices, { ...layer(role), flags: closed ? LWPolylineFlags.Closed : LWPolylineFlags.None });
  };
  const draw = (items: readonly Item[], within?: Polygon): void => {
    for (const it of items)
      switch (it.kind) {
        case 'group':
          draw(it.items, within);
          break;
        case 'clip':
          draw(it.items, it.ring);
          break;
        case 'path':
          if (!it.stroke) break;
          for (const r of it.rings) {
            if (!within) line(it.role, r, it.closed);
            else
              for (let i = 0; i + (it.closed ? 0 : 1) < r.length; i++)
                for (const part of clipSegment([r[i]!, r[(i + 1) % r.length]!], within, [])) line(it.role, part, false);
          }
          break;
        case 'circle':
          if (it.stroke) dxf.addCircle(point3d(...up(it.centre)), it.radius, layer(it.role));
          break;
        case 'text': {
          const { width } = measureText(it.text, it.size, it.font);
          const back = it.align === 'start' ? 0 : it.align === 'middle' ? width / 2 : width;
          const a = (it.turn * Math.PI) / 180;
          const at: Point = [it.at[0] - back * Math.cos(a), it.at[1] - back * Math.sin(a)];
          // a DXF text's height is that of its capitals: 0.729 em in DejaVu Sans
          dxf.addText(point3d(...up(at)), it.size * MM_PER_PT * 0.729, it.text, {
            ...layer(it.role),
            rotation: -it.turn,
          });
          break;
        }
      }
  };
  draw(drawing.items);
  return dxf.stringify();
}
