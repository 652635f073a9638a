// Hosts that hang, workers that come cut off, stores that fail or wear: nothing
// of it may cost the page, and nothing is said that is not so.

import assert from 'node:assert/strict';
import { createHash, webcrypto } from 'node:crypto';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { test } from 'node:test';
import vm from 'node:vm';
import { sizes } from '../../site.mjs';
import { DIST, host, look, phone, secondBuild } from './harness.mjs';
import { go } from './words.mjs';

const FOLDER = readdirSync(DIST).find((name) => /^[0-9a-f]{16}$/.test(name));

/** A build whose limits are short enough to wait for, changed further by `change(dir)`. */
const hasty = (t, limits = {}, change = () => {}) =>
  secondBuild(t, (dir) => {
    const all = { ANSWER_MS: 1500, RETRY_MS: 1000, WORKER_MS: 1500, TAKE_OVER_MS: 1500, STALL_MS: 1500, ...limits };
    for (const name of ['offline.js', 'sw.js']) {
      let text = readFileSync(join(dir, name), 'utf8');
      for (const [limit, ms] of Object.entries(all)) text = text.replace(new RegExp(`^const ${limit} = \\d+;`, 'm'), `const ${limit} = ${ms};`);
      writeFileSync(join(dir, name), text);
    }
    change(dir);
  });

/** Changes a text of a build. */
const edit = (name, from, to) => (dir) => {
  const file = join(dir, name);
  const text = readFileSync(file, 'utf8');
  assert.ok(text.includes(from), from);
  writeFileSync(file, text.replace(from, () => to));
};

const release = (word) => edit('index.html', 'Starting…', word);
const both = (...changes) => (dir) => changes.forEach((change) => change(dir));

/** Answers for the worker in the host's place, as long as `when(request)` says so. */
const insteadOfWorker = (when, status, text = '') => (request, response) => {
  if (!request.url.endsWith('/sw.js') || !when(request)) return false;
  response.writeHead(status, { 'Content-Type': 'text/javascript' }).end(text);
  return true;
};

const notice = (page) => page.locator('#notice');
const button = (page, name) => notice(page).getByRole('button', { name });
const state = (page, is) => page.locator(`html[data-offline=${is}]`).waitFor({ state: 'attached' });
const running = (page) => page.locator('#start').waitFor({ state: 'detached' });

async function stored(page) {
  await state(page, 'ready');
  await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
}

/** The browser's own words on files that do not come, or not as they should. */
const ANY = /^page error: |ERR_|Failed to (?:fetch|load|find)|integrity|preload|404|503|WebAssembly|expected magic|CompileError|SyntaxError|Unexpected|Invalid|unknown error|ServiceWorker|module script|stylesheet|MIME/;

/** What registers the worker, outside a page. */
function outside() {
  const document = { getElementById: () => null, querySelector: () => null, documentElement: { dataset: {} } };
  const page = vm.createContext({ document, navigator: {}, addEventListener() {}, crypto: webcrypto, TextEncoder, btoa, Uint8Array });
  vm.runInContext(readFileSync(join(DIST, 'offline.js'), 'utf8'), page);
  return page;
}

// An empty worker, or one of 490 of its 4,749 beginnings, was a script; it came
// into use, and the page said that it worked offline.
test('no beginning of the worker is a script, and none is taken for whole', async () => {
  const text = readFileSync(join(DIST, 'sw.js'), 'utf8');
  const page = outside();
  const end = text.lastIndexOf('}\n//') + 1;
  let scripts = 0;
  for (let length = 0; length < text.length; length += 1) {
    const beginning = text.slice(0, length);
    let parses = true;
    try {
      new vm.Script(beginning);
    } catch {
      parses = false;
    }
    // Past the block only the digest is cut: all that it does is there.
    if (length < end) {
      assert.equal(parses, length === 0, `${length} of ${text.length}`);
      scripts += parses;
    }
    assert.equal(await page.isWhole(beginning), false, `${length} of ${text.length}`);
  }
  let changes = 0;
  for (let at = 0; at < text.length; at += 1) {
    const other = text[at] === 'x' ? 'y' : 'x';
    assert.equal(await page.isWhole(text.slice(0, at) + other + text.slice(at + 1)), false, `changed at ${at}`);
    changes += 1;
  }
  assert.equal(await page.isWhole(text), true);
  console.log(`${text.length} beginnings: ${scripts} run as a script without the worker (the empty one), 0 taken for whole; ${changes} changed characters: 0 taken for whole`);
  assert.equal(scripts, 1);
});

// A digest may hold what stands before it: one release in forty was never
// taken for whole, and so never stored.
test('a worker is taken for whole whatever its digest', async () => {
  const page = outside();
  const seen = { '/…': 0, '…//…': 0, other: 0 };
  for (let number = 0; number < 20_000; number += 1) {
    const block = `{\n// ${number}\n}\n`;
    const digest = createHash('sha256').update(block).digest('base64');
    const kind = digest.startsWith('/') ? '/…' : digest.includes('//') ? '…//…' : 'other';
    seen[kind] += 1;
    if (kind === 'other' && number % 100) continue;
    assert.equal(await page.isWhole(`${block}//${digest}\n`), true, digest);
    assert.equal(await page.isWhole(`${block}//${digest.slice(1)}\n`), false, digest);
  }
  console.log('digests seen:', JSON.stringify(seen));
  assert.ok(seen['/…'] > 100 && seen['…//…'] > 100);
});

for (const share of [0, 0.1, 30, 90, 99.999]) {
  test(`a worker of which ${share} % came is never believed, and comes whole later`, async (t) => {
    let cut = true;
    const dir = hasty(t);
    const text = readFileSync(join(dir, 'sw.js'), 'utf8');
    const begun = text.slice(0, Math.floor((share / 100) * text.length));
    const site = await host(t, { dir, before: insteadOfWorker(() => cut, 200, begun) });
    const { page, allow } = await phone(t, { workers: 'allow', site });
    allow(ANY);
    await notice(page).getByText('Not stored whole').waitFor();
    await state(page, 'no');
    assert.equal(await page.evaluate(() => navigator.serviceWorker.getRegistration().then(Boolean)), false);
    cut = false;
    await notice(page).getByText('now works offline').waitFor();
    await site.stop();
    await page.reload();
    await running(page);
  });
}

// What the page checks the browser fetches once more, and may get otherwise.
test('an empty worker that came into use is found out, and replaced', async (t) => {
  let cut = true;
  const ofBrowser = (request) => cut && request.headers['service-worker'] === 'script';
  const site = await host(t, { dir: hasty(t), before: insteadOfWorker(ofBrowser, 200) });
  const { page, allow } = await phone(t, { workers: 'allow', site });
  allow(ANY);
  await notice(page).getByText('Not stored whole').waitFor();
  await state(page, 'no');
  // On loading again the page is the empty worker's, which says nothing either.
  await page.reload();
  await running(page);
  await notice(page).getByText('Not stored whole').waitFor();
  cut = false;
  await notice(page).getByText('now works offline').waitFor();
  await stored(page);
  await site.stop();
  await page.reload();
  await running(page);
});

test('an empty new version is not offered, and the next whole one is', async (t) => {
  let cut = false;
  const site = await host(t, { dir: hasty(t), before: insteadOfWorker(() => cut, 200) });
  const { page, allow } = await phone(t, { workers: 'allow', site });
  allow(ANY);
  await stored(page);
  cut = true;
  await page.reload();
  await notice(page).getByText('has not come whole').waitFor();
  await look(page, 'notice-broken');
  assert.equal(await button(page, 'Use it now').count(), 0);
  await button(page, 'OK').tap();
  cut = false;
  await site.restart(hasty(t, {}, release('Beginning…')));
  await button(page, 'Use it now').waitFor();
  await button(page, 'Use it now').tap();
  await page.waitForFunction(() => !document.querySelector('#notice p'));
  await stored(page);
});

// It stood at 'Changing to the new version…' for ever.
test('a new version that does not take over has a way out', async (t) => {
  const site = await host(t, { dir: hasty(t) });
  const { page, allow } = await phone(t, { workers: 'allow', site });
  await stored(page);
  await site.restart(hasty(t, {}, both(release('Beginning…'), edit('sw.js', 'self.skipWaiting()', 'Date.now()'))));
  await page.reload();
  await button(page, 'Use it now').tap();
  await notice(page).getByText('has not taken over').waitFor();
  await look(page, 'notice-stuck');
  await button(page, 'Load again').tap();
  await running(page);
  await stored(page);
});

// A hung answer kept 'storing' for 300 s, and each load meanwhile took 20 s.
test('a hung download is given up, said, and tried again', async (t) => {
  let hung = 0;
  let hanging = true;
  const dir = hasty(t, { STALL_MS: 12_000 });
  const site = await host(t, {
    dir,
    before: (request, response) => {
      // The worker's requests alone; the page asks otherwise.
      if (!hanging || request.headers['sec-fetch-mode'] !== 'same-origin' || !/split_rest\.wasm|icon-192/.test(request.url)) return false;
      hung += 1;
      // One says nothing; the other stops half-way.
      if (hung % 2) response.writeHead(200, { 'Content-Type': 'application/wasm', 'Content-Length': 100 }).write('half');
      return true;
    },
  });
  const { page, allow } = await phone(t, { workers: 'allow', site });
  allow(ANY);
  while (!hung) await page.waitForTimeout(50);
  const began = Date.now();
  await page.reload();
  await page.locator('.axle .number').first().waitFor();
  const took = Date.now() - began;
  await go(page, 'Rig');
  await page.locator('main fieldset').first().waitFor();
  const opened = Date.now() - began - took;
  assert.ok(took + opened < 8000, `${took} ms to load, ${opened} ms to open the view whose file hung`);
  await notice(page).getByText('Not stored whole').waitFor({ timeout: 20_000 });
  const said = Date.now() - began;
  hanging = false;
  await notice(page).getByText('now works offline').waitFor({ timeout: 20_000 });
  console.log(`while a download hung: loaded in ${took} ms, its view in ${opened} ms; said after ${said} ms; ${hung} answers hung`);
});

test('a hung worker is given up, said, and tried again', async (t) => {
  let hanging = true;
  const site = await host(t, { dir: hasty(t), before: (request) => hanging && request.url.endsWith('/sw.js') });
  const { page, allow } = await phone(t, { workers: 'allow', site });
  allow(ANY);
  await notice(page).getByText('Not stored whole').waitFor();
  hanging = false;
  await notice(page).getByText('now works offline').waitFor({ timeout: 20_000 });
});

test('a worker that is not there is said as a missing file is', async (t) => {
  let missing = true;
  const site = await host(t, { dir: hasty(t), before: insteadOfWorker(() => missing, 404) });
  const { page, allow } = await phone(t, { workers: 'allow', site });
  allow(ANY);
  await notice(page).getByText('Not stored whole').waitFor();
  missing = false;
  await notice(page).getByText('now works offline').waitFor();
});

// It ended the page, also with a network.
test('a store that fails leaves the network', async (t) => {
  const failing = edit('sw.js', 'const isFile', "self.addEventListener('message', ({ data }) => {\nif (data === 'fail') CacheStorage.prototype.open = () => Promise.reject(new Error('worn'));\n});\nconst isFile");
  const site = await host(t, { dir: hasty(t, {}, failing) });
  const { page, allow } = await phone(t, { workers: 'allow', site });
  allow(ANY);
  await stored(page);
  await page.evaluate(() => navigator.serviceWorker.controller.postMessage('fail'));
  await page.reload();
  await running(page);
  await notice(page).getByText('Not stored whole').waitFor();
});

/** Changes one byte in the middle of a file on the device, or drops it (`byte` null). */
const wear = (page, path, damage) =>
  page.evaluate(
    async ([address, damaged]) => {
      const [name] = await caches.keys();
      const cache = await caches.open(name);
      const url = new URL(address, location.href).href.replace(/[?#].*/, '');
      if (!damaged) return cache.delete(url);
      const kept = await cache.match(url);
      const bytes = new Uint8Array(await kept.arrayBuffer());
      bytes[bytes.length >> 1] ^= 0x55;
      await cache.put(url, new Response(bytes, { headers: kept.headers }));
      return true;
    },
    [path, damage],
  );

const FILES = ['./', 'boot.js', 'offline.js', ...['tyreside.js', 'tyreside_bg.wasm', '__wasm_split.js', 'part.css', 'split_rest.wasm'].map((name) => `${FOLDER}/${name}`)];

/** Whether every file on the device is as the worker lists it. */
const whole = (page, files) =>
  page.evaluate(async (list) => {
    const [name] = await caches.keys();
    const cache = await caches.open(name);
    for (const [path, sha256] of list) {
      const bytes = await (await cache.match(new URL(path, location.href)))?.arrayBuffer();
      if (!bytes) return `${path} is missing`;
      const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
      if (btoa(String.fromCharCode(...digest)) !== sha256) return `${path} is damaged`;
    }
    return 'whole';
  }, files);
const listed = (dir) => JSON.parse(readFileSync(join(dir, 'sw.js'), 'utf8').match(/^const FILES = (.*);$/m)[1]);

// Damaged bytes never healed, and the likely way out, clearing the site's data,
// took the rigs along.
for (const damage of [true, false]) {
  test(`every file that is ${damage ? 'damaged' : 'lost'} on the device is fetched again`, async (t) => {
    const { page, allow } = await phone(t, { workers: 'allow', site: await host(t, { dir: hasty(t) }) });
    allow(ANY);
    await stored(page);
    let offered = 0;
    for (const path of FILES) {
      assert.ok(await wear(page, path, damage), path);
      await page.reload();
      await page.waitForFunction(() => ['ready', 'no'].includes(document.documentElement.dataset.offline));
      await state(page, 'ready');
      assert.equal(await whole(page, listed(DIST).filter(([name]) => name !== 'sw.js' && !/^(?:\.\/|offline\.js)$/.test(name))), 'whole', path);
      if (await button(page, 'Load again').count()) {
        offered += 1;
        assert.doesNotMatch(await page.locator('body').innerText(), /too old|clear/i, path);
        if (offered === 1) await look(page, 'notice-mended');
        await button(page, 'Load again').tap();
        await page.waitForFunction(() => !document.querySelector('#notice p'));
      }
      await running(page);
      await state(page, 'ready');
    }
    console.log(`${FILES.length} files ${damage ? 'damaged' : 'lost'}, all whole again; ${offered} times loading again was offered`);
    assert.equal(offered, damage ? FILES.length : 0);
  });

  test(`a file that is ${damage ? 'damaged' : 'lost'} without a network gets the truth`, async (t) => {
    const site = await host(t, { dir: hasty(t) });
    const { page, allow } = await phone(t, { workers: 'allow', site });
    allow(ANY);
    await stored(page);
    const devtools = await page.context().newCDPSession(page);
    const started = [];
    for (const path of FILES) {
      assert.ok(await wear(page, path, damage), path);
      await site.stop();
      // What the browser itself still has would do as well.
      await devtools.send('Network.clearBrowserCache');
      await page.reload();
      const said = page.getByText(/(?:no longer|missing or damaged|could not be fetched|Not stored whole)/).first();
      await said.waitFor();
      const text = await page.locator('body').innerText();
      assert.doesNotMatch(text, /too old|clear/i, path);
      if (!(await page.locator('#start-state').count()) && path !== './') started.push(basename(path));
      if (path === './') {
        await page.getByRole('heading', { name: 'Tyreside' }).waitFor();
        await look(page, `no-longer-here-${damage ? 'damaged' : 'lost'}`);
      }
      await site.restart();
      await page.reload();
      await state(page, 'ready');
      await page.reload();
      await running(page);
      await state(page, 'ready');
    }
    console.log(`${FILES.length} files ${damage ? 'damaged' : 'lost'} without a network: said each time; the page ran without ${started.join(', ')}`);
  });
}

// Nothing was said: the drawings stayed empty, or the page was never kept.
test('a script of the page that is lost, empty or cut off at the host is said', async (t) => {
  for (const [name, says] of [
    ['boot.js', 'the page may not work whole'],
    ['offline.js', 'may not start without a network'],
  ]) {
    const text = readFileSync(join(DIST, name), 'utf8');
    for (const kept of [null, 0, text.length >> 1, text.length - 4]) {
      const before = (request, response) => {
        if (!request.url.endsWith(`/${name}`)) return false;
        response.writeHead(kept === null ? 404 : 200, { 'Content-Type': 'text/javascript' }).end(text.slice(0, kept ?? 0));
        return true;
      };
      const { page, allow, look, context } = await phone(t, { workers: 'allow', site: await host(t, { before }) });
      allow(ANY);
      await page.locator('.axle .number').first().waitFor();
      await notice(page).getByText(says).waitFor();
      if (kept === 0) await look(`lost-${name}`);
      await context.close();
    }
  }
});

test('versions that were put off leave one older version on the device, no more', async (t) => {
  const site = await host(t, { dir: hasty(t) });
  const { page } = await phone(t, { workers: 'allow', site });
  await stored(page);
  const names = () => page.evaluate(() => caches.keys());
  const [first] = await names();
  const counts = [];
  for (const word of ['One…', 'Two…', 'Three…', 'Four…']) {
    await site.restart(hasty(t, {}, release(word)));
    await page.reload();
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    await button(page, 'Use it now').waitFor();
    await page.waitForFunction(() => navigator.serviceWorker.ready.then(({ installing, waiting }) => !installing && waiting));
    await button(page, 'Later').tap();
    const now = await names();
    assert.ok(now.includes(first), 'the one in use stays');
    counts.push(now.length);
  }
  assert.deepEqual(counts, [2, 2, 2, 2]);
});

// 427 kB came over the line for a page of 210.
test('a first visit fetches no file twice', async (t) => {
  const sent = new Map();
  const site = await host(t, {
    before: (request, response) => {
      const path = new URL(request.url, 'http://localhost').pathname.slice(1) || './';
      const { end } = response;
      response.end = (bytes) => {
        sent.set(path, [...(sent.get(path) ?? []), bytes?.length ?? 0]);
        return end.call(response, bytes);
      };
      return false;
    },
  });
  const { page } = await phone(t, { workers: 'allow', site });
  await stored(page);
  const total = (only) => [...sent.values()].reduce((sum, sizes) => sum + (only ? Math.max(...sizes) : sizes.reduce((a, b) => a + b)), 0);
  console.log(`a first visit: ${total(false)} bytes over the line, ${total(true)} of them for the first time (${sizes(DIST).reduce((sum, { packed }) => sum + packed, 0)} at the best packing)`);
  // The worker is checked before the browser takes it; so small that it may come twice.
  const twice = [...sent].filter(([path, sizes]) => sizes.filter(Boolean).length > 1 && !/^(?:sw\.js|favicon\.ico)$/.test(path));
  assert.deepEqual(twice, []);
});
