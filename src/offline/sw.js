// Keeps the whole page on the device. The build fills in the two constants and
// seals the text (site.mjs); everything else is as written here.

/** Changes whenever any file, or this worker, does. */
const VERSION = '';
/** Every file of the page as [address from here, sha256 in base64]; './' is the page itself. */
const FILES = [];

/** A download that brings nothing for so long is given up, to be tried again later. */
const STALL_MS = 20000;
/** What the browser still has it gives at once. */
const AT_HAND_MS = 2000;

// Two copies of the page may share an origin, each in its own folder. A colon
// cannot end a folder's name here, so neither prefix begins the other.
const PREFIX = `tyreside:${new URL(self.registration.scope).pathname}:`;
const CACHE = PREFIX + VERSION;
const SHELL = new URL('./', self.location).href;
const addressOf = ([path]) => new URL(path, self.location).href;
const BY_ADDRESS = new Map(FILES.map((file) => [addressOf(file), file]));

const isFile = async ([, sha256], bytes) => {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return btoa(String.fromCharCode(...digest)) === sha256;
};

/** The file as built. The digest refuses a mix of two versions, met while a host is being updated. */
async function fetched(file, cache, patience) {
  const stop = new AbortController();
  let timer;
  const wait = () => {
    clearTimeout(timer);
    timer = setTimeout(() => stop.abort(), patience);
  };
  wait();
  try {
    const response = await fetch(addressOf(file), { cache, mode: 'same-origin', signal: stop.signal });
    // A redirected answer may not be given to a navigation.
    if (!response.ok || response.redirected) {
      throw new Error(`${file[0]}: ${response.status}${response.redirected ? ' redirected' : ''}`);
    }
    const parts = [];
    const reader = response.body.getReader();
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      parts.push(value);
      wait();
    }
    const bytes = await new Response(new Blob(parts)).arrayBuffer();
    if (!(await isFile(file, bytes))) throw new Error(`${file[0]}: not as listed`);
    // The host's policies stay with the page. How it was packed is past; and of
    // the browser's own copies none may outlive what is mended here.
    const headers = new Headers(response.headers);
    for (const name of ['content-encoding', 'content-length', 'vary']) headers.delete(name);
    headers.set('cache-control', 'no-cache');
    return new Response(bytes, { headers });
  } finally {
    clearTimeout(timer);
  }
}

/**
 * What the page itself has just loaded need not come a second time. From the
 * host it comes past the browser's own store, which would only hold it twice.
 */
const download = (file) =>
  fetched(file, 'only-if-cached', AT_HAND_MS).catch(() => fetched(file, 'no-store', STALL_MS));

/** Stores these files; fails when any of them could not be had. */
async function store(files) {
  const cache = await caches.open(CACHE);
  const outcomes = await Promise.allSettled(
    files.map(async (file) => cache.put(addressOf(file), await download(file))),
  );
  const failed = outcomes.find(({ status }) => status === 'rejected');
  if (failed) throw failed.reason;
}

/**
 * What the device holds: how many files were `lost`, as to a browser short of
 * room, and how many `damaged`; and whether, with those fetched again, it is
 * `whole` now.
 */
async function complete() {
  let damaged = 0;
  const wanting = [];
  try {
    const cache = await caches.open(CACHE);
    await Promise.all(
      FILES.map(async (file) => {
        const kept = await cache.match(addressOf(file), { ignoreVary: true });
        const good = kept && (await kept.arrayBuffer().then((bytes) => isFile(file, bytes), () => false));
        if (good) return;
        wanting.push(file);
        if (kept) damaged += 1;
      }),
    );
    const lost = wanting.length - damaged;
    return await store(wanting).then(() => ({ whole: true, lost, damaged }), () => ({ whole: false, lost, damaged }));
  } catch {
    return { whole: false, lost: 0, damaged };
  }
}

/** The name of the cache that the version in use works from; nothing if it does not say. */
function cacheInUse(active) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    setTimeout(resolve, AT_HAND_MS);
    active.postMessage('cache?', [port2]);
  });
}

/** Removes versions of this page other than this one, and `kept`. */
async function removeOthers(kept) {
  const names = await caches.keys();
  await Promise.all(
    names
      .filter((name) => name.startsWith(PREFIX) && name !== CACHE && name !== kept)
      .map((name) => caches.delete(name)),
  );
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
      // Versions that waited and were never taken, this one replaces.
      const { active } = self.registration;
      const used = active && (await cacheInUse(active));
      if (used) await removeOthers(used);
    })(),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      // A store that fails here leaves something to remove later, no more.
      await removeOthers().catch(() => {});
      await self.clients.claim();
    })(),
  );
});

self.addEventListener('message', (event) => {
  const [port] = event.ports;
  // Only on the user's word: the open page was built with the old files.
  if (event.data === 'take over') self.skipWaiting();
  if (event.data === 'cache?') port.postMessage(CACHE);
  if (event.data === 'complete?') {
    port.postMessage('here');
    event.waitUntil(complete().then((answer) => port.postMessage(answer)));
  }
});

// Said where there is no page any more to say it.
const NOT_HERE =
  '<!doctype html><html lang="en"><meta charset="utf-8"><meta name="color-scheme" content="light dark">' +
  '<meta name="viewport" content="width=device-width, initial-scale=1"><title>Tyreside</title><main><h1>Tyreside</h1>' +
  '<p>Part of Tyreside is no longer on this device, or is damaged, and could not be fetched again: it needs a network once. What you entered is kept.</p>' +
  '<p>Where there is a network, <a href="./">load it again</a>.</p></main></html>';

// In the place of the page's own scripts: the first has the second say it.
const STAND_INS = {
  'boot.js': "addEventListener('DOMContentLoaded', () => import('./offline.js'));",
  'offline.js':
    "const text = document.createElement('p');" +
    "text.textContent = 'Part of Tyreside is missing or damaged on this device, and could not be fetched again: it needs a network once. What you entered is kept.';" +
    "document.getElementById('notice').replaceChildren(text);" +
    "document.documentElement.dataset.offline = 'no';",
};

function standIn(text, type, status) {
  return new Response(text, {
    status,
    headers: { 'Content-Type': `${type}; charset=utf-8`, 'Content-Security-Policy': "default-src 'none'" },
  });
}

async function answer(request, file) {
  let kept;
  try {
    const cache = await caches.open(CACHE);
    kept = await cache.match(addressOf(file), { ignoreVary: true });
    // Without the page and its own scripts nothing could mend the rest.
    if (kept && /^(?:\.\/|[^/]+\.js)$/.test(file[0]) && !(await isFile(file, await kept.clone().arrayBuffer()))) {
      kept = undefined;
    }
  } catch {
    // A browser whose store fails has the network left.
    kept = undefined;
  }
  if (kept) return kept;
  try {
    return await fetch(request);
  } catch (error) {
    if (request.mode === 'navigate') return standIn(NOT_HERE, 'text/html', 503);
    const script = STAND_INS[file[0]];
    if (!script) throw error;
    return standIn(script, 'text/javascript', 200);
  }
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  // Without the query: `./?shared` is the same page.
  const asked = url.origin + url.pathname;
  const file = BY_ADDRESS.get(asked === `${SHELL}index.html` ? SHELL : asked);
  if (file) event.respondWith(answer(request, file));
});
