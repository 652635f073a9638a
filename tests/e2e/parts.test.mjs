// Views that come as parts of the program: offline, on a line that fails, and
// while the host moves on to another build.

import assert from 'node:assert/strict';
import { readFileSync, readdirSync, renameSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { test } from 'node:test';
import { DIST, phone, secondBuild } from './harness.mjs';
import { axle, field, card, go, number, pick } from './words.mjs';

const FOLDER = readdirSync(DIST).find((name) => /^[0-9a-f]{16}$/.test(name));
const PARTS = '**/{split,chunk}_*.wasm';

/** Makes a copy of the build one of other program files. */
const rebuilt = (dir) => {
  const other = [...FOLDER].reverse().join('');
  renameSync(join(dir, FOLDER), join(dir, other));
  const file = join(dir, 'index.html');
  writeFileSync(file, readFileSync(file, 'utf8').replaceAll(FOLDER, other));
};

const VIEWS = [
  ['Wheel nuts', '#/nuts'],
  ['Checks', '#/checks'],
  ['Weights', '#/weights'],
  ['Rig', '#/rig'],
];

/** Views that another leads to, by their titles. */
const BELOW = [
  ['Walk', '#/pressures/walk'],
  ['Footprint', '#/pressures/footprint'],
  ['Tools', '#/rig/tools'],
  ['Copies', '#/rig/copies'],
  ['Door card', '#/rig/card'],
  ['Convert a figure', '#/convert'],
];

const key = (page, name) => page.getByRole('navigation', { name: 'Views' }).getByRole('link', { name });

/** Waits until a view is not only named but there. */
async function opened(page, name) {
  await page.waitForFunction((title) => document.title.startsWith(`${title} ·`), name);
  assert.equal(await key(page, name).getAttribute('aria-current'), 'page');
  await page.locator('main h2, main fieldset').first().waitFor();
  assert.equal(await page.getByText('could not be fetched').count(), 0);
}

async function stored(page) {
  await page.locator('html[data-offline=ready]').waitFor({ state: 'attached' });
  await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
}

const missed = (page) => page.getByRole('alert').filter({ hasText: 'could not be fetched' });

const SILENT_SERVER = /ERR_CONNECTION_(?:REFUSED|RESET)|ERR_FAILED|Failed to fetch|unknown error occurred when fetching the script/;
const NO_PART = /part\.css|ERR_FAILED|Failed to fetch|404|Incorrect response MIME type|HTTP status code is not ok/;

test('a first visit fetches no part before its figures, and all of them after', async (t) => {
  // Begun beside the page, which would store itself at once.
  const { page, context, site, allow } = await phone(t, { workers: 'allow', started: false, path: 'icons/icon.svg' });
  allow(/404/); // The picture's tab has no icon.
  const fetched = [];
  context.on('request', (request) => fetched.push(basename(new URL(request.url()).pathname)));
  const isPart = (name) => /^(?:split|chunk)_/.test(name);
  // Nothing of the worker's may be asked for while the program is held back.
  let release;
  const held = new Promise((go) => (release = go));
  await context.route('**/tyreside_bg.wasm', async (route) => {
    await held;
    await route.continue();
  });
  await page.goto(site.url);
  await page.waitForTimeout(800);
  assert.deepEqual(fetched.filter((name) => isPart(name) || name === 'sw.js'), []);
  release();
  await number(page, 'Front').then((front) => assert.match(front, /^\d+$/));
  await stored(page);
  const parts = readdirSync(join(DIST, FOLDER)).filter(isPart);
  assert.ok(parts.length);
  for (const part of parts) {
    const kept = await page.evaluate((path) => caches.match(path).then(Boolean), `${FOLDER}/${part}`);
    assert.ok(kept, part);
  }
});

for (const [name, address] of VIEWS) {
  test(`opens without a network: ${name}`, async (t) => {
    const { page, site, allow, another } = await phone(t, { workers: 'allow' });
    await stored(page);
    allow(SILENT_SERVER);
    await site.stop();
    // In the page that was open, by its address, and on loading that again.
    await go(page, name);
    await opened(page, name);
    const tab = await another(address);
    await opened(tab, name);
    await tab.reload();
    await opened(tab, name);
  });
}

test('opens by its address on the very first visit', async (t) => {
  for (const [name, path] of VIEWS) {
    const { page } = await phone(t, { path });
    await opened(page, name);
  }
  for (const [name, path] of BELOW) {
    const { page } = await phone(t, { path });
    await page.waitForFunction((title) => document.title.startsWith(`${title} ·`), name);
    await page.locator('main h2, main fieldset').first().waitFor();
  }
});

test('a part that cannot be fetched says so, and comes when it is tried again', async (t) => {
  const { page, context, allow, look } = await phone(t);
  allow(NO_PART);
  await context.route(PARTS, (route) => route.abort());
  await go(page, 'Rig');
  await missed(page).waitFor();
  await look('part-missed');
  // The page lives on.
  await go(page, 'Pressures');
  await pick(page, 'Soft sand');
  assert.match(await number(page, 'Front'), /^\d+$/);
  // Still no network: it is said again, and the way stays open.
  await go(page, 'Rig');
  await missed(page).waitFor();
  await page.getByRole('button', { name: 'Try again' }).tap();
  await missed(page).waitFor();
  await context.unroute(PARTS);
  await page.getByRole('button', { name: 'Try again' }).tap();
  await opened(page, 'Rig');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'views');
});

for (const [name] of VIEWS) {
  test(`a request aborted once costs one visit: ${name}`, async (t) => {
    const { page, context, allow } = await phone(t);
    allow(NO_PART);
    await context.route(PARTS, (route) => route.abort());
    await go(page, name);
    await missed(page).waitFor();
    await context.unroute(PARTS);
    await go(page, 'Pressures');
    await go(page, name);
    await opened(page, name);
  });
}

test('a part without its style is not shown, and comes whole at the next visit', async (t) => {
  const { page, context, allow } = await phone(t);
  allow(NO_PART);
  await context.route('**/part.css', (route) => route.abort());
  await go(page, 'Rig');
  await missed(page).waitFor();
  await context.unroute('**/part.css');
  await page.getByRole('button', { name: 'Try again' }).tap();
  await opened(page, 'Rig');
  assert.equal(await page.evaluate(() => document.querySelectorAll('link[href$="part.css"]').length), 1);
});

test('what a slow part is opened for is reached when it comes', async (t) => {
  const { page, context } = await phone(t);
  let release;
  const held = new Promise((go) => (release = go));
  await context.route(PARTS, async (route) => {
    await held;
    await route.continue();
  });
  await go(page, 'Rig');
  await page.getByRole('status').filter({ hasText: 'Opening…' }).waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.id), 'views');
  // Left and come back while it is on its way.
  await go(page, 'Pressures');
  assert.match(await number(page, 'Front'), /^\d+$/);
  await go(page, 'Rig');
  release();
  await opened(page, 'Rig');
});

test('the way to a field leads through a part that has yet to come', async (t) => {
  const { page } = await phone(t, { workers: 'allow' });
  await go(page, 'Rig');
  await page.getByRole('button', { name: 'Enter my rig' }).tap();
  await page.getByRole('button', { name: 'With a trailer, 2 axles' }).tap();
  await field(card(page, 0), 'Tyre, as its sidewall says').fill('nonsense');
  await go(page, 'Pressures');
  await page.reload();
  await axle(page, 'Front').getByRole('button').first().tap();
  await opened(page, 'Rig');
  await page.waitForFunction(() => document.activeElement.id === 'axle-0-tyre');
});

test('a tab on the old build keeps its parts until the new one is taken, then says so', async (t) => {
  const { page, site, another, allow } = await phone(t, { workers: 'allow' });
  await stored(page);
  const tab = await another('');
  await stored(tab);
  const idle = await another('');
  await stored(idle);
  await site.restart(secondBuild(t, rebuilt));
  await page.reload();
  await page.getByRole('button', { name: 'Use it now' }).waitFor();
  // The host has only the new build's parts; the old build's are in the store.
  await go(tab, 'Wheel nuts');
  await opened(tab, 'Wheel nuts');
  await page.getByRole('button', { name: 'Use it now' }).tap();
  await idle.locator('#notice').getByText('from another tab').waitFor();
  allow(NO_PART);
  await go(idle, 'Wheel nuts');
  await missed(idle).waitFor();
  // What it has goes on working.
  await go(idle, 'Pressures');
  await pick(idle, 'Soft sand');
  assert.match(await number(idle, 'Front'), /^\d+$/);
  await go(idle, 'Wheel nuts');
  await missed(idle).getByRole('button', { name: 'Load again' }).tap();
  await opened(idle, 'Wheel nuts');
});

test('parts of another build are never taken', async (t) => {
  const { page, site, allow } = await phone(t);
  allow(NO_PART);
  await site.restart(secondBuild(t, rebuilt));
  await go(page, 'Checks');
  await missed(page).waitFor();
  await page.reload();
  await opened(page, 'Checks');
});

// The rig's later styles had two names of the first screen: once the rig had
// been seen, units stood below their numbers and the keys below one another.
test('the first screen is as it was after every other view was opened', async (t) => {
  const { page } = await phone(t);
  const boxes = () =>
    page.evaluate(() => {
      scrollTo(0, 0);
      const round = ({ x, y, width, height }) => [x, y, width, height].map(Math.round).join(' ');
      return [...document.querySelectorAll('#app *')].map((one) => `${one.className} ${round(one.getBoundingClientRect())}`);
    });
  await pick(page, 'Dirt');
  const before = await boxes();
  assert.ok(before.length > 60, `${before.length} elements`);
  for (const [title, address] of [...VIEWS, ...BELOW]) {
    await page.goto(`${page.url().split('#')[0]}${address}`);
    await page.waitForFunction((title) => document.title.startsWith(`${title} ·`), title);
    await page.locator('main h2, main fieldset').first().waitFor();
  }
  await go(page, 'Pressures');
  await axle(page, 'Rear').waitFor();
  assert.deepEqual(await boxes(), before);
});
