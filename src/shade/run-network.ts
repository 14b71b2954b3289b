// Runs the subject network: convolutions, pooling and enlarging by a library's WebAssembly kernels (tfjs-backend-wasm on
// XNNPACK), layer by layer in the order of the ONNX file. About three times as fast as OpenCV's own network module.
import { createRequire } from 'node:module';
import { dirname } from 'node:path';
import type { Tensor, Tensor4D } from '@tensorflow/tfjs-core';
import { withOwnListeners } from './own-listeners.ts';
import { type Node, readOnnx } from './read-onnx.ts';

type Library = typeof import('@tensorflow/tfjs-core');
interface Backend {
  setWasmPaths(folder: string): void;
  setThreadsCount(count: number): void;
}

let loading: Promise<Library> | undefined;

/** Loads the library once, on one thread: its own threads would be told apart by nothing in the result, but not end. */
function load(): Promise<Library> {
  loading ??= withOwnListeners(async () => {
    const need = createRequire(import.meta.url);
    const tf = need('@tensorflow/tfjs-core') as Library;
    const backend = need('@tensorflow/tfjs-backend-wasm') as Backend;
    backend.setWasmPaths(`${dirname(need.resolve('@tensorflow/tfjs-backend-wasm'))}/`);
    backend.setThreadsCount(1);
    await tf.setBackend('wasm');
    return tf;
  });
  return loading;
}

/** So that the library is there when it is needed. */
export async function loadNetwork(): Promise<void> {
  await load();
}

/** `image` is side x side x 3; gives the side x side floats of the tensor `output`. */
export async function runNetwork(
  onnx: Uint8Array,
  image: Float32Array,
  side: number,
  output: string,
): Promise<Float32Array> {
  const tf = await load();
  const { nodes, weights } = readOnnx(onnx);

  const maker = new Map(nodes.flatMap((n) => n.outputs.map((o) => [o, n] as const)));
  const users = new Map<string, Node[]>();
  for (const n of nodes) for (const i of n.inputs) users.set(i, [...(users.get(i) ?? []), n]);
  const known = new Map<string, Tensor4D>();
  const sizes = new Map<string, [number, number]>();
  /** what of its work a convolution does in the same go: its only user, where that is a Relu */
  const bentBy = (n: Node): Node | undefined => {
    const [first, ...more] = users.get(n.outputs[0]!) ?? [];
    return n.type === 'Conv' && !more.length && first?.type === 'Relu' ? first : undefined;
  };

  /** A layer is enlarged to the size of another: the one whose shape the new size was taken from. */
  const sizedLike = (name: string): string => {
    const n = maker.get(name);
    if (!n) throw new Error(`the network takes a size from ${name}, which no layer makes`);
    if (n.type === 'Shape') return n.inputs[0]!;
    const cast = n.inputs.map((i) => maker.get(i)).find((m) => m?.type === 'Cast');
    return sizedLike(cast ? cast.inputs[0]! : n.inputs[0]!);
  };
  const kernel = (name: string): Tensor => {
    const { dims, values } = weights.get(name)!;
    return tf.tidy(() => tf.transpose(tf.tensor(values, [...dims]), [2, 3, 1, 0]));
  };
  const apply = (n: Node): Tensor4D | undefined => {
    const x = known.get(n.inputs[0]!);
    if (!x) return undefined; // works out sizes, which come from the layers themselves here
    switch (n.type) {
      case 'Conv': {
        const [filter, bias] = [kernel(n.inputs[1]!), tf.tensor1d(weights.get(n.inputs[2]!)!.values)];
        const activation = bentBy(n) ? 'relu' : 'linear';
        const y = tf.fused.conv2d({
          ...{ x, filter: filter as Tensor4D, bias, activation, strides: 1, pad: 'same' },
          dilations: n.ints.get('dilations')![0]!,
        });
        filter.dispose();
        bias.dispose();
        return y as Tensor4D;
      }
      case 'Relu':
        return tf.relu(x);
      case 'MaxPool':
        return tf.maxPool(x, 2, 2, 'same');
      case 'Concat':
        return tf.concat(
          n.inputs.map((i) => known.get(i)!),
          3,
        );
      case 'Resize':
        return tf.image.resizeBilinear(x, sizes.get(sizedLike(n.inputs[3]!))!, false, true);
      case 'Add':
        return tf.add(x, known.get(n.inputs[1]!)!);
      case 'Sigmoid':
        return tf.sigmoid(x);
      default:
        return undefined;
    }
  };
  try {
    known.set('input.1', tf.tensor4d(image, [1, side, side, 3]));
    const left = new Map([...users].map(([name, list]) => [name, list.length]));
    for (const n of nodes) {
      const made = apply(n);
      if (made) {
        // a Relu that is done already is passed by: its input is not known
        known.set((bentBy(n) ?? n).outputs[0]!, made);
        for (const named of [n, bentBy(n)]) if (named) sizes.set(named.outputs[0]!, [made.shape[1], made.shape[2]]);
      }
      // what nobody needs any more goes at once: all layers together are large
      for (const i of n.inputs) {
        left.set(i, left.get(i)! - 1);
        if (left.get(i) === 0 && i !== output) {
          known.get(i)?.dispose();
          known.delete(i);
        }
      }
      if (n.outputs[0] === output) break;
    }
    const found = known.get(output);
    if (!found) throw new Error(`the network makes no ${output}`);
    return Float32Array.from(await found.data());
  } finally {
    for (const t of known.values()) t.dispose();
  }
}
