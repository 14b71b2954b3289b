// The only door to opencv-wasm: typed, loaded when first asked for, every Mat deleted.
// Takes and gives plain typed arrays; a `mat.data` view dies when the heap grows, so results are copied out at once.
import { createRequire } from 'node:module';
import { withOwnListeners } from './own-listeners.ts';

interface Mat {
  readonly data: Uint8Array;
  readonly data32F: Float32Array;
  readonly data32S: Int32Array;
  readonly rows: number;
  readonly cols: number;
  delete(): void;
}

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

interface Cascade {
  load(file: string): boolean;
  detectMultiScale(
    image: Mat,
    found: InstanceType<OpenCv['RectVector']>,
    step: number,
    agree: number,
    flags: number,
    least: unknown,
    most: unknown,
  ): void;
}

/** What is used of the library; its own types are `any`. */
interface OpenCv {
  readonly Mat: { new (): Mat; new (rows: number, cols: number, type: number): Mat };
  readonly Size: new (width: number, height: number) => unknown;
  readonly Rect: new (x: number, y: number, width: number, height: number) => unknown;
  readonly CV_8UC1: number;
  readonly CV_8UC3: number;
  readonly CV_32S: number;
  readonly DIST_L2: number;
  readonly GC_INIT_WITH_MASK: number;
  readonly MORPH_CLOSE: number;
  readonly MORPH_OPEN: number;
  readonly MORPH_ELLIPSE: number;
  connectedComponentsWithStats(
    from: Mat,
    labels: Mat,
    stats: Mat,
    centroids: Mat,
    connectivity: number,
    type: number,
  ): number;
  distanceTransform(from: Mat, to: Mat, kind: number, size: number): void;
  getStructuringElement(shape: number, size: unknown): Mat;
  morphologyEx(from: Mat, to: Mat, operation: number, kernel: Mat): void;
  grabCut(image: Mat, mask: Mat, rect: unknown, background: Mat, foreground: Mat, rounds: number, mode: number): void;
  setRNGSeed(seed: number): void;
  equalizeHist(from: Mat, to: Mat): void;
  readonly RectVector: new () => { size(): number; get(i: number): Box; delete(): void };
  readonly CascadeClassifier: new () => Cascade;
  FS_createDataFile(folder: string, name: string, data: Uint8Array, read: boolean, write: boolean, own: boolean): void;
  exceptionFromPtr(pointer: number): { msg: string };
}

let loading: Promise<{ cv: OpenCv }> | undefined;

/** Loads the library before it is wanted: half a second. */
export async function loadOpenCv(): Promise<void> {
  await load();
}

/** Loads the library once; given in a wrapper, for the library has a `then` of its own and awaiting it never ends. */
function load(): Promise<{ cv: OpenCv }> {
  loading ??= withOwnListeners(() => {
    const { cv } = createRequire(import.meta.url)('opencv-wasm') as { cv: OpenCv };
    return { cv };
  });
  return loading;
}

/** Runs `work` with the library; every Mat it made through `mat` is deleted, and a C++ exception becomes an Error. */
async function withCv<T>(work: (cv: OpenCv, keep: <M extends Mat>(mat: M) => M) => T): Promise<T> {
  const { cv } = await load();
  const mats: Mat[] = [];
  try {
    return work(cv, (mat) => {
      mats.push(mat);
      return mat;
    });
  } catch (error) {
    throw typeof error === 'number' ? new Error(`OpenCV: ${cv.exceptionFromPtr(error).msg}`) : error;
  } finally {
    for (const mat of mats) mat.delete();
  }
}

export interface Component {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  readonly area: number;
}

/** 8- or 4-connected parts of a mask (non-zero = inside): for each pixel its part, 0 outside, and the parts from 1 on. */
export function findComponents(
  mask: Uint8Array,
  width: number,
  height: number,
  connectivity: 4 | 8,
): Promise<{ part: Int32Array; parts: Component[] }> {
  return withCv((cv, keep) => {
    const from = keep(new cv.Mat(height, width, cv.CV_8UC1));
    from.data.set(mask);
    const labels = keep(new cv.Mat());
    const stats = keep(new cv.Mat());
    const centroids = keep(new cv.Mat());
    const n = cv.connectedComponentsWithStats(from, labels, stats, centroids, connectivity, cv.CV_32S);
    const s = new Int32Array(stats.data32S);
    const parts = Array.from({ length: n }, (_, i) => ({
      left: s[5 * i]!,
      top: s[5 * i + 1]!,
      width: s[5 * i + 2]!,
      height: s[5 * i + 3]!,
      area: s[5 * i + 4]!,
    }));
    return { part: new Int32Array(labels.data32S), parts };
  });
}

/** For each pixel of a mask (non-zero = inside) its distance to the nearest one outside. */
export function distanceInside(mask: Uint8Array, width: number, height: number): Promise<Float32Array> {
  return withCv((cv, keep) => {
    const from = keep(new cv.Mat(height, width, cv.CV_8UC1));
    from.data.set(mask);
    const to = keep(new cv.Mat());
    cv.distanceTransform(from, to, cv.DIST_L2, 5);
    return new Float32Array(to.data32F);
  });
}

/** Closes (fills narrow gaps of) or opens (takes off narrow parts of) a mask with a disc. */
export function reshapeMask(
  mask: Uint8Array,
  width: number,
  height: number,
  how: 'close' | 'open',
  diameter: number,
): Promise<Uint8Array> {
  return withCv((cv, keep) => {
    const from = keep(new cv.Mat(height, width, cv.CV_8UC1));
    from.data.set(mask);
    const to = keep(new cv.Mat());
    const d = Math.max(1, Math.round(diameter));
    const disc = keep(cv.getStructuringElement(cv.MORPH_ELLIPSE, new cv.Size(d, d)));
    cv.morphologyEx(from, to, how === 'close' ? cv.MORPH_CLOSE : cv.MORPH_OPEN, disc);
    return new Uint8Array(to.data);
  });
}

/** Parts an image (width x height x 3) in subject and ground by GrabCut (Rother, Kolmogorov & Blake 2004). `start` has for
 *  each pixel 0 ground, 1 subject, 2 probably ground, 3 probably subject; gives 1 for subject, 0 for ground. */
export function cutSubject(rgb: Uint8Array, start: Uint8Array, width: number, height: number): Promise<Uint8Array> {
  return withCv((cv, keep) => {
    const image = keep(new cv.Mat(height, width, cv.CV_8UC3));
    image.data.set(rgb);
    const mask = keep(new cv.Mat(height, width, cv.CV_8UC1));
    mask.data.set(start);
    const ground = keep(new cv.Mat());
    const subject = keep(new cv.Mat());
    cv.setRNGSeed(1); // its colour models start from random clusters
    cv.grabCut(image, mask, new cv.Rect(0, 0, width, height), ground, subject, 5, cv.GC_INIT_WITH_MASK);
    return Uint8Array.from(mask.data, (v) => v & 1);
  });
}

const cascades = new Map<string, Cascade>();

/** Where a grey image shows what a cascade was taught (Viola & Jones 2001), at `least` pixels or more. `name` is the model's
 *  own, `model` gives its file when it is first asked for. */
export function findTaught(
  name: string,
  model: () => Uint8Array,
  grey: Uint8Array,
  width: number,
  height: number,
  least: number,
): Promise<Box[]> {
  return withCv((cv, keep) => {
    let cascade = cascades.get(name);
    if (!cascade) {
      cv.FS_createDataFile('/', name, model(), true, false, false);
      cascade = new cv.CascadeClassifier();
      if (!cascade.load(name)) throw new Error(`${name} is no cascade`);
      cascades.set(name, cascade);
    }
    const image = keep(new cv.Mat(height, width, cv.CV_8UC1));
    image.data.set(grey);
    cv.equalizeHist(image, image);
    const found = new cv.RectVector();
    try {
      cascade.detectMultiScale(image, found, 1.1, AGREE, 0, new cv.Size(least, least), new cv.Size(0, 0));
      return Array.from({ length: found.size() }, (_, i) => {
        const { x, y, width: w, height: h } = found.get(i);
        return { x, y, width: w, height: h };
      });
    } finally {
      found.delete();
    }
  });
}

/** Windows next to each other in place and size that must see the same thing: at 2 the set's photos give no false face. */
const AGREE = 2;
