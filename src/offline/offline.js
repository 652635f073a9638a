// Registers the worker that keeps the page on the device, and tells the user
// what it did. The page works without it, only not offline.
//
// The state is on <html data-offline>: `no`, `storing` or `ready`.

const FIRST_NOTICE_MS = 6000;
const UPDATE_CHECK_MS = 60 * 60 * 1000;

const notice = document.getElementById('notice');

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

let taking = false;

/** Lets the waiting version take over; the page is loaded again when it has. */
function take(registration) {
  taking = true;
  if (registration.waiting) {
    show('update', 'Changing to the new version…', []);
    registration.waiting.postMessage('take over');
  } else {
    // Another tab was faster.
    location.reload();
  }
}

function offer(registration) {
  show('update', 'New version ready. Your entries are kept.', [
    ['Use it now', () => take(registration)],
    ['Later'],
  ]);
}

function announce(ready) {
  tell(ready ? 'ready' : 'no');
  if (ready) {
    show('ready', 'Stored on this device: Tyreside now works offline.', [['OK']]);
    setTimeout(() => {
      if (notice.dataset.kind === 'ready') clear();
    }, FIRST_NOTICE_MS);
  } else {
    show(
      'not-stored',
      'Not stored on this device, so Tyreside needs a network for now. It tries again when loaded again.',
      [['OK']],
    );
  }
}

let followed = null;

/** Follows a version being installed: the first one is announced, a later one offered. */
function follow(registration) {
  const worker = registration.installing;
  if (!worker || worker === followed) return;
  followed = worker;
  const first = !registration.active;
  worker.addEventListener('statechange', () => {
    if (first) {
      if (worker.state === 'activated') announce(true);
      else if (worker.state === 'redundant') announce(false);
    } else if (worker.state === 'installed') {
      offer(registration);
    }
  });
}

/** Asks the worker whether nothing is missing, and to fetch again what is. */
function complete(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = (event) => resolve(event.data);
    worker.postMessage('complete?', [port2]);
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

async function start() {
  const worker = navigator.serviceWorker;
  let reloaded = false;
  const controlled = Boolean(worker.controller);
  worker.addEventListener('controllerchange', () => {
    if (taking) {
      if (!reloaded) {
        reloaded = true;
        location.reload();
      }
    } else if (controlled) {
      // Taken in another tab; this one may hold a half-typed figure.
      show('replaced', 'A new version was put in place from another tab.', [
        ['Load again', () => location.reload()],
        ['Later'],
      ]);
    }
  });

  tell('storing');
  // The worker fetches the whole page, and the first figures need the line
  // first. A page that is stored has them, and a way out should they fail.
  if (!controlled) await shown();
  const registration = await worker.register('./sw.js', { updateViaCache: 'none' });
  registration.addEventListener('updatefound', () => follow(registration));
  follow(registration);
  if (registration.active) {
    if (registration.waiting) offer(registration);
    tell((await complete(registration.active)) ? 'ready' : 'no');
  }

  let checked = Date.now();
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible' && Date.now() - checked >= UPDATE_CHECK_MS) {
      checked = Date.now();
      // Offline this fails, and the next visit tries again.
      registration.update().catch(() => {});
    }
  });
}

// A development build has no list of files, and no mark in its HTML.
const built = document.querySelector('meta[name="build"]');
if (built && 'serviceWorker' in navigator) {
  start().catch((error) => {
    tell('no');
    console.info(`Not available offline: ${error.message}`);
  });
} else {
  tell('no');
}
