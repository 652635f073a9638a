// Registers the worker that keeps the page on the device, and tells the user
// what it did. The page works without it, only not offline.
//
// The state is on <html data-offline>: `no`, `storing` or `ready`.

const FIRST_NOTICE_MS = 6000;
const UPDATE_CHECK_MS = 60 * 60 * 1000;
/** The worker's text, or the browser's word of it, takes no longer. */
const WORKER_MS = 30000;
/** A worker that says nothing for so long holds nothing. */
const ANSWER_MS = 10000;
/** What it fetches again comes by then, or later. */
const MEND_MS = 120000;
const TAKE_OVER_MS = 10000;
/** The first wait before another try; each later one is twice as long. */
const RETRY_MS = 30000;

const notice = document.getElementById('notice');
const WORKER = './sw.js';

function tell(state) {
  document.documentElement.dataset.offline = state;
}

function clear() {
  notice.replaceChildren();
  delete notice.dataset.kind;
}

/** Shows one notice. Buttons are `[label, action]`; each also closes the notice. */
function show(kind, text, buttons) {
  // Nothing is worth hiding that the page has stopped.
  if (notice.dataset.kind === 'stopped') return;
  const paragraph = document.createElement('p');
  paragraph.textContent = text;
  const controls = buttons.map(([label, action]) => {
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = label;
    button.addEventListener('click', () => {
      clear();
      action?.();
    });
    return button;
  });
  notice.dataset.kind = kind;
  notice.replaceChildren(paragraph, ...controls);
}

const LOAD_AGAIN = ['Load again', () => location.reload()];

let taking = false;

/** Lets the waiting version take over; the page is loaded again when it has. */
function take(registration) {
  const { waiting } = registration;
  if (!waiting) {
    // Another tab was faster.
    location.reload();
    return;
  }
  taking = true;
  show('update', 'Changing to the new version…', []);
  waiting.postMessage('take over');
  setTimeout(() => {
    taking = false;
    show('stuck', 'The new version has not taken over. The one in use goes on working.', [LOAD_AGAIN, ['Later']]);
  }, TAKE_OVER_MS);
}

function offer(registration) {
  show('update', 'New version ready. Your entries are kept.', [
    ['Use it now', () => take(registration)],
    ['Later'],
  ]);
}

/** Said once a load: a page that tries again in the background says no more until it succeeds. */
let missed = false;

function announce(ready) {
  tell(ready ? 'ready' : 'no');
  if (ready) {
    missed = false;
    show('ready', 'Stored on this device: Tyreside now works offline.', [['OK']]);
    setTimeout(() => {
      if (notice.dataset.kind === 'ready') clear();
    }, FIRST_NOTICE_MS);
  } else if (!missed) {
    missed = true;
    show(
      'not-stored',
      'Not stored whole on this device, so Tyreside needs a network for now. It keeps trying while it is open.',
      [['OK']],
    );
  }
}

let tries = 0;
let timer;

/** Tries again after a while, or as soon as there is a network again. */
function later() {
  clearTimeout(timer);
  timer = setTimeout(keep, RETRY_MS * 2 ** Math.min(tries, 6));
  tries += 1;
}
addEventListener('online', () => {
  if (document.documentElement.dataset.offline === 'no' && timer) keep();
});

/**
 * Asks a worker what it holds; it fetches again what is wanting. An empty or
 * cut-off worker runs too, but gives no answer.
 */
function ask(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    const give = (answer) => {
      clearTimeout(patience);
      port1.close();
      resolve(answer);
    };
    let patience = setTimeout(give, ANSWER_MS, { whole: false, dumb: true });
    port1.onmessage = ({ data }) => {
      if (data === 'here') {
        clearTimeout(patience);
        patience = setTimeout(give, MEND_MS, { whole: false });
      } else {
        // Earlier workers said yes or no.
        give(typeof data === 'object' ? data : { whole: data });
      }
    };
    worker.postMessage('complete?', [port2]);
  });
}

/** Whether the worker in use never answers; then nobody is asked before a whole one replaces it. */
let dumb = false;
/** Whether all was stored before, so that this need not be said. */
let known = false;

/** Tells what the worker in use holds. */
async function settle(worker) {
  const answer = await ask(worker);
  // Replaced meanwhile.
  if (worker.state === 'redundant') return;
  const { whole, lost, damaged } = answer;
  dumb = Boolean(answer.dumb);
  if (whole) tries = 0;
  else later();
  const state = document.querySelector('#start-state[role="alert"]');
  if (damaged || (state && lost)) {
    tell(whole ? 'ready' : 'no');
    missed = !whole;
    const text = whole
      ? 'Part of Tyreside on this device was missing or damaged. It was fetched again and is used once the page is loaded again.'
      : 'Part of Tyreside on this device is missing or damaged, and could not be fetched again: it needs a network once. What you entered is kept.';
    if (state) state.textContent = text;
    show('mended', text, [LOAD_AGAIN, ['Later']]);
  } else if (whole && known && !missed) {
    tell('ready');
  } else {
    announce(whole);
  }
  known = true;
}

const told = new WeakSet();

/** Offers a version that waits, once it says that it is whole. */
async function arrived(registration, worker) {
  const answer = await ask(worker);
  if (registration.waiting !== worker) return;
  if (!answer.whole) {
    later();
    if (told.has(worker)) return;
    told.add(worker);
    show(
      'broken',
      'A new version has not come whole. Once this page is closed, Tyreside may need a network to start again.',
      [['OK']],
    );
  } else if (dumb) {
    worker.postMessage('take over');
  } else {
    offer(registration);
  }
}

const followed = new WeakSet();

/** Follows a version being installed: the first one is announced, a later one offered. */
function follow(registration) {
  const worker = registration.installing;
  if (!worker || followed.has(worker)) return;
  followed.add(worker);
  const first = !registration.active;
  worker.addEventListener('statechange', () => {
    if (worker.state === 'activated' && (first || dumb)) settle(worker);
    else if (worker.state === 'redundant' && first) {
      announce(false);
      later();
    } else if (worker.state === 'installed' && !first) arrived(registration, worker);
  });
}

/** Waits until the page shows its first figures. */
function shown() {
  return new Promise((resolve) => {
    // Two frames on, they are not only set but drawn.
    const drawn = () => requestAnimationFrame(() => requestAnimationFrame(resolve));
    if (!document.getElementById('start')) drawn();
    else addEventListener('TrunkApplicationStarted', drawn, { once: true });
  });
}

function within(limit, promise) {
  return Promise.race([
    promise,
    new Promise((_, failed) => setTimeout(failed, limit, new Error('no answer'))),
  ]);
}

/** Whether a worker's text is all there: it ends with the digest of the rest (site.mjs). */
async function isWhole(text) {
  const [, body, sum] = /^([^]*\n)\/\/(\S+)\n$/.exec(text) ?? [];
  if (!body) return false;
  const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(body));
  return btoa(String.fromCharCode(...new Uint8Array(digest))) === sum;
}

/** Fails where the host has no worker, or only the beginning of one. */
async function check() {
  const stop = new AbortController();
  const limit = setTimeout(() => stop.abort(), WORKER_MS);
  try {
    const response = await fetch(WORKER, { cache: 'no-store', signal: stop.signal });
    if (!response.ok) throw new Error(`the worker: ${response.status}`);
    if (!(await isWhole(await response.text()))) throw new Error('the worker has not come whole');
  } finally {
    clearTimeout(limit);
  }
}

/** Has the page kept, or what is kept completed. */
async function keep() {
  const { serviceWorker } = navigator;
  clearTimeout(timer);
  timer = undefined;
  try {
    if (!serviceWorker.controller) await check();
    const address = window.tyreside.createScriptURL(WORKER);
    const registration = await within(WORKER_MS, serviceWorker.register(address, { updateViaCache: 'none' }));
    // Set anew on another try, not added.
    registration.onupdatefound = () => follow(registration);
    follow(registration);
    const { active, waiting } = registration;
    if (!active) return;
    known = true;
    if (tries) registration.update().catch(() => {});
    await settle(active);
    if (waiting) await arrived(registration, waiting);
  } catch (error) {
    announce(false);
    console.info(`Not available offline: ${error.message}`);
    later();
  }
}

async function start() {
  const { serviceWorker } = navigator;
  let reloaded = false;
  const controlled = Boolean(serviceWorker.controller);
  serviceWorker.addEventListener('controllerchange', () => {
    if (taking) {
      if (!reloaded) {
        reloaded = true;
        location.reload();
      }
    } else if (controlled && !dumb) {
      // Taken in another tab; this one may hold a half-typed figure.
      show('replaced', 'A new version was put in place from another tab.', [LOAD_AGAIN, ['Later']]);
    }
  });

  tell('storing');
  // The worker fetches the whole page, and the first figures need the line
  // first. A page that is stored has them, and a way out should they fail.
  if (!controlled) await shown();
  let checked = Date.now();
  document.addEventListener('visibilitychange', async () => {
    if (document.visibilityState === 'visible' && Date.now() - checked >= UPDATE_CHECK_MS) {
      checked = Date.now();
      const registration = await serviceWorker.getRegistration();
      // Offline this fails, and the next visit tries again.
      registration?.update().catch(() => {});
    }
  });
  await keep();
}

// A development build has no list of files, and no mark in its HTML.
const built = document.querySelector('meta[name="build"]');
if (built && 'serviceWorker' in navigator) {
  start();
} else {
  tell('no');
}
