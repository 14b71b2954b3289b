// Who may ask, and what a browser may do with the answer: this page alone, under the names of this machine, nothing from outside.
import { createHash, timingSafeEqual } from 'node:crypto';
import type { Context, MiddlewareHandler } from 'hono';

const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** A picture that is opened by itself is a document: it may do nothing but show itself. */
const PICTURE_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox; frame-ancestors 'none'";

const HEADERS: Readonly<Record<string, string>> = {
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'x-frame-options': 'DENY',
};

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

/** In a time that does not depend on where they differ. */
export const sameKey = (a: string, b: string): boolean => timingSafeEqual(digest(a), digest(b));

const nothingHere = (c: Context): Response => c.text('Not found.', 404);

/** Refuses what does not come from the page itself: another host's name (a name that was made to point here), another
 *  origin, a wrong key. None of them learns why. */
export function guard(
  key: string,
  /** names of this machine with the port, as they may be asked for */
  names: () => readonly string[],
  tickets: Set<string> = new Set(),
): MiddlewareHandler {
  return async (c, next) => {
    const hosts = names();
    const host = c.req.header('host') ?? '';
    const origin = c.req.header('origin');
    const site = c.req.header('sec-fetch-site');
    const foreign =
      !hosts.includes(host) ||
      (origin !== undefined && !hosts.some((h) => origin === `http://${h}`)) ||
      (site !== undefined && site !== 'same-origin' && !(site === 'none' && c.req.method === 'GET'));
    const [, first = '', second = ''] = c.req.path.split('/');
    const own =
      sameKey(first, key) || (first === 'open' && !foreign && c.req.method === 'GET' && tickets.delete(second));
    if (foreign || !own) {
      for (const [name, value] of Object.entries(HEADERS)) c.header(name, value);
      c.header('content-security-policy', POLICY);
      return nothingHere(c);
    }
    await next();
    const { headers } = c.res;
    for (const [name, value] of Object.entries(HEADERS)) headers.set(name, value);
    const picture = headers.get('content-type')?.startsWith('image/') === true;
    headers.set('content-security-policy', picture ? PICTURE_POLICY : POLICY);
    if (!headers.has('cache-control')) headers.set('cache-control', 'no-store');
    return undefined;
  };
}

/** The names under which this machine speaks to itself alone. */
export const ownNames = (port: number): readonly string[] => [`127.0.0.1:${port}`, `localhost:${port}`];
