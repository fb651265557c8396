/**
 * Keeps the pages of this product on the device, so that the bench opens while the server is away. The network comes first;
 * files named by their content are taken from here; what the book answers is never kept here (the outbox and the snapshot of a board
 * are in the pages' own store).
 */
const NAME = 'combwright-pages';

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

self.addEventListener('message', ({ data }) => {
  if (!Array.isArray(data?.keep)) return;
  const own = data.keep.filter((address) => new URL(address, self.location.href).origin === self.location.origin);
  caches.open(NAME).then((kept) => Promise.allSettled(own.map((address) => kept.add(address))));
});

const start = () => new URL('/', self.location.href).href;

async function page(request) {
  try {
    const fresh = await fetch(request);
    const kept = await caches.open(NAME);
    if (fresh.ok) await kept.put(start(), fresh.clone());
    return fresh;
  } catch (away) {
    const kept = await caches.match(start());
    if (kept === undefined) throw away;
    return kept;
  }
}

/** A file named by its content: from here, or fetched once and kept (the reader of the camera comes late). */
async function file(request) {
  const kept = await caches.match(request);
  if (kept !== undefined) return kept;
  const fresh = await fetch(request);
  if (fresh.ok && new URL(request.url).pathname.startsWith('/assets/')) {
    const pages = await caches.open(NAME);
    await pages.put(request, fresh.clone());
  }
  return fresh;
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const { pathname, origin } = new URL(request.url);
  if (request.method !== 'GET' || origin !== self.location.origin || pathname.startsWith('/api/')) return;
  if (request.mode === 'navigate') event.respondWith(page(request));
  else event.respondWith(file(request));
});
