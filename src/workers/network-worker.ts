// The thread of network-beside.ts: runs the subject network as often as it is asked.
import { parentPort } from 'node:worker_threads';
import { loadNetwork, runNetwork } from '../shade/run-network.ts';

// while the picture is still being read
void loadNetwork();
parentPort?.on('message', async (asked: Parameters<typeof runNetwork>) =>
  parentPort!.postMessage(await runNetwork(...asked)),
);
