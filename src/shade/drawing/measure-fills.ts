// Takes the rooms of a drawing; gives what each is filled with where that is more than paper: pencil tone, a wash, a colour.
import type { Lab } from '../../colour/oklab.ts';
import { averageCells } from '../cells.ts';
import type { Drawn } from './read-drawing.ts';

/** Darkness against the paper around, lightness against all paper, and distance in tint, from which a room is filled; and how many
 *  times what the bare ground strays. A wide wash is paper to its middle: only all paper shows it. */
const TONED = 0.045;
const DARKER = 0.025;
const TINTED = 0.035;
const STRAYS = 4;
/** Half cells from ink within which its edge still shows. */
const OFF_INK = 2.5;

/** Colour of each room as on even white paper; undefined where it is bare. `away`: distance to ink. */
export function measureFills(
  drawn: Drawn,
  room: Int32Array,
  count: number,
  solid: readonly boolean[],
  away: Float32Array,
): (Lab | undefined)[] {
  const { w, h, picture, dark, paper } = drawn;
  const { lab } = averageCells(picture.pixels, picture.width, picture.height, w, h);
  const sums = Array.from({ length: count + 1 }, () => ({ n: 0, dark: 0, darks: 0, L: 0, Ls: 0, a: 0, b: 0 }));
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const i = y * w + x;
      const own = room[i]! < 0 ? count : room[i]!;
      if (own < count && solid[own] ? away[i]! > 0 : away[i]! < OFF_INK) continue;
      const px = Math.min(picture.width - 1, Math.floor(((x + 0.5) * picture.width) / w));
      const py = Math.min(picture.height - 1, Math.floor(((y + 0.5) * picture.height) / h));
      const d = dark[py * picture.width + px]!;
      const s = sums[own]!;
      s.n++;
      s.dark += d;
      s.darks += d * d;
      s.L += lab[3 * i]!;
      s.Ls += lab[3 * i]! ** 2;
      s.a += lab[3 * i + 1]!;
      s.b += lab[3 * i + 2]!;
    }
  const mean = sums.map(({ n, ...s }) => {
    const m = Math.max(1, n);
    return { n, dark: s.dark / m, L: s.L / m, a: s.a / m, b: s.b / m };
  });
  const bare = mean[count]!;
  const ground = sums[count]!;
  const strays = (squares: number, middle: number): number =>
    ground.n ? STRAYS * Math.sqrt(Math.max(0, squares / ground.n - middle ** 2)) : 0;
  const toned = Math.max(TONED, strays(ground.darks, bare.dark));
  const darker = Math.max(DARKER, strays(ground.Ls, bare.L));
  return mean.slice(0, count).map((m, r) => {
    if (m.n < 12 || solid[r]) return undefined;
    const more = Math.max(0, m.dark - bare.dark);
    const below = bare.L - m.L;
    const [da, db] = [m.a - bare.a, m.b - bare.b];
    if (more < toned && below < darker && Math.hypot(da, db) < TINTED) return undefined;
    return [Math.min(paper[0] * (1 - more), below < darker ? 1 : paper[0] - below), da, db];
  });
}
