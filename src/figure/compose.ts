// Chooses what a block shows of a figure and cuts the head's crop: ears and chin inside with room about them, the face upright.
import type { Show } from '../data.ts';
import type { FacePlace, HeadBox } from './head-box.ts';

/** Room about the head, as a share of the block. */
const ROOM = 0.065;
/** Under this many pixels of the picture a head does not fill a block by itself: about one for each of the block's 192 cells. (Of heads from 170 to 700
 *  pixels the blocks read alike; with fewer a nose is a smear.) */
export const LEAST_HEAD_PIXELS = 120;
/** Degrees of tilt that are taken out; less than the first is left, for turning softens. */
const LEAST_TURN = 2;
const MOST_TURN = 30;
/** The face's own axis is the block's where the head then is no more than this wider. */
const CENTRED = 1.2;

export interface HeadCrop {
  readonly box: readonly [x: number, y: number, width: number, height: number];
  /** degrees clockwise */
  readonly turn: number;
}

/** The part of the picture that shows the head alone, `aspect` = width over height. It may reach beyond the picture. */
export function cropHead(face: FacePlace, head: HeadBox, aspect: number, front: boolean): HeadCrop {
  const tilt = (face.tilt * 180) / Math.PI;
  const turn = Math.abs(tilt) >= LEAST_TURN && Math.abs(tilt) <= MOST_TURN ? tilt : 0;
  // across and down the crop: the face's own directions where it is turned upright, else the picture's
  const rest = turn ? 0 : face.tilt;
  const [c, s] = [Math.cos(rest), Math.sin(rest)];
  const corners = [
    [head.left, head.top],
    [head.right, head.top],
    [head.left, head.bottom],
    [head.right, head.bottom],
  ].map(([u, v]) => [u! * c - v! * s, u! * s + v! * c] as const);
  let [x0, x1] = [Math.min(...corners.map((p) => p[0])), Math.max(...corners.map((p) => p[0]))];
  const [y0, y1] = [Math.min(...corners.map((p) => p[1])), Math.max(...corners.map((p) => p[1]))];
  if (front) {
    const half = Math.max(-x0, x1);
    if (2 * half <= CENTRED * Math.max(x1 - x0, (y1 - y0) * aspect)) [x0, x1] = [-half, half];
  }
  const w = (face.d * Math.max(x1 - x0, (y1 - y0) * aspect)) / (1 - 2 * ROOM);
  const h = w / aspect;
  const t = (turn * Math.PI) / 180;
  const [mx, my] = [(face.d * (x0 + x1)) / 2, (face.d * (y0 + y1)) / 2];
  const cx = face.x + mx * Math.cos(t) - my * Math.sin(t);
  const cy = face.y + mx * Math.sin(t) + my * Math.cos(t);
  return { box: [cx - w / 2, cy - h / 2, w, h], turn };
}

/** What is shown where nobody has said it. `head` is the crop of a face that is surely found or given. */
export function chooseShow(head: HeadCrop | undefined, animal: boolean, given: boolean): { show: Show; why: string } {
  if (head && (given || Math.min(head.box[2], head.box[3]) >= LEAST_HEAD_PIXELS))
    return {
      show: 'head',
      why: given ? 'The head fills the block: its eyes were given.' : 'The head fills the block: a face was found.',
    };
  if (animal)
    return {
      show: 'animal',
      why: head
        ? `The whole animal is shown: its head is only ${Math.round(head.box[2])} pixels wide in the picture, too few to fill a block.`
        : 'The whole animal is shown: no face was surely found.',
    };
  return { show: 'picture', why: 'The picture is shown as it is: no animal could be told from its ground.' };
}
