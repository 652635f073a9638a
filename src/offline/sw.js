// Keeps the whole page on the device. The build fills in the two constants
// (site.mjs); everything else is as written here.
'use strict';

/** Changes whenever any file, or this worker, does. */
const VERSION = '';
/** Every file of the page as [address from here, sha256 in base64]; './' is the page itself. */
const FILES = [];

// Two copies of the page may share an origin, each in its own folder. A colon
// cannot end a folder's name here, so neither prefix begins the other.
const PREFIX = `tyreside:${new URL(self.registration.scope).pathname}:`;
const CACHE = PREFIX + VERSION;
const SHELL = new URL('./', self.location).href;
const ADDRESSES = new Set(FILES.map(([path]) => new URL(path, self.location).href));

/** The file as built. The digest refuses a mix of two versions, met while a host is being updated. */
async function download([path, sha256]) {
  const response = await fetch(new URL(path, self.location), {
    cache: 'reload',
    integrity: `sha256-${sha256}`,
  });
  // A redirected answer may not be given to a navigation.
  if (!response.ok || response.redirected) {
    throw new Error(`${path}: ${response.status}${response.redirected ? ' redirected' : ''}`);
  }
  return response;
}

/** Stores what is missing of `files`, all or nothing. */
async function store(files) {
  const responses = await Promise.all(files.map(download));
  const cache = await caches.open(CACHE);
  await Promise.all(
    files.map(([path], index) => cache.put(new URL(path, self.location), responses[index])),
  );
}

/** Whether the page can be had without a network; a browser short of room may have dropped some. */
async function complete() {
  const cache = await caches.open(CACHE);
  const kept = new Set((await cache.keys()).map((request) => request.url));
  const missing = FILES.filter(([path]) => !kept.has(new URL(path, self.location).href));
  try {
    await store(missing);
    return true;
  } catch {
    return false;
  }
}

self.addEventListener('install', (event) => {
  event.waitUntil(
    (async () => {
      // A host that goes back to the active version installs it once more:
      // should that fail, what is in use must stay.
      const inUse = await caches.has(CACHE);
      try {
        await store(FILES);
      } catch (error) {
        if (!inUse) await caches.delete(CACHE);
        throw error;
      }
    })(),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      const names = await caches.keys();
      await Promise.all(
        names
          .filter((name) => name.startsWith(PREFIX) && name !== CACHE)
          .map((name) => caches.delete(name)),
      );
      await self.clients.claim();
    })(),
  );
});

self.addEventListener('message', (event) => {
  // Only on the user's word: the open page was built with the old files.
  if (event.data === 'take over') self.skipWaiting();
  if (event.data === 'complete?') {
    const [port] = event.ports;
    event.waitUntil(complete().then((answer) => port.postMessage(answer)));
  }
});

async function answer(request, address) {
  const cache = await caches.open(CACHE);
  // What a host varies by request header is one and the same file here.
  return (await cache.match(address, { ignoreVary: true })) ?? fetch(request);
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  // Without the query: `./?shared` is the same page.
  const asked = url.origin + url.pathname;
  const address = asked === `${SHELL}index.html` ? SHELL : asked;
  if (ADDRESSES.has(address)) event.respondWith(answer(request, address));
});
