// Serves one complete version of the page from the browser's own store, with or without a
// network. A newer version is fetched whole and kept beside it; it is served when the user has
// said so, which is when the page deletes the older one.

// Filled in by the build: the version, and every other file of it with its digest.
const VERSION = '';
const FILES = [];
const PAGE_DIGEST = '';

const SCOPE = registration.scope;
const OURS = `copewright ${SCOPE} `;

// Names of the versions that are kept whole, oldest first: the page goes in last. Names come in
// the order in which they were made (Service Workers, W3C: the name to cache map is ordered).
const kept = async () => {
  const whole = [];
  for (const name of await caches.keys())
    if (name.startsWith(OURS) && (await (await caches.open(name)).match(SCOPE))) whole.push(name);
  return whole;
};

// Fetches this version whole or not at all: a digest that does not match refuses a file of
// another version, so a server that is being renewed cannot mix two.
const keep = async () => {
  const [inUse] = await kept();
  for (const name of await caches.keys())
    if (name.startsWith(OURS) && name !== inUse && name !== OURS + VERSION) await caches.delete(name);
  const cache = await caches.open(OURS + VERSION);
  const ask = ([path, integrity]) => new Request(path, { integrity, cache: 'no-cache' });
  await cache.addAll(FILES.map(ask));
  await cache.add(ask([SCOPE, PAGE_DIGEST]));
};

const answer = async event => {
  const { request } = event;
  const [inUse] = await kept();
  if (!inUse) {
    // The store was emptied behind our back.
    if (request.mode === 'navigate') event.waitUntil(keep().catch(() => {}));
    return fetch(request);
  }
  const { origin, pathname } = new URL(request.url);
  const path = origin + pathname;
  const wanted = path === `${SCOPE}index.html` ? SCOPE : path;
  const cache = await caches.open(inUse);
  // Whatever else the server has in this folder is none of the version's.
  return (await cache.match(wanted, { ignoreVary: true })) ?? fetch(request);
};

addEventListener('install', event => {
  // This script serves old versions as it serves new ones, so it need not wait.
  skipWaiting();
  event.waitUntil(keep());
});

// The first visit's page goes on without a network from here on.
addEventListener('activate', event => event.waitUntil(clients.claim()));

addEventListener('fetch', event => {
  const { request } = event;
  if (request.method === 'GET' && request.url.startsWith(SCOPE)) event.respondWith(answer(event));
});
