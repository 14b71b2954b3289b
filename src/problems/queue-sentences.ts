// What can be wrong with a queue: its address, its server, who else uses it.
import type { Voice } from './problem.ts';

export const QUEUE_SENTENCES = {
  'not-a-queue-address': (v: { field: string; value: string }, say: Voice) =>
    `${say.field(v.field)}: "${v.value}" is not the address of a queue; write it like redis://localhost:6379, or rediss:// for TLS.`,
  'name-a-queue': (v: { field: string; variable: string }, say: Voice) =>
    `Name the queue: ${say.field(v.field)} redis://localhost:6379, or set ${v.variable}.`,
  'no-queue': (v: { address: string; why: string }) =>
    `There is no queue at ${v.address}: ${v.why}. Start Redis or Valkey there, or check the address.`,
  'queue-locked': (v: { address: string }) =>
    `The queue at ${v.address} asks for another password; write it into the address: redis://:PASSWORD@HOST:6379.`,
  'queue-not-trusted': (v: { address: string; why: string }) =>
    `The TLS connection to ${v.address} cannot be trusted: ${v.why}. Check the address, or name your own authority in NODE_EXTRA_CA_CERTS.`,
  'queue-too-old': (v: { address: string; version: string }) =>
    `The server at ${v.address} is version ${v.version}; a queue needs Redis 6.2 or later, or Valkey.`,
  'queue-forgets': (v: { address: string; policy: string }) =>
    `The server at ${v.address} throws data away when it is full (maxmemory-policy ${v.policy}), and pictures would be lost; set maxmemory-policy to noeviction.`,
  'queue-full': (v: { address: string }, say: Voice) =>
    `The server at ${v.address} is full; give it more memory (maxmemory), then go on with ${say.field('resume')}.`,
  'queue-versions': (v: { address: string; theirs: string; ours: string }) =>
    `The queue at ${v.address} is used by ${v.theirs}, and this is ${v.ours}; install the same version on all computers.`,
  'workers-stopped': (v: { times: number }) =>
    `Every worker that took this picture stopped partway, ${v.times} in all; try it alone with the command "block".`,
  'cannot-serve': (v: { field: string; address: string; why: string }, say: Voice) =>
    `${say.field(v.field)}: nothing can be served at ${v.address}: ${v.why}.`,
} as const;
