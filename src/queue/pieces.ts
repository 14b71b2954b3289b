// What is too long for a letter travels in pieces, each a value of its own with a time limit. Whoever takes them takes them away.

import type { Redis } from './connection.ts';
import { KEYS, PIECE_BYTES, PIECES_S } from './keys.ts';

/** pieces on their way in one request: more would hold the whole of it in memory once more */
const TOGETHER = 8;

type Way = Parameters<typeof KEYS.pieces>;

/** Puts bytes down; how many pieces they are. */
export async function putPieces(redis: Redis, way: Way, bytes: Uint8Array): Promise<number> {
  const base = KEYS.pieces(...way);
  const count = Math.ceil(bytes.length / PIECE_BYTES);
  for (let from = 0; from < count; from += TOGETHER) {
    const batch = redis.pipeline();
    for (let k = from; k < Math.min(count, from + TOGETHER); k++) {
      const piece = bytes.subarray(k * PIECE_BYTES, (k + 1) * PIECE_BYTES);
      batch.set(`${base}:${k}`, Buffer.from(piece.buffer, piece.byteOffset, piece.length), 'EX', PIECES_S);
    }
    throwFirst(await batch.exec());
  }
  return count;
}

/** Takes all pieces away. None where one of them is not there any more. */
export async function takePieces(redis: Redis, way: Way, count: number): Promise<Buffer | undefined> {
  const base = KEYS.pieces(...way);
  const pieces: Buffer[] = [];
  for (let from = 0; from < count; from += TOGETHER) {
    const batch = redis.pipeline();
    for (let k = from; k < Math.min(count, from + TOGETHER); k++) batch.getdelBuffer(`${base}:${k}`);
    for (const piece of throwFirst(await batch.exec())) {
      if (!piece) return undefined;
      pieces.push(piece as Buffer);
    }
  }
  return Buffer.concat(pieces);
}

/** Nobody will take them. */
export async function dropPieces(redis: Redis, way: Way, count: number): Promise<void> {
  const base = KEYS.pieces(...way);
  if (count) await redis.unlink(Array.from({ length: count }, (_, k) => `${base}:${k}`));
}

/** The answers of a batch. Throws what one of them failed with. */
export function throwFirst(answers: [Error | null, unknown][] | null): unknown[] {
  return (answers ?? []).map(([e, answer]) => {
    if (e) throw e;
    return answer;
  });
}
