// The subject network layer by layer by one library, against another library that reads the same ONNX file: opencv-wasm's dnn.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { besideIn } from '../../src/pipeline/beside.ts';
import type { BlockJobs } from '../../src/pipeline/jobs.ts';
import { readOnnx } from '../../src/shade/read-onnx.ts';
import { runNetwork } from '../../src/shade/run-network.ts';
import { Pool } from '../../src/threads/pool.ts';
import { WORKER } from '../../src/worker-file.ts';
import { greatest } from '../extremes.ts';

const SIDE = 64;
const onnx = readFileSync(join(import.meta.dirname, '../../src/shade/subject-model/u2netp.onnx'));

/** The same file for a picture of SIDE: OpenCV takes the size that stands in it, twice, as two bytes for 320. */
function resized(): Uint8Array {
  const bytes = Buffer.from(onnx);
  let at = bytes.lastIndexOf('input.1');
  for (let i = 0; i < 2; i++) {
    at = bytes.indexOf(Buffer.from([0x08, 0xc0, 0x02]), at + 1);
    bytes[at + 1] = 0x80 | SIDE;
    bytes[at + 2] = 0;
  }
  return bytes;
}

function byOpenCv(image: Float32Array): Float32Array {
  const { cv } = createRequire(import.meta.url)('opencv-wasm');
  cv.FS_createDataFile('/', 'net.onnx', resized(), true, false, false);
  const net = cv.readNetFromONNX('/net.onnx');
  const mat = new cv.Mat(SIDE, SIDE, cv.CV_32FC3);
  mat.data32F.set(image);
  const blob = cv.blobFromImage(mat, 1, new cv.Size(SIDE, SIDE), new cv.Scalar(0, 0, 0, 0), false, false, cv.CV_32F);
  net.setInput(blob, '');
  const out = net.forward('1959');
  const values = new Float32Array(out.data32F);
  for (const m of [mat, blob, out, net]) m.delete();
  return values;
}

// before OpenCV is loaded here, which adds some of its own
test('the library leaves no listener behind that would turn an error into a page of its own text', async () => {
  const listening = () => ['uncaughtException', 'unhandledRejection'].map((e) => process.listenerCount(e));
  const before = listening();
  await runNetwork(onnx, new Float32Array(3 * SIDE * SIDE), SIDE, '1959');
  expect(listening()).toEqual(before);
});

/** A light disc on dark: something to see. */
const image = Float32Array.from({ length: 3 * SIDE * SIDE }, (_, i) => {
  const [x, y] = [Math.floor(i / 3) % SIDE, Math.floor(i / 3 / SIDE)];
  return Math.hypot(x - 30, y - 36) < 15 ? 1.5 : -1.2 + 0.1 * Math.sin(x + 2 * y + (i % 3));
});

test('in a thread of its own it sees the same to the bit, and says so where that thread has ended', async () => {
  const pool = new Pool<BlockJobs>({ entry: WORKER, threads: 1 });
  const { network } = besideIn(pool);
  expect(await network(onnx, image, SIDE, '1959')).toEqual(await runNetwork(onnx, image, SIDE, '1959'));
  await pool.close();
  await expect(network(onnx, image, SIDE, '1959')).rejects.toThrow('was stopped');
});

test('two libraries see the same subject', async () => {
  const ours = await runNetwork(onnx, image, SIDE, '1959');
  const theirs = byOpenCv(image);
  expect(ours.length).toBe(theirs.length);
  expect(greatest([...ours].map((v, i) => Math.abs(v - theirs[i]!)))).toBeLessThan(1e-3);
  expect(ours[36 * SIDE + 30]!).toBeGreaterThan(0.5);
  expect(ours[3 * SIDE + 3]!).toBeLessThan(0.5);
});

test('what is no network is refused', () => {
  expect(() => readOnnx(new Uint8Array([0xff, 0xff]))).toThrow('ends in the middle');
  expect(() => readOnnx(new Uint8Array(0))).toThrow('no network');
  expect(() => readOnnx(onnx.subarray(0, onnx.length - 100))).toThrow('no ONNX file');
});
