// The service worker. The server puts VERSION (a hash of the files) and SHELL
// (their addresses) above this line. It serves the page's own files from this
// phone and lets /api, the laptop's screen and other origins through untouched;
// where the laptop is away, its address opens the page that is here.

const PREFIX = 'lapwright-';
const CACHE = PREFIX + VERSION;
const LAPTOP_MS = 2500;

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
  if (url.pathname === '/' && event.request.mode === 'navigate') event.respondWith(laptopOrPage(event.request));
  if (!SHELL.includes(url.pathname)) return;
  event.respondWith(fromPhone(event.request, url.pathname, url.searchParams.get('v') ?? VERSION));
});

async function fromPhone(request, path, version) {
  const held = await caches.match(path, { cacheName: PREFIX + version, ignoreSearch: true });
  return held ?? fetch(request);
}

/** The laptop's screen; a link to its address may tell a phone where the laptop has moved to. */
async function laptopOrPage(request) {
  const away = new Promise((_, reject) => setTimeout(reject, LAPTOP_MS));
  try {
    return await Promise.race([fetch(request), away]);
  } catch {
    return fromPhone(new Request('/p'), '/p', VERSION);
  }
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
