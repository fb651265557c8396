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

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const { pathname, origin } = new URL(request.url);
  if (request.method !== 'GET' || origin !== self.location.origin || pathname.startsWith('/api/')) return;
  if (request.mode === 'navigate') event.respondWith(page(request));
  else event.respondWith(caches.match(request).then((kept) => kept ?? fetch(request)));
});
