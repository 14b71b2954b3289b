// A queue behind a password and TLS, as one that is reached over a network has to be.
import { execFile, spawnSync } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { root, type Said } from '../cli/run-program.ts';
import { freePort, NEEDS_SERVER, startServer, type TestServer } from './redis.ts';

const hasOpenssl = spawnSync('openssl', ['version'], { stdio: 'ignore' }).status === 0;
const missing = NEEDS_SERVER || (hasOpenssl ? '' : ' (SKIPPED: there is no openssl on the path to make a certificate)');

describe.skipIf(missing)(`a queue behind a password and TLS${missing}`, () => {
  let folder = '';
  let certificate = '';
  let server: TestServer;
  let secured = 0;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'seamwright-secured-'));
    certificate = join(folder, 'certificate.pem');
    const key = join(folder, 'key.pem');
    const made = spawnSync('openssl', [
      ...['req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-days', '2', '-subj', '/CN=shelter'],
      ...['-addext', 'subjectAltName=IP:127.0.0.1', '-keyout', key, '-out', certificate],
    ]);
    expect(made.status, String(made.stderr)).toBe(0);
    secured = await freePort();
    server = await startServer(
      ...['--tls-port', String(secured), '--tls-cert-file', certificate, '--tls-key-file', key],
      ...['--tls-auth-clients', 'no', '--requirepass', 'se/cret'],
    );
  });
  afterAll(async () => {
    await server?.remove();
    await rm(folder, { recursive: true, force: true });
  });

  const status = (address: string, env: NodeJS.ProcessEnv = {}): Promise<Said> =>
    new Promise((done) =>
      execFile(
        process.execPath,
        [join(root, 'dist', 'seamwright.js'), 'queue', 'status', '--json'],
        { env: { ...process.env, SEAMWRIGHT_QUEUE: address, ...env } },
        (e, out, err) => done({ code: e ? Number(e.code) : 0, out, err }),
      ),
    );

  test('is used with both, and named without its password where one is wrong', async () => {
    const trusted = { NODE_EXTRA_CA_CERTS: certificate };
    const good = await status(`rediss://:se%2Fcret@127.0.0.1:${secured}`, trusted);
    expect(good.code, good.err).toBe(0);
    expect(JSON.parse(good.out)).toMatchObject({ series: [], workers: [] });
    const shown = `rediss://127.0.0.1:${secured}`;
    const unknown = await status(`rediss://:se%2Fcret@127.0.0.1:${secured}`);
    expect(unknown.code).toBe(1);
    expect(unknown.err).toMatch(
      /^seamwright: The TLS connection to rediss:\/\/127\.0\.0\.1:\d+ cannot be trusted: .+\n$/,
    );
    for (const login of [':other@', '']) {
      const locked = await status(`rediss://${login}127.0.0.1:${secured}`, trusted);
      expect(locked.code).toBe(1);
      expect(locked.err).toBe(
        `seamwright: The queue at ${shown} asks for another password; write it into the address: redis://:PASSWORD@HOST:6379.\n`,
      );
    }
  });
});
