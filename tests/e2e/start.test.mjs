// How the page starts, how it says that it cannot, and what it may do.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { sizes } from '../../site.mjs';
import { DIST, phone } from './harness.mjs';

for (const scheme of ['light', 'dark']) {
  test(`starts and is accessible (${scheme})`, async (t) => {
    const { page, look } = await phone(t, { scheme });
    assert.equal(await page.getByText('Starting…').count(), 0);
    assert.equal(await page.locator('html').getAttribute('lang'), 'en');
    await look(`start-${scheme}`);
  });
}

test('the first figure waits for what the budget counts, and for nothing else', async (t) => {
  // Begun beside the page: what it asked for before must not count.
  const { page, context, site, allow } = await phone(t, { started: false, path: 'icons/icon.svg' });
  allow(/404/); // The picture's tab has no icon.
  const asked = [];
  context.on('request', (request) => asked.push(request.url().slice(site.url.length).replace(/^$/, 'index.html')));
  await page.goto(site.url);
  await page.locator('.axle .number').first().waitFor();
  const counted = sizes(DIST).filter(({ first }) => first).map(({ path }) => path);
  // The browser's own wishes, for its tab and for installing; what keeps the page comes last.
  const others = asked.filter((path) => !/^(?:manifest\.webmanifest|icons\/.*|favicon\.ico|offline\.js)$/.test(path));
  assert.deepEqual(others.sort(), counted.sort());
  const program = asked.findIndex((path) => path.endsWith('tyreside_bg.wasm'));
  assert.ok(!asked.slice(0, program + 1).includes('offline.js'), asked.join());
});

test('says so when the figures cannot be loaded', async (t) => {
  const { page, context, allow, look } = await phone(t, { started: false });
  allow(/ERR_FAILED|Failed to fetch|preload/i);
  await context.route('**/*.wasm', (route) => route.abort());
  await page.reload();
  await page.getByRole('alert').getByText('could not start').waitFor();
  await look('start-failed');
});

test('says so when its script cannot be loaded', async (t) => {
  const { page, context, allow } = await phone(t, { started: false });
  allow(/ERR_FAILED|preload/i);
  await context.route('**/tyreside.js', (route) => route.abort());
  await page.reload();
  await page.getByRole('alert').getByText('could not start').waitFor();
});

test('says what it needs without JavaScript', async (t) => {
  const { page } = await phone(t, { started: false, javaScript: false });
  await page.locator('noscript p', { hasText: 'needs JavaScript' }).waitFor();
});

test('a stopped page says that its figures no longer follow', async (t) => {
  const { page, allow, look } = await phone(t);
  allow(/unreachable/);
  // What a panic comes to in the browser.
  await page.evaluate(() => {
    setTimeout(() => {
      throw new WebAssembly.RuntimeError('unreachable');
    });
  });
  await page.locator('#notice').getByText('has stopped').waitFor();
  await look('stopped');
  await page.locator('#notice').getByRole('button', { name: 'Load again' }).tap();
  await page.locator('#notice').getByText('has stopped').waitFor({ state: 'detached' });
});

test('runs no foreign script, style or request', async (t) => {
  const { page, site, allow } = await phone(t);
  allow(/Content Security Policy|foreign request: http:\/\/localhost/i);
  const blocked = await page.evaluate(async (elsewhere) => {
    const violations = [];
    document.addEventListener('securitypolicyviolation', (event) => violations.push(event.effectiveDirective));
    const script = document.createElement('script');
    script.textContent = 'window.injected = true';
    document.body.append(script);
    document.body.insertAdjacentHTML('beforeend', '<p style="color: red">styled</p>');
    await fetch(elsewhere).catch(() => {});
    const picture = new Image();
    picture.src = elsewhere;
    await new Promise((done) => setTimeout(done, 100));
    return { injected: window.injected === true, violations: violations.sort() };
  }, site.url.replace('127.0.0.1', 'localhost'));
  assert.deepEqual(blocked, {
    injected: false,
    violations: ['connect-src', 'img-src', 'script-src-elem', 'style-src-attr'],
  });
});
