// Where the head ends: from the eyes and the nose by the proportions of pets' heads, and from the subject's mask where it ends nearer.
import { type Likely, likelyAt } from './look.ts';

/** A face in pixels of the upright picture. */
export interface FacePlace {
  /** midway between the eyes */
  readonly x: number;
  readonly y: number;
  /** distance of the eyes */
  readonly d: number;
  /** radians clockwise */
  readonly tilt: number;
  /** how far below that the nose lies, in distances of the eyes */
  readonly down: number;
  /** and how far to the right */
  readonly across: number;
}

/** In distances of the eyes from the point midway, across and down the tilted face. */
export interface HeadBox {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** How far a head may reach, and how far it is taken to reach where the body goes on behind it (labelled pets; in distances of the eyes). */
const MOST = { up: 2.5, side: 2 };
const USUAL = { up: 1.75, side: 1.6 };
/** Chin below the nose. */
const CHIN = 0.45;
const STEP = 0.05;

export function findHead(face: FacePlace, guess?: Likely): HeadBox {
  const [c, s] = [Math.cos(face.tilt), Math.sin(face.tilt)];
  const inside = (u: number, v: number): boolean =>
    guess !== undefined && likelyAt(guess, face.x + face.d * (u * c - v * s), face.y + face.d * (u * s + v * c)) > 0.5;
  const chin = face.down + CHIN;
  if (!guess) return { left: -USUAL.side, top: -USUAL.up, right: USUAL.side, bottom: chin };
  // up: the first row without anything of the subject near the face
  let top = -USUAL.up;
  for (let v = -0.5; v >= -MOST.up; v -= STEP) {
    let any = false;
    for (let u = -1.7; u <= 1.7 && !any; u += STEP) any = inside(u, v);
    if (!any) {
      top = v + STEP;
      break;
    }
  }
  const side = (way: 1 | -1): number => {
    const ends: number[] = [];
    for (let v = Math.max(top, -1.4); v <= face.down + 0.2; v += 2 * STEP) {
      let u = way * 0.4;
      if (!inside(u, v)) continue;
      // small gaps are the mask's
      for (let next = u; Math.abs(next) <= MOST.side + STEP; next += way * STEP) {
        if (inside(next, v)) u = next;
        else if (Math.abs(next - u) > 0.2) break;
      }
      ends.push(Math.abs(u));
    }
    ends.sort((a, b) => a - b);
    const end = ends[Math.floor(0.9 * (ends.length - 1))] ?? USUAL.side;
    return end >= MOST.side ? USUAL.side : Math.max(1, end);
  };
  let bottom = chin;
  for (let v = face.down + 0.1; v <= chin; v += STEP)
    if (!inside(face.across, v) && !inside(face.across * 0.5, v)) {
      bottom = v;
      break;
    }
  return { left: -side(-1), top, right: side(1), bottom };
}

/** The box about the tilted head, its sides along the picture's, in pixels of the upright picture. */
export function uprightBox(face: FacePlace, head: HeadBox): [x: number, y: number, width: number, height: number] {
  const [c, s] = [Math.cos(face.tilt), Math.sin(face.tilt)];
  const middle = [(head.left + head.right) / 2, (head.top + head.bottom) / 2] as const;
  // an oval: its own box, not that of its box's corners, which no head fills
  const [a, b] = [(head.right - head.left) / 2, (head.bottom - head.top) / 2];
  const [w, h] = [Math.hypot(a * c, b * s), Math.hypot(a * s, b * c)];
  const x = face.x + face.d * (middle[0] * c - middle[1] * s);
  const y = face.y + face.d * (middle[0] * s + middle[1] * c);
  return [x - face.d * w, y - face.d * h, 2 * face.d * w, 2 * face.d * h];
}
