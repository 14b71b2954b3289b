// The thread of seeing-beside.ts: runs the subject network and looks for faces as often as it is asked.
import { parentPort } from 'node:worker_threads';
import { findFaces } from '../shade/find-faces.ts';
import { loadOpenCv } from '../shade/opencv.ts';
import { loadNetwork, runNetwork } from '../shade/run-network.ts';

export type Asked =
  | { readonly what: 'ready for faces' }
  | { readonly what: 'network'; readonly args: Parameters<typeof runNetwork> }
  | { readonly what: 'faces'; readonly args: Parameters<typeof findFaces> };

// while the picture is still being read
void loadNetwork();

function answer(asked: Asked): Promise<unknown> {
  switch (asked.what) {
    case 'network':
      return runNetwork(...asked.args);
    case 'faces':
      return findFaces(...asked.args);
    default:
      return loadOpenCv();
  }
}

// one after another, so that answers come in the order of the questions
let last: Promise<unknown> = Promise.resolve();
parentPort?.on('message', (asked: Asked) => {
  last = last.then(async () => parentPort!.postMessage(await answer(asked)));
});
