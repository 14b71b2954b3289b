// Judges a drawing as a reader would: how near words come to lines and to other words. Own geometry, not the code that
// placed them: everything is turned into the words' own upright frame and compared with an upright rectangle.
import { type Item, type TextItem, walkItems } from '../../src/drawing/drawing.ts';
import { measureText } from '../../src/drawing/fonts.ts';

type XY = readonly [number, number];
interface Box {
  readonly item: TextItem;
  /** left, top, right, bottom in the text's own frame */
  readonly sides: readonly [number, number, number, number];
}

const boxOf = (item: TextItem): Box => {
  const m = measureText(item.text, item.size, item.font);
  const x0 = item.align === 'middle' ? -m.width / 2 : item.align === 'end' ? -m.width : 0;
  return { item, sides: [x0, -m.ascent, x0 + m.width, m.descent] };
};

const intoFrame = (t: TextItem, q: XY): XY => {
  const a = (-t.turn * Math.PI) / 180;
  const [x, y] = [q[0] - t.at[0], q[1] - t.at[1]];
  return [x * Math.cos(a) - y * Math.sin(a), x * Math.sin(a) + y * Math.cos(a)];
};
const outOfFrame = (t: TextItem, q: XY): XY => {
  const a = (t.turn * Math.PI) / 180;
  return [q[0] * Math.cos(a) - q[1] * Math.sin(a) + t.at[0], q[0] * Math.sin(a) + q[1] * Math.cos(a) + t.at[1]];
};

function pointToSegment(q: XY, a: XY, b: XY): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const l = dx * dx + dy * dy;
  const t = l ? Math.max(0, Math.min(1, ((q[0] - a[0]) * dx + (q[1] - a[1]) * dy) / l)) : 0;
  return Math.hypot(q[0] - a[0] - t * dx, q[1] - a[1] - t * dy);
}

/** Distance of a segment from an upright rectangle; 0 where they meet (Liang & Barsky 1984 for the meeting). */
function segmentToBox(a: XY, b: XY, [x0, y0, x1, y1]: Box['sides']): number {
  let [t0, t1] = [0, 1];
  let outside = false;
  for (const [p, q] of [
    [a[0] - b[0], a[0] - x0],
    [b[0] - a[0], x1 - a[0]],
    [a[1] - b[1], a[1] - y0],
    [b[1] - a[1], y1 - a[1]],
  ] as const) {
    if (p === 0) {
      if (q < 0) outside = true;
    } else if (p < 0) t0 = Math.max(t0, q / p);
    else t1 = Math.min(t1, q / p);
  }
  if (!outside && t0 <= t1) return 0;
  const toBox = (q: XY): number => Math.hypot(Math.max(x0 - q[0], 0, q[0] - x1), Math.max(y0 - q[1], 0, q[1] - y1));
  const corners: XY[] = [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
  return Math.min(toBox(a), toBox(b), ...corners.map((c) => pointToSegment(c, a, b)));
}

export interface Crowded {
  readonly words: string;
  readonly by: string;
  readonly gap: number;
}

/** Every text that has a line within `lineGap` mm (the line's own width counts) or another text within `textGap` mm. */
export function crowdedTexts(items: readonly Item[], lineGap: number, textGap: number): Crowded[] {
  const all = [...walkItems(items)];
  const boxes = all.flatMap((it) => (it.kind === 'text' && it.text.trim() ? [boxOf(it)] : []));
  const found: Crowded[] = [];
  for (const box of boxes) {
    const t = box.item;
    const reach = box.sides[2] - box.sides[0] + 10;
    // no part of the words is further from their own point
    const own = Math.hypot(Math.max(-box.sides[0], box.sides[2]), Math.max(-box.sides[1], box.sides[3]));
    const apart = (a: XY, b: XY, by: number): boolean => {
      const [x, y] = t.at;
      return (
        Math.max(x - Math.max(a[0], b[0]), Math.min(a[0], b[0]) - x) > by ||
        Math.max(y - Math.max(a[1], b[1]), Math.min(a[1], b[1]) - y) > by
      );
    };
    for (const it of all) {
      if (it.kind === 'path' && it.stroke && it.role !== 'hatch')
        for (const ring of it.rings)
          for (let i = 0; i + (it.closed ? 0 : 1) < ring.length; i++) {
            const [a, b] = [ring[i]!, ring[(i + 1) % ring.length]!];
            if (apart(a, b, own + lineGap + it.stroke.width / 2)) continue;
            const gap = segmentToBox(intoFrame(t, a), intoFrame(t, b), box.sides) - it.stroke.width / 2;
            if (gap < lineGap) found.push({ words: t.text, by: it.role, gap });
          }
      else if (it.kind === 'circle' && it.role === 'ring') {
        // the ring is meant for the number within it; other words keep off
        const c = intoFrame(t, it.centre);
        const [x0, y0, x1, y1] = box.sides;
        const far = Math.max(...[x0, x1].flatMap((x) => [y0, y1].map((y) => Math.hypot(x - c[0], y - c[1]))));
        const near = Math.hypot(Math.max(x0 - c[0], 0, c[0] - x1), Math.max(y0 - c[1], 0, c[1] - y1));
        const half = (it.stroke?.width ?? 0) / 2;
        const gap = far < it.radius ? it.radius - half - far + lineGap - 0.5 : near - it.radius - half;
        if (gap < lineGap) found.push({ words: t.text, by: 'ring', gap });
      }
    }
    for (const other of boxes) {
      if (other === box) continue;
      if (Math.hypot(other.item.at[0] - t.at[0], other.item.at[1] - t.at[1]) > reach + other.sides[2] - other.sides[0])
        continue;
      const s = other.sides;
      const corners = (
        [
          [s[0], s[1]],
          [s[2], s[1]],
          [s[2], s[3]],
          [s[0], s[3]],
        ] as XY[]
      ).map((q) => intoFrame(t, outOfFrame(other.item, q)));
      const gap = Math.min(...corners.map((c, i) => segmentToBox(c, corners[(i + 1) % 4]!, box.sides)));
      if (gap < textGap) found.push({ words: t.text, by: other.item.text, gap });
    }
  }
  return found;
}
