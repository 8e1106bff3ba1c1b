// The service worker. The server puts VERSION (a hash of the files) and SHELL
// (their addresses) above this line. It serves the page's own files from this
// phone and lets /api, the laptop's screen and other origins through untouched.

const CACHE = 'lapwright-' + VERSION;

self.addEventListener('install', (event) => {
  event.waitUntil(fill());
});

async function fill() {
  const cache = await caches.open(CACHE);
  await cache.addAll(SHELL.map((url) => new Request(url, { cache: 'reload' })));
}

self.addEventListener('activate', (event) => {
  event.waitUntil(takeOver());
});

async function takeOver() {
  for (const name of await caches.keys()) {
    if (name.startsWith('lapwright-') && name !== CACHE) await caches.delete(name);
  }
  await self.clients.claim();
}

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (!SHELL.includes(url.pathname)) return;
  event.respondWith(fromPhone(event.request, url.pathname));
});

async function fromPhone(request, path) {
  const cache = await caches.open(CACHE);
  return (await cache.match(path)) ?? fetch(request);
}

self.addEventListener('message', (event) => {
  if (event.data === 'take over') self.skipWaiting();
  if (event.data === 'saved?') event.waitUntil(tell(event.source));
});

async function tell(client) {
  const cache = await caches.open(CACHE);
  const held = await cache.keys();
  client.postMessage({ saved: held.length >= SHELL.length, version: VERSION });
}
