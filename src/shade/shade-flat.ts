// Shades flat art: the file's own colours become the shades, the soft pixels along its edges make none of their own.
import { type Lab, labDistance, oklabOfRgb } from '../colour/oklab.ts';
import type { Picture } from '../data.ts';
import type { Cells } from './cells.ts';
import { dissolveOutlines, groundFor, type Outlined } from './drawing/dissolve-outlines.ts';
import { withFace } from './drawing/flat-face.ts';
import { costsOf, dropThin, mergeSpecks } from './label-cells.ts';
import type { Shaded, ShadeSettings } from './shaded.ts';
import { MOST_SUGGESTED } from './suggest-shades.ts';

/** Colours nearer than this are one colour to the art, if not to the file. */
const ALIKE = 0.045;
/** Share of the picture under which an even colour is taken for a soft edge's. */
const LEAST_SHARE = 0.0006;
/** How much more a difference in hue counts than one in lightness when colours must be merged. */
const HUE = 2;
/** How much more a merger with the ground is missed where the colour's whole border lies on it: the outline would go. */
const OUTLINE = 8;
/** Sum of the three channels by which neighbours in an even place may differ. */
const EVEN = 9;

interface OwnColour {
  lab: Lab;
  count: number;
}

/** Pixels all of whose four neighbours are like them. */
function findEven({ width, height, pixels }: Picture): Uint8Array {
  const even = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      let same = 1;
      for (const j of [x ? i - 1 : i, x < width - 1 ? i + 1 : i, y ? i - width : i, y < height - 1 ? i + width : i]) {
        let d = 0;
        for (let c = 0; c < 3; c++) d += Math.abs(pixels[3 * i + c]! - pixels[3 * j + c]!);
        if (d > EVEN) same = 0;
      }
      even[i] = same;
    }
  return even;
}

/** The colours of the even places, greatest first, nearly equal ones as one. */
function ownColours(picture: Picture, even: Uint8Array): OwnColour[] {
  const bins = new Map<number, [number, number, number, number]>();
  for (let i = 0; i < even.length; i++) {
    if (!even[i]) continue;
    const [r, g, b] = [picture.pixels[3 * i]!, picture.pixels[3 * i + 1]!, picture.pixels[3 * i + 2]!];
    const key = ((r >> 2) << 12) | ((g >> 2) << 6) | (b >> 2);
    const bin = bins.get(key);
    if (bin) {
      bin[0] += r;
      bin[1] += g;
      bin[2] += b;
      bin[3]++;
    } else bins.set(key, [r, g, b, 1]);
  }
  const list: OwnColour[] = [];
  for (const [r, g, b, count] of [...bins.values()].sort((p, q) => q[3] - p[3] || p[0] - q[0])) {
    const lab = oklabOfRgb(Math.round(r / count), Math.round(g / count), Math.round(b / count));
    const like = list.find((o) => labDistance(o.lab, lab) < ALIKE);
    if (like) like.count += count;
    else list.push({ lab, count });
  }
  const least = LEAST_SHARE * even.length;
  return list.filter((o, i) => i < 2 || o.count >= least).sort((p, q) => q.count - p.count);
}

/** Merges the two colours that are missed least (nearness x the smaller share, as Ward 1963 does for groups) until `most` are left. */
function mergeColours(
  own: readonly OwnColour[],
  most: number,
  ground: number,
  onGround: readonly number[],
): { lab: Lab; members: number[] }[] {
  let groups = own.map((o, i) => ({ lab: o.lab, count: o.count, members: [i] }));
  // the share of a group's border that lies on the ground, where the other is the ground
  const outline = (p: { members: number[] }, q: { members: number[] }): number => {
    const other = p.members.includes(ground) ? q : q.members.includes(ground) ? p : undefined;
    return other ? 1 + OUTLINE * Math.max(0, ...other.members.map((m) => onGround[m]! - 0.25)) : 1;
  };
  while (groups.length > most) {
    let best: [number, number, number] | undefined;
    for (let i = 0; i < groups.length; i++)
      for (let j = i + 1; j < groups.length; j++) {
        const [p, q] = [groups[i]!, groups[j]!];
        // a small part counts more than its share: it is what makes the face
        const [a, b] = [Math.sqrt(p.count), Math.sqrt(q.count)];
        // a grey is missed less for a lighter grey than for a tan
        const [dL, da, db] = [0, 1, 2].map((c) => p.lab[c]! - q.lab[c]!) as [number, number, number];
        const loss = ((a * b) / (a + b)) * (dL * dL + HUE * (da * da + db * db)) * outline(p, q);
        if (!best || loss < best[0]) best = [loss, i, j];
      }
    const [p, q] = [groups[best![1]]!, groups[best![2]]!];
    const [great, small] = p.count >= q.count ? [p, q] : [q, p];
    const f = small.count / (great.count + small.count);
    const lab = great.lab.map((v, c) => v + f * (small.lab[c]! - v)) as unknown as Lab;
    const merged = { lab, count: p.count + q.count, members: [...p.members, ...q.members] };
    groups = groups.filter((g) => g !== p && g !== q).concat(merged);
  }
  return groups;
}

/** Gives each pixel an own colour: even ones by nearness, soft ones the nearer of what borders on them. */
function labelPixels(picture: Picture, even: Uint8Array, own: readonly OwnColour[]): Uint8Array {
  const { width, height, pixels } = picture;
  const n = width * height;
  const known = new Map<number, number>();
  const nearest = (i: number): number => {
    const key = (pixels[3 * i]! << 16) | (pixels[3 * i + 1]! << 8) | pixels[3 * i + 2]!;
    let best = known.get(key);
    if (best === undefined) {
      const lab = oklabOfRgb(pixels[3 * i]!, pixels[3 * i + 1]!, pixels[3 * i + 2]!);
      best = 0;
      for (let l = 1; l < own.length; l++)
        if (labDistance(own[l]!.lab, lab) < labDistance(own[best]!.lab, lab)) best = l;
      known.set(key, best);
    }
    return best;
  };
  const labels = new Uint8Array(n).fill(255);
  let front: number[] = [];
  for (let i = 0; i < n; i++) {
    if (even[i]) labels[i] = nearest(i);
    else front.push(i);
  }
  while (front.length) {
    const rest: number[] = [];
    const set: [number, number][] = [];
    for (const i of front) {
      const x = i % width;
      const lab = oklabOfRgb(pixels[3 * i]!, pixels[3 * i + 1]!, pixels[3 * i + 2]!);
      let best = 255;
      for (const j of [x ? i - 1 : i, x < width - 1 ? i + 1 : i, i - width, i + width]) {
        const l = j >= 0 && j < n ? labels[j]! : 255;
        if (l !== 255 && (best === 255 || labDistance(own[l]!.lab, lab) < labDistance(own[best]!.lab, lab))) best = l;
      }
      if (best === 255) rest.push(i);
      else set.push([i, best]);
    }
    if (!set.length) {
      for (const i of rest) labels[i] = nearest(i);
      break;
    }
    for (const [i, l] of set) labels[i] = l;
    front = rest;
  }
  return labels;
}

/** Which own colour the frame shows most, and for each colour the share of its border that lies on that. */
function measureGround(
  labels: Uint8Array,
  width: number,
  height: number,
  k: number,
): { ground: number; onGround: number[] } {
  const frame = new Uint32Array(k);
  for (let x = 0; x < width; x++) for (const i of [x, (height - 1) * width + x]) frame[labels[i]!]!++;
  for (let y = 0; y < height; y++) for (const i of [y * width, y * width + width - 1]) frame[labels[i]!]!++;
  const ground = frame.indexOf(Math.max(...frame));
  const border = new Float64Array(k);
  const shared = new Float64Array(k);
  const touch = (a: number, b: number): void => {
    if (a === b) return;
    border[a]!++;
    border[b]!++;
    if (a === ground) shared[b]!++;
    if (b === ground) shared[a]!++;
  };
  for (let i = 0; i < labels.length; i++) {
    if (i % width < width - 1) touch(labels[i]!, labels[i + 1]!);
    if (i + width < labels.length) touch(labels[i]!, labels[i + width]!);
  }
  return { ground, onGround: Array.from(shared, (v, l) => v / Math.max(1, border[l]!)) };
}

/** For each cell the label that most of its pixels have. */
export function majorityCells(
  labels: Uint8Array,
  width: number,
  height: number,
  k: number,
  w: number,
  h: number,
): Uint8Array {
  const counts = new Uint32Array(w * h * k);
  for (let y = 0; y < Math.max(height, h); y++)
    for (let x = 0; x < Math.max(width, w); x++) {
      // a picture smaller than the grid is read more than once
      const [px, cx] = width >= w ? [x, Math.floor((x * w) / width)] : [Math.floor((x * width) / w), x];
      const [py, cy] = height >= h ? [y, Math.floor((y * h) / height)] : [Math.floor((y * height) / h), y];
      counts[(cy * w + cx) * k + labels[py * width + px]!]!++;
    }
  const out = new Uint8Array(w * h);
  for (let i = 0; i < w * h; i++) {
    let best = 0;
    for (let l = 1; l < k; l++) if (counts[i * k + l]! > counts[i * k + best]!) best = l;
    out[i] = best;
  }
  return out;
}

/** Undefined where the picture has no even places: then it is no flat art. */
export function shadeFlat(
  picture: Picture,
  w: number,
  h: number,
  { shades, most = MOST_SUGGESTED, narrow }: ShadeSettings,
): Shaded | undefined {
  const even = findEven(picture);
  const own = ownColours(picture, even).slice(0, 250);
  if (own.length < 2) return undefined;
  const pixelLabels = labelPixels(picture, even, own);
  const { ground, onGround } = measureGround(pixelLabels, picture.width, picture.height, own.length);
  const ownCells = majorityCells(pixelLabels, picture.width, picture.height, own.length, w, h);
  const outlined = dissolveOutlines(
    ownCells,
    own.map((o) => o.lab),
    ground,
    w,
    h,
    narrow,
  );
  if (outlined) return shadeOutlined(outlined, w, h, shades === 'auto' ? most : shades, narrow);
  const groups = mergeColours(own, shades === 'auto' ? most : shades, ground, onGround);
  const colours = groups.map((g) => g.lab);
  const k = colours.length;
  const groupOf = new Uint8Array(own.length);
  groups.forEach((g, l) => {
    for (const m of g.members) groupOf[m] = l;
  });
  const lab = new Float32Array(w * h * 3);
  ownCells.forEach((l, i) => {
    lab.set(own[l]!.lab, 3 * i);
  });
  const cells: Cells = { width: w, height: h, lab };
  const labels = majorityCells(
    pixelLabels.map((l) => groupOf[l]!),
    picture.width,
    picture.height,
    k,
    w,
    h,
  );
  const costs = costsOf(cells, colours);
  dropThin(labels, costs, w, h, k, Math.max(2, Math.round(0.3 * narrow)));
  mergeSpecks(labels, costs, w, h, k, { least: 0.2 * narrow ** 2, wanted: 0.3 * narrow ** 2 });
  return withFace({ labels, colours, costs, cells, notes: [] }, w, h, narrow);
}

/** Flat art whose outlines were dissolved: the fills that are left, merged to so many fabrics. */
function shadeOutlined(
  { labels: own, colours: lab, ground, hold, moved }: Outlined,
  w: number,
  h: number,
  most: number,
  narrow: number,
): Shaded {
  const counts = new Float64Array(lab.length);
  for (const l of own) counts[l]!++;
  const used = lab.map((_, l) => l).filter((l) => counts[l]);
  const groups = mergeColours(
    used.map((l) => ({ lab: lab[l]!, count: counts[l]! })),
    most,
    used.indexOf(ground),
    // the ground must stay what it is
    used.map(() => 1),
  );
  const of = new Map(groups.flatMap((g, q) => g.members.map((m) => [used[m]!, q] as const)));
  const colours = groups.map((g) => g.lab);
  const labels = own.map((l) => of.get(l)!);
  const seen = new Float32Array(3 * w * h);
  own.forEach((l, i) => {
    seen.set(lab[l]!, 3 * i);
  });
  const cells: Cells = { width: w, height: h, lab: seen };
  const costs = costsOf(cells, colours);
  const k = colours.length;
  dropThin(labels, costs, w, h, k, Math.max(2, Math.round(0.3 * narrow)), hold);
  mergeSpecks(labels, costs, w, h, k, { least: 0.2 * narrow ** 2, wanted: 0.3 * narrow ** 2 }, hold);
  const under = of.get(ground)!;
  if (moved) colours[under] = groundFor(labels, colours, under, w, h);
  const notes = ['The outlines were left out, and the colours meet where they were.'];
  return withFace({ labels, colours, costs, cells, notes, hold }, w, h, narrow);
}
