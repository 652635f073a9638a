// The journeys that matter most, in another engine: Firefox as the system
// packages it, driven by WebDriver BiDi (a W3C draft), which the other journeys'
// driver speaks only to browsers of its own. `make test-firefox` builds what they
// need.
//
// Not tried here: touch (the pointer is a mouse), light and dark, axe, downloads
// and files, installing, a screen kept on, two tabs. Chromium's journeys have them.

import assert from 'node:assert/strict';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';
import puppeteer from 'puppeteer-core';
import { host, secondBuild, smallTargets, TARGET_PX } from '../e2e/harness.mjs';

const SHOTS = fileURLToPath(new URL('../e2e/shots', import.meta.url));
const VIEWS = ['#/pressures', '#/nuts', '#/checks', '#/weights', '#/rig', '#/pressures/walk', '#/pressures/footprint', '#/convert', '#/rig/tools'];
const PATIENCE_MS = 20_000;

const launch = (prefs) =>
  puppeteer.launch({
    browser: 'firefox',
    executablePath: process.env.FIREFOX ?? '/usr/bin/firefox-esr',
    // A phone's scrollbars take no room.
    extraPrefsFirefox: { 'ui.useOverlayScrollbars': 1, ...prefs },
  });
let browser;
after(async () => (await browser)?.close());

/** A fresh visitor; with `prefs` of the browser, in one of their own. */
async function visitor(t, { site, path = '', prefs, started = true, workers = 'block' } = {}) {
  const at = site ?? (await host(t));
  const own = prefs && (await launch(prefs));
  const within = own ?? (await (browser ??= launch()));
  const context = await within.createBrowserContext();
  at.visitors.push({ close: async () => (await context.close(), own?.close()) });

  const problems = [];
  const expected = [];
  const origin = new URL(at.url).origin;
  async function open(address) {
    const page = await context.newPage();
    page.setDefaultTimeout(PATIENCE_MS);
    page.on('console', (message) => {
      if (['error', 'warn'].includes(message.type())) problems.push(`${message.type()}: ${message.text()}`);
    });
    page.on('pageerror', (error) => problems.push(`page error: ${error}`));
    page.on('request', (request) => {
      const url = new URL(request.url());
      if (url.origin !== origin && !['data:', 'blob:'].includes(url.protocol)) problems.push(`foreign request: ${url}`);
    });
    await page.evaluateOnNewDocument(() => {
      document.addEventListener('securitypolicyviolation', ({ effectiveDirective, sourceFile }) => {
        // What the driver runs is no script of the page.
        if (sourceFile) console.error(`policy violation: ${effectiveDirective} in ${sourceFile}`);
      });
    });
    // Without a word of it: that a worker can't be had is a notice on the page.
    if (workers === 'block') await page.evaluateOnNewDocument(() => delete Navigator.prototype.serviceWorker);
    await page.setViewport({ width: 360, height: 740 });
    await page.goto(new URL(address, at.url).href);
    if (started) await page.waitForSelector('.axle .number, main h2');
    return page;
  }
  const page = await open(path);
  t.after(() => {
    const unexpected = problems.filter((problem) => !expected.some((pattern) => pattern.test(problem)));
    assert.deepEqual(unexpected, [], 'problems on the page');
  });
  return { page, site: at, another: open, allow: (pattern) => expected.push(pattern) };
}

const named = (name) => `::-p-xpath(//*[self::button or self::a or self::summary][normalize-space()="${name}"])`;
const press = (page, name) => page.locator(named(name)).click();
/** Waits for words of the page, and gives all of the element that has them. */
const said = async (page, words) => (await page.waitForSelector(`::-p-text(${words})`)).evaluate((element) => element.innerText);
const numbers = (page) => page.$$eval('.axle .number', (all) => all.map((number) => number.innerText));
const pick = (page, label) => page.locator(`::-p-xpath(//label[normalize-space()="${label}"])`).click();
const go = (page, address) => page.locator(`nav.views a[href="${address}"]`).click();
const heading = (page) => page.$eval('#walk-heading', (element) => element.innerText);

/** A text as typed, in place of what stood there. */
async function type(page, selector, text) {
  await page.locator(selector).click();
  await page.$eval(selector, (field) => field.select());
  await page.keyboard.type(text);
}

async function stored(page) {
  await page.waitForSelector('html[data-offline=ready]');
  await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
}

/** What the rig entered below asks for on sealed road in psi, without its placard. */
const LEAST = ['35', '37', '35'];

async function enterRig(page) {
  await press(page, 'Enter my rig');
  await press(page, 'With a trailer, 2 axles');
  for (const [index, tyre, mass] of [
    [0, 'LT265/75R16 123/120Q E', '1270'],
    [1, 'LT265/75R16 123/120Q E', '1640'],
    [2, 'LT235/85R16 120/116Q E', '2,6 t'],
  ]) {
    await type(page, `#axle-${index}-tyre`, tyre);
    await type(page, `#axle-${index}-weighed`, mass);
  }
}

test('Firefox: the first figures, each view at the width of a phone, nothing else loaded', async (t) => {
  const { page } = await visitor(t);
  t.diagnostic(await page.evaluate(() => navigator.userAgent));
  // Those that the same build shows in the other engine (pressures.test.mjs).
  assert.deepEqual(await numbers(page), ['36', '50', '50']);
  mkdirSync(SHOTS, { recursive: true });
  for (const address of VIEWS) {
    await page.evaluate((to) => (location.hash = to), address);
    await page.waitForFunction(() => document.querySelector('main')?.innerText.length > 40 && !document.querySelector('main .said[role=status]'));
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(width <= 360, `${address} is ${width} px wide`);
    assert.deepEqual(await page.evaluate(smallTargets, TARGET_PX), [], `controls of ${address}`);
    writeFileSync(join(SHOTS, `firefox-${address.replace(/\W+/g, '-').slice(1)}.png`), await page.screenshot());
  }
});

test('Firefox: a rig of one’s own is entered, figured and kept', async (t) => {
  const { page } = await visitor(t);
  await enterRig(page);
  await go(page, '#/pressures');
  await page.waitForFunction(() => document.querySelectorAll('.axle .number').length === 3);
  const sealed = await numbers(page);
  assert.deepEqual(sealed, LEAST);
  await pick(page, 'Dirt');
  await page.waitForFunction((before) => document.querySelector('.axle .number').innerText !== before, {}, sealed[0]);
  const dirt = await numbers(page);
  await page.locator('.unit-key').click();
  await page.waitForFunction(() => document.querySelector('.unit-key').innerText === 'kPa');
  for (const [index, kpa] of (await numbers(page)).entries()) {
    const psi = Number(kpa) / 6.894757;
    assert.ok(psi >= Number(dirt[index]) - 1 && psi < Number(dirt[index]) + 1, `${kpa} kPa, ${dirt[index]} psi`);
  }
  const metric = await numbers(page);
  await page.reload();
  await page.waitForSelector('.axle .number');
  assert.deepEqual(await numbers(page), metric);
  await go(page, '#/rig');
  assert.equal(await page.waitForSelector('#axle-2-weighed').then((field) => field.evaluate(({ value }) => value)), '2600');
});

test('Firefox: a walk keeps its place, and ends as what the rig is set to', async (t) => {
  const { page } = await visitor(t);
  await pick(page, 'Dirt');
  await press(page, 'Let down for dirt');
  await press(page, 'Cold: start');
  await page.waitForSelector('.in-hand');
  assert.equal(await heading(page), 'Front, left');
  await press(page, 'Tyre done');
  await page.waitForFunction(() => document.querySelector('#walk-heading')?.innerText === 'Rear, left');
  await page.reload();
  await page.waitForSelector('.in-hand');
  assert.equal(await heading(page), 'Rear, left');
  for (let tyre = 1; tyre < 8; tyre += 1) {
    const before = await heading(page);
    await press(page, 'Tyre done');
    await page.waitForFunction((was) => document.querySelector('#walk-heading')?.innerText !== was, {}, before);
  }
  await said(page, 'Set for dirt');
  await press(page, 'Back to the pressures');
  await said(page, 'Set for dirt since');
});

test('Firefox: works after the first visit with the server gone', async (t) => {
  const { page, site, another, allow } = await visitor(t, { workers: 'allow' });
  await stored(page);
  await said(page, 'now works offline');
  await site.stop();
  allow(/NetworkError|Failed to fetch|ServiceWorker/i);
  await page.reload();
  await page.waitForSelector('.axle .number');
  assert.deepEqual(await numbers(page), ['36', '50', '50']);
  for (const address of VIEWS.slice(1)) {
    await page.evaluate((to) => (location.hash = to), address);
    await page.waitForFunction(() => document.querySelector('main')?.innerText.length > 40 && !document.querySelector('main .said[role=status]'));
    assert.equal(await page.$('main [role=alert]'), null, address);
  }
  for (const path of ['?from=home-screen', 'index.html', '?a=1#/nuts']) {
    const tab = await another(path);
    await tab.waitForSelector('h1');
    await tab.close();
  }
});

test('Firefox: a new version is offered, waits, and is taken with one reload', async (t) => {
  const { page, site } = await visitor(t, { workers: 'allow' });
  await stored(page);
  const build = () => page.$eval('meta[name=build]', (mark) => mark.content);
  const first = await build();
  await site.restart(
    secondBuild(t, (dir) => {
      const file = join(dir, 'index.html');
      writeFileSync(file, readFileSync(file, 'utf8').replace('Starting…', 'Beginning…'));
    }),
  );
  await page.reload();
  await said(page, 'New version ready');
  assert.equal(await build(), first, 'it waits');
  await press(page, 'Use it now');
  await page.waitForFunction(
    (old) => {
      const mark = document.querySelector('meta[name=build]');
      return mark && mark.content !== old && document.querySelector('.axle .number');
    },
    {},
    first,
  );
  assert.equal((await page.evaluate(() => caches.keys())).length, 1, 'the old version is removed');
});

test('Firefox: full storage is said, the change waits, and is kept when there is room', async (t) => {
  const { page } = await visitor(t);
  await enterRig(page);
  await page.evaluate(() => {
    for (let size = 1 << 20; size > 0; size >>= 1) {
      for (let count = 0; ; count += 1) {
        const key = `o${size.toString(36)}${count}`;
        try {
          localStorage.setItem(key, 'x'.repeat(size));
        } catch {
          localStorage.removeItem(key);
          break;
        }
      }
    }
  });
  await type(page, '#axle-0-weighed', '1333.2500000000');
  await said(page, 'There is no room left');
  await page.waitForSelector('.unkept');
  await page.evaluate(() => {
    for (const key of Object.keys(localStorage)) if (/^o/.test(key)) localStorage.removeItem(key);
  });
  await page.waitForSelector('.unkept', { hidden: true });
  assert.ok(await page.evaluate(() => Object.values(localStorage).some((text) => text.includes('1333.25'))));
});

for (const [how, prefs] of [
  ['blocked', { 'network.cookie.cookieBehavior': 2 }],
  ['switched off', { 'dom.storage.enabled': false }],
]) {
  test(`Firefox: storage ${how} is said, and the page works`, async (t) => {
    const { page } = await visitor(t, { prefs });
    await said(page, 'This browser keeps nothing for this page.');
    await press(page, 'I understand');
    await enterRig(page);
    await go(page, '#/pressures');
    await page.waitForFunction(() => document.querySelectorAll('.axle .number').length === 3);
    assert.deepEqual(await numbers(page), LEAST);
  });
}

for (const [what, path] of [
  ['program', /\.wasm$/],
  ['glue', /tyreside\.js$/],
]) {
  test(`Firefox: says so when its ${what} cannot be fetched`, async (t) => {
    const before = (request, response) => path.test(request.url) && (response.destroy(), true);
    const { page, allow } = await visitor(t, { site: await host(t, { before }), started: false });
    allow(/NetworkError|fetch|load|import|Network|integrity/i);
    assert.match(await said(page, 'could not start'), /could not be fetched/);
  });
}
