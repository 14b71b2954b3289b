// Keeps the page's own files, and what sewing needs of the works that were opened, so that both are there while the program is not.
// What is asked of the program is asked first, always; what is kept is only the answer of last resort.
export {};

interface Fetching extends Event {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
interface Waiting extends Event {
  waitUntil(what: Promise<unknown>): void;
}
interface Worker {
  readonly registration: { readonly scope: string };
  skipWaiting(): Promise<void>;
  readonly clients: { claim(): Promise<void> };
  addEventListener(kind: 'fetch', run: (e: Fetching) => void): void;
  addEventListener(kind: 'install' | 'activate', run: (e: Waiting) => void): void;
}

const worker = globalThis as unknown as Worker;
const CACHE = 'seamwright-page';
/** of a work: itself, what is cut, what is sewn, its small picture */
const SEWING = /\/api\/works\/[^/]+(?:\/(?:fabric|ticks|face\.svg|cloths\/[^/]+\.jpg))?(?:\?.*)?$/;

const isKept = (url: string): boolean => {
  const path = url.slice(worker.registration.scope.length - 1);
  if (path.startsWith('/open/')) return false;
  return path.startsWith('/api/') ? SEWING.test(path) : true;
};

worker.addEventListener('install', (e) => e.waitUntil(worker.skipWaiting()));
worker.addEventListener('activate', (e) => e.waitUntil(worker.clients.claim()));
worker.addEventListener('fetch', (e) => {
  const { request } = e;
  if (request.method !== 'GET' || !request.url.startsWith(worker.registration.scope) || !isKept(request.url)) return;
  e.respondWith(answer(request));
});

async function answer(request: Request): Promise<Response> {
  const cache = await caches.open(CACHE);
  // a picture that was asked for anew is the same picture
  const plain = request.url.split('?')[0]!;
  try {
    const fresh = await fetch(request);
    if (fresh.ok) await cache.put(plain, fresh.clone());
    return fresh;
  } catch (e) {
    const kept = await cache.match(plain);
    if (kept) return kept;
    throw e;
  }
}
