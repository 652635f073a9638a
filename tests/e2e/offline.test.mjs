// The page without a network, and from one version to the next.

import assert from 'node:assert/strict';
import { appendFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { host, look, phone, secondBuild } from './harness.mjs';

/** Makes a copy of the build a second version, told by the name of its build. */
const alter = (dir) => {
  const file = join(dir, 'index.html');
  writeFileSync(file, readFileSync(file, 'utf8').replace('Starting…', 'Beginning…'));
};

const buildName = (page) => page.locator('meta[name=build]').getAttribute('content');

/** Waits for a page of another build than `old`. */
const otherThan = (page, old) =>
  page.waitForFunction((name) => {
    const mark = document.querySelector('meta[name=build]');
    return mark && mark.content !== name;
  }, old);

/** Long enough for an unwanted reload or notice to have shown itself. */
const aWhile = (page) => page.waitForTimeout(800);

async function stored(page) {
  await page.locator('html[data-offline=ready]').waitFor({ state: 'attached' });
  await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
}

/** Counts full loads of the page from now on; moves within it do not count. */
function countLoads(page) {
  const count = { loads: 0 };
  page.on('load', () => (count.loads += 1));
  return count;
}

const running = (page) => page.locator('#app h1').waitFor();
const notice = (page) => page.locator('#notice');
const button = (page, name) => notice(page).getByRole('button', { name });
const cacheNames = (page) => page.evaluate(() => caches.keys());

/** No network makes the browser itself speak in the console. */
const SILENT_SERVER = /ERR_CONNECTION_(?:REFUSED|RESET)|ERR_FAILED|Failed to fetch|unknown error occurred when fetching the script/;

test('works after the first visit with the server gone', async (t) => {
  const { page, site, allow, another } = await phone(t, { workers: 'allow' });
  const loads = countLoads(page);
  await stored(page);
  await notice(page).getByText('now works offline').waitFor();
  await look(page, 'notice-stored');
  await aWhile(page);
  assert.equal(loads.loads, 0, 'the first install never reloads');

  allow(SILENT_SERVER);
  await site.stop();
  await page.reload();
  await running(page);
  await stored(page);
  for (const path of ['?from=home-screen', 'index.html', '?a=1#/footprint']) {
    const tab = await another(path);
    await running(tab);
    await tab.close();
  }
});

test('the notice of the first install goes by itself, or when told', async (t) => {
  const { page } = await phone(t, { workers: 'allow', clock: true });
  await notice(page).getByText('now works offline').waitFor();
  await page.clock.fastForward(5_000);
  assert.equal(await notice(page).getByText('now works offline').count(), 1);
  await page.clock.fastForward(2_000);
  await notice(page).getByText('now works offline').waitFor({ state: 'detached' });

  const other = await phone(t, { workers: 'allow' });
  await button(other.page, 'OK').tap();
  assert.equal(await notice(other.page).textContent(), '');
});

test('a new version waits until it is taken, then reloads once', async (t) => {
  const { page, site } = await phone(t, { workers: 'allow' });
  await stored(page);
  const [before] = await cacheNames(page);
  const first = await buildName(page);
  const foreign = ['other-app:1', 'tyreside:/elsewhere/:1'];
  await page.evaluate((names) => Promise.all(names.map((name) => caches.open(name))), foreign);

  await site.restart(secondBuild(t, alter));
  await page.reload();
  await notice(page).getByText('New version ready').waitFor();
  await look(page, 'notice-update');
  const loads = countLoads(page);
  await aWhile(page);
  assert.equal(loads.loads, 0, 'nothing reloads before the user says so');
  assert.equal(await buildName(page), first);

  await button(page, 'Later').tap();
  await aWhile(page);
  assert.equal(await notice(page).textContent(), '');
  assert.equal(loads.loads, 0);

  await page.reload();
  assert.equal(await buildName(page), first, 'a reload alone does not take the new version');
  await button(page, 'Use it now').waitFor();
  loads.loads = 0;
  await button(page, 'Use it now').tap();
  await otherThan(page, first);
  await running(page);
  await aWhile(page);
  assert.equal(loads.loads, 1, 'exactly one reload');
  assert.equal(await notice(page).textContent(), '');

  const after = await cacheNames(page);
  assert.ok(!after.includes(before), 'the old version is removed');
  for (const name of foreign) assert.ok(after.includes(name), `${name} is not ours to remove`);
  assert.equal(after.length, foreign.length + 1);
});

test('a tab that did not take the new version is told, not reloaded', async (t) => {
  const { page, site, another } = await phone(t, { workers: 'allow' });
  await stored(page);
  const tab = await another('');
  await stored(tab);
  const first = await buildName(tab);
  await site.restart(secondBuild(t, alter));
  await page.reload();
  await button(page, 'Use it now').waitFor();
  const loads = countLoads(tab);
  await button(page, 'Use it now').tap();
  await notice(tab).getByText('from another tab').waitFor();
  await aWhile(tab);
  assert.equal(loads.loads, 0);
  await button(tab, 'Load again').tap();
  await otherThan(tab, first);
});

test('an open page looks for a new version when it is seen again, at most hourly', async (t) => {
  const { page, site } = await phone(t, { workers: 'allow', clock: true });
  await stored(page);
  await button(page, 'OK').tap();
  await site.restart(secondBuild(t, alter));
  const seen = () => page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await page.clock.fastForward(30 * 60_000);
  await seen();
  await aWhile(page);
  assert.equal(await notice(page).textContent(), '', 'half an hour is too early');
  await page.clock.fastForward(31 * 60_000);
  await seen();
  await button(page, 'Use it now').waitFor();
});

test('a mix of two versions is never stored', async (t) => {
  const mixed = secondBuild(t, (dir) => appendFileSync(join(dir, 'boot.js'), '\n// newer\n'), { seal: false });
  const site = await host(t, { dir: mixed });
  const { page, allow } = await phone(t, { workers: 'allow', site });
  allow(/integrity|digest|Not available offline/i);
  await page.locator('html[data-offline=no]').waitFor({ state: 'attached' });
  await notice(page).getByText('Not stored whole on this device').waitFor();
  await look(page, 'notice-not-stored');
  assert.deepEqual(await cacheNames(page), []);

  // Once the host has settled, the next visit stores the page.
  await site.restart(secondBuild(t, alter));
  await page.reload();
  await stored(page);
});

test('a broken update leaves the stored version in use', async (t) => {
  const { page, site, allow } = await phone(t, { workers: 'allow' });
  await stored(page);
  const names = await cacheNames(page);
  const first = await buildName(page);
  const broken = secondBuild(t, alter);
  appendFileSync(join(broken, 'index.html'), '\n<!-- not as listed -->\n');
  allow(/integrity|digest/i);
  await site.restart(broken);
  await page.reload();
  await stored(page);
  await page.evaluate(async () => (await navigator.serviceWorker.ready).update().catch(() => {}));
  await aWhile(page);
  assert.equal(await notice(page).textContent(), '', 'nothing is offered');
  assert.deepEqual(await cacheNames(page), names);
  await site.stop();
  allow(SILENT_SERVER);
  await page.reload();
  await running(page);
  assert.equal(await buildName(page), first);
});

test('files that the browser dropped are fetched again, or missed honestly', async (t) => {
  const { page, site, allow } = await phone(t, { workers: 'allow' });
  await stored(page);
  const drop = () =>
    page.evaluate(async () => {
      const [name] = await caches.keys();
      const cache = await caches.open(name);
      const [icon] = (await cache.keys()).filter(({ url }) => url.endsWith('icons/icon-192.png'));
      return cache.delete(icon);
    });
  const held = () => page.evaluate(async () => Boolean(await caches.match('icons/icon-192.png')));

  assert.ok(await drop());
  await page.reload();
  await stored(page);
  assert.ok(await held());

  assert.ok(await drop());
  allow(SILENT_SERVER);
  await site.stop();
  await page.reload();
  await page.locator('html[data-offline=no]').waitFor({ state: 'attached' });
});

test('works from a folder, and leaves the rest of the host alone', async (t) => {
  const site = await host(t, { base: '/tools/tyreside/' });
  const { page, context, allow } = await phone(t, { workers: 'allow', site });
  await stored(page);
  const scope = await page.evaluate(async () => (await navigator.serviceWorker.ready).scope);
  assert.equal(scope, site.url);

  // A page below the folder that is not ours is not answered with ours.
  const below = await context.newPage();
  assert.equal((await below.goto(`${site.url}other/`)).status(), 404);
  allow(/404/);

  allow(SILENT_SERVER);
  await site.stop();
  await page.reload();
  await running(page);
});
