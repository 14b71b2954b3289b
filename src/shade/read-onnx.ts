// Reads what is needed of a network in the ONNX format (onnx.proto3, ONNX 1.x; protocol buffers, proto3 wire format):
// its nodes in order and its weights. Takes the file's bytes; throws Error where they are something else.

export interface Node {
  readonly type: string;
  readonly inputs: readonly string[];
  readonly outputs: readonly string[];
  /** lists of whole numbers by name: pads, dilations … */
  readonly ints: ReadonlyMap<string, readonly number[]>;
}

export interface Weights {
  readonly dims: readonly number[];
  readonly values: Float32Array;
}

export interface Network {
  readonly nodes: readonly Node[];
  readonly weights: ReadonlyMap<string, Weights>;
}

/** A field of a message: its number, and a number (wire type 0) or bytes (wire type 2). */
interface Field {
  readonly tag: number;
  readonly value: number;
  readonly bytes: Uint8Array;
}

const NOTHING: Uint8Array = new Uint8Array(0);
const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

function* fieldsOf(bytes: Uint8Array): Generator<Field> {
  let at = 0;
  const varint = (): number => {
    let value = 0;
    for (let shift = 1; ; shift *= 128) {
      const b = bytes[at++];
      if (b === undefined) throw new Error('the network file ends in the middle');
      // above 2^53 only negative numbers occur (-1 as an axis), which are not needed
      value += (b & 127) * shift;
      if (b < 128) return value;
    }
  };
  while (at < bytes.length) {
    const key = varint();
    const tag = Math.floor(key / 8);
    const wire = key % 8;
    if (wire === 0) yield { tag, value: varint(), bytes: NOTHING };
    else {
      const size = wire === 2 ? varint() : wire === 5 ? 4 : wire === 1 ? 8 : -1;
      if (size < 0 || at + size > bytes.length) throw new Error('the network file is no ONNX file');
      yield { tag, value: 0, bytes: bytes.subarray(at, at + size) };
      at += size;
    }
  }
}

/** A repeated whole number, packed or not. */
function numbersOf({ bytes, value }: Field): number[] {
  if (bytes === NOTHING) return [value];
  const list: number[] = [];
  let [v, shift] = [0, 1];
  for (const b of bytes) {
    v += (b & 127) * shift;
    shift *= 128;
    if (b < 128) {
      list.push(v);
      [v, shift] = [0, 1];
    }
  }
  return list;
}

function readNode(bytes: Uint8Array): Node {
  const inputs: string[] = [];
  const outputs: string[] = [];
  const ints = new Map<string, number[]>();
  let type = '';
  for (const f of fieldsOf(bytes)) {
    if (f.tag === 1) inputs.push(text(f.bytes));
    else if (f.tag === 2) outputs.push(text(f.bytes));
    else if (f.tag === 4) type = text(f.bytes);
    else if (f.tag === 5) {
      let name = '';
      const list: number[] = [];
      for (const a of fieldsOf(f.bytes)) {
        if (a.tag === 1) name = text(a.bytes);
        else if (a.tag === 8) list.push(...numbersOf(a));
      }
      ints.set(name, list);
    }
  }
  return { type, inputs, outputs, ints };
}

const FLOAT = 1;

function readWeights(bytes: Uint8Array): { name: string; weights: Weights | undefined } {
  const dims: number[] = [];
  let name = '';
  let kind = 0;
  let raw: Uint8Array = NOTHING;
  for (const f of fieldsOf(bytes)) {
    if (f.tag === 1) dims.push(...numbersOf(f));
    else if (f.tag === 2) kind = f.value;
    else if (f.tag === 8) name = text(f.bytes);
    else if (f.tag === 9) raw = f.bytes;
  }
  // copied, so that the floats lie on a multiple of four
  const copy = new Uint8Array(raw.length);
  copy.set(raw);
  return { name, weights: kind === FLOAT ? { dims, values: new Float32Array(copy.buffer) } : undefined };
}

export function readOnnx(bytes: Uint8Array): Network {
  const nodes: Node[] = [];
  const weights = new Map<string, Weights>();
  for (const model of fieldsOf(bytes)) {
    if (model.tag !== 7) continue;
    for (const f of fieldsOf(model.bytes)) {
      if (f.tag === 1) nodes.push(readNode(f.bytes));
      else if (f.tag === 5) {
        const read = readWeights(f.bytes);
        if (read.weights) weights.set(read.name, read.weights);
      }
    }
  }
  if (!nodes.length) throw new Error('the network file holds no network');
  return { nodes, weights };
}
