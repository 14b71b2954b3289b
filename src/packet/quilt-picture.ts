// Pictures of a quilt: the top in its setting with its blocks, and the backing with its seams. Drawn about their upper left corner.
import type { Block } from '../block.ts';
import type { QuiltPlan, Yardage } from '../data.ts';
import { type Item, placeItems, polygon, rectangle, rectanglePoints, text } from '../drawing/drawing.ts';
import { facePicture } from './block-picture.ts';

const SASHING = '#e9e9e9';
const BORDERS = ['#d2d2d2', '#f3f3f3', '#c4c4c4'];
/** Above this many pieces blocks are drawn as squares with their number. */
const MOST_DRAWN = 6000;

/** `scale`: mm on paper for a mm of quilt. */
export function quiltItems(plan: Yardage, q: QuiltPlan, scale: number): Item[] {
  const items: Item[] = [];
  const [width, height] = q.size;
  const frame = (inset: number, fill: string): Item =>
    rectangle('fill', inset * scale, inset * scale, (width - 2 * inset) * scale, (height - 2 * inset) * scale, {
      fill,
      stroke: { width: 0.2 },
    });
  // Borders from the outside in, each over the one before it.
  let inset = 0;
  [...q.borders].reverse().forEach((b, i) => {
    items.push(frame(inset, BORDERS[(q.borders.length - 1 - i) % BORDERS.length]!));
    inset += b;
  });
  items.push(frame(inset, SASHING));
  const dealt = dealOut(plan.blocks);
  const drawn = dealt.reduce((t, { block }) => t + block.sections.flatMap((s) => s.pieces).length, 0) <= MOST_DRAWN;
  const faces = new Map<Block, Item[]>();
  const put = (n: number, x: number, y: number, turn: number): void => {
    const one = dealt[n % dealt.length]!;
    let face = faces.get(one.block);
    if (!face) {
      const [w, h] = [one.block.size[0] * scale, one.block.size[1] * scale];
      face = drawn
        ? [
            ...facePicture(one.block, scale, { width: 0.03, colour: '#8a8a8a' }),
            rectangle('box', 0, 0, w, h, { stroke: { width: 0.15 } }),
          ]
        : [
            rectangle('box', 0, 0, w, h, { fill: '#ffffff', stroke: { width: 0.15 } }),
            text('text', [w / 2, h / 2 + 1], String(one.number), 7, { align: 'middle' }),
          ];
      faces.set(one.block, face);
    }
    items.push(...placeItems(face, { turn, dx: x * scale, dy: y * scale }));
  };
  let n = 0;
  if (q.setting === 'on point') {
    const d = (q.block[0] + q.sashing) * Math.SQRT2;
    const inner = [width - 2 * inset, height - 2 * inset] as const;
    if (q.sashing) items.push(...sashingOnPoint(q, inset, inner, scale));
    const drop = q.sashing / Math.SQRT2;
    for (let r = 0; r < 2 * q.rows - 1; r++) {
      const between = r % 2;
      // A block turned by 45 degrees about its upper left corner hangs below it.
      for (let c = 0; c < q.columns - between; c++)
        put(n++, inset + (c + 0.5 + between / 2) * d, inset + (r * d) / 2 + drop, 45);
    }
    return items;
  }
  const start = inset + (q.sashingAround ? q.sashing : 0);
  for (let r = 0; r < q.rows; r++)
    for (let c = 0; c < q.columns; c++)
      put(n++, start + c * (q.block[0] + q.sashing), start + r * (q.block[1] + q.sashing), 0);
  if (q.cornerstones && q.sashing) {
    const lines = (count: number): number[] =>
      Array.from({ length: count + 1 }, (_, i) => i).filter((i) => q.sashingAround || (i > 0 && i < count));
    for (const r of lines(q.rows))
      for (const c of lines(q.columns)) {
        const x = start + c * (q.block[0] + q.sashing) - q.sashing;
        const y = start + r * (q.block[1] + q.sashing) - q.sashing;
        items.push(
          rectangle('fill', x * scale, y * scale, q.sashing * scale, q.sashing * scale, {
            fill: '#9a9a9a',
            stroke: { width: 0.1 },
          }),
        );
      }
  }
  return items;
}

/** The frames of blocks on point, cut off at the quilt's edge, and the cornerstones in them. */
function sashingOnPoint(q: QuiltPlan, inset: number, inner: readonly [number, number], scale: number): Item[] {
  const [side, w] = [q.block[0], q.sashing];
  const d = (side + w) * Math.SQRT2;
  const diamond = (x: number, y: number, size: number, fill: string): Item => {
    const r = (size / Math.SQRT2) * scale;
    const [cx, cy] = [(inset + x) * scale, (inset + y) * scale];
    const ring: [number, number][] = [
      [cx, cy - r],
      [cx + r, cy],
      [cx, cy + r],
      [cx - r, cy],
    ];
    return polygon('fill', ring, { fill, stroke: { width: 0.1 } });
  };
  const items: Item[] = [];
  const crossings = new Map<string, Item>();
  for (let r = 0; r < 2 * q.rows - 1; r++)
    for (let c = 0; c < q.columns - (r % 2); c++) {
      const [x, y] = [(c + 0.5 + (r % 2) / 2) * d, ((r + 1) * d) / 2];
      items.push(diamond(x, y, side + 2 * w, SASHING));
      for (const [dx, dy] of [
        [0, -1],
        [1, 0],
        [0, 1],
        [-1, 0],
      ] as const) {
        const [u, v] = [x + (dx * d) / 2, y + (dy * d) / 2];
        if (q.cornerstones) crossings.set(`${Math.round(u)} ${Math.round(v)}`, diamond(u, v, w, '#9a9a9a'));
      }
    }
  const ring = rectanglePoints(inset * scale, inset * scale, inner[0] * scale, inner[1] * scale);
  return [
    polygon('fill', ring, { fill: '#ffffff', stroke: { width: 0.2 } }),
    { kind: 'clip', role: 'fill', ring, items: [...items, ...crossings.values()] },
  ];
}

/** Blocks in the order in which they are set: in turn, as long as there are some left of each. */
function dealOut(blocks: Yardage['blocks']): { block: Block; number: number }[] {
  const most = Math.max(...blocks.map((b) => b.copies));
  return Array.from({ length: most }, (_, round) =>
    blocks.flatMap(({ block, copies }, i) => (round < copies ? [{ block, number: i + 1 }] : [])),
  ).flat();
}

/** The backing with its seams, the quilt's outline on it in dashes. */
export function backingItems(
  q: QuiltPlan,
  scale: number,
  length: (v: number) => string,
): { items: Item[]; height: number } {
  const { width, height } = q.batting;
  const [w, h] = [width * scale, height * scale];
  const over = ((width - q.size[0]) / 2) * scale;
  const items: Item[] = [rectangle('box', 0, 0, w, h, { fill: '#f3f3f3', stroke: { width: 0.3 } })];
  const { count, seams } = q.backing;
  for (let i = 1; i < count; i++) {
    const at = i / count;
    items.push(
      polygon(
        'seam',
        seams === 'up'
          ? [
              [w * at, 0],
              [w * at, h],
            ]
          : [
              [0, h * at],
              [w, h * at],
            ],
        { stroke: { width: 0.5 } },
      ),
    );
  }
  items.push(rectangle('box', over, over, w - 2 * over, h - 2 * over, { stroke: { width: 0.2, dash: [1.5, 1] } }));
  items.push(text('text', [0, h + 4], `${length(width)} wide, ${length(height)} high; dashes: the top`, 7));
  return { items, height: h + 5 };
}
