// The service worker. The server puts VERSION (a hash of the files) and SHELL
// (their addresses) above this line. It serves the page's own files from this
// phone and lets /api, the laptop's screen and other origins through untouched.

const PREFIX = 'lapwright-';
const CACHE = PREFIX + VERSION;

self.addEventListener('install', (event) => {
  event.waitUntil(fill());
});

/** Every file or none, and of this version alone: the laptop may have another one by now. */
async function fill() {
  const cache = await caches.open(CACHE);
  try {
    await cache.addAll(SHELL.map((url) => new Request(`${url}?v=${VERSION}`, { cache: 'reload' })));
  } catch (error) {
    if ((await cache.keys()).length === 0) await caches.delete(CACHE);
    throw error;
  }
}

self.addEventListener('activate', (event) => {
  event.waitUntil(takeOver());
});

/** The version before stays: a tab that is open may still run it. */
async function takeOver() {
  const others = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  for (const name of others.slice(0, -1)) await caches.delete(name);
  await self.clients.claim();
}

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (!SHELL.includes(url.pathname)) return;
  event.respondWith(fromPhone(event.request, url.pathname, url.searchParams.get('v') ?? VERSION));
});

async function fromPhone(request, path, version) {
  const held = await caches.match(path, { cacheName: PREFIX + version, ignoreSearch: true });
  return held ?? fetch(request);
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
