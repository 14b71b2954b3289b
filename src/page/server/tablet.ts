// The tablet beside the machine: a second door, to the network at home, that is shut until somebody opens it. Whoever comes in by it
// has a key of its own, looks on and ticks what is sewn; nothing else. Shutting the door withdraws the key.
import { randomBytes } from 'node:crypto';
import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import { networkInterfaces } from 'node:os';
import { getRequestListener } from '@hono/node-server';
import type { Hono } from 'hono';
import { UserError } from '../../problems/problem.ts';
import type { Here } from '../api.ts';

export type Shows = 'sewing' | 'all';

interface Open {
  readonly server: Server;
  readonly key: string;
  readonly port: number;
}

/** Addresses of this machine in the networks that it is in. */
export function homeAddresses(): string[] {
  return Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter((a) => a.family === 'IPv4' && !a.internal)
    .map((a) => a.address);
}

/** What a door leads to: made anew each time that it is opened. */
export type Behind = (door: { key: string; hosts: () => readonly string[]; shows: Shows }) => Hono;

export class TabletDoor {
  readonly #behind: Behind;
  #open: Open | undefined;

  constructor(behind: Behind) {
    this.#behind = behind;
  }

  here(): Here {
    const open = this.#open;
    if (!open) return { reads: false };
    const [address, ...others] = hostsOf(open.port).map((h) => `http://${h}/${open.key}/`);
    return { reads: false, tablet: { address: address!, others } };
  }

  /** A new key each time: who had the last one is out. Throws UserError where there is no network. */
  async open(shows: Shows): Promise<Here> {
    await this.shut();
    if (!homeAddresses().length) throw new UserError('no-network', {});
    const key = randomBytes(18).toString('base64url');
    let port = 0;
    const app = this.#behind({ key, hosts: () => hostsOf(port), shows });
    const server = createServer(getRequestListener(app.fetch));
    try {
      server.listen(0, '0.0.0.0');
      await once(server, 'listening');
    } catch (e) {
      throw new UserError('port-refused', { port, why: (e as Error).message });
    }
    port = (server.address() as { port: number }).port;
    this.#open = { server, key, port };
    return this.here();
  }

  async shut(): Promise<Here> {
    const open = this.#open;
    this.#open = undefined;
    if (open) {
      const closed = new Promise<void>((done) => open.server.close(() => done()));
      open.server.closeAllConnections();
      await closed;
    }
    return { reads: false };
  }
}

const hostsOf = (port: number): string[] => homeAddresses().map((a) => `${a}:${port}`);
