// How the page starts, how it says that it cannot, and what it may do.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { sizes } from '../../site.mjs';
import { DIST, host, phone } from './harness.mjs';

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

// Under such a policy 'Starting…' stood for ever.
for (const [what, policy, runs] of [
  ['WebAssembly', "script-src 'self' 'unsafe-inline'", false],
  ['the script that starts it', "script-src 'self' 'wasm-unsafe-eval'", false],
  ['nothing', "script-src 'self' 'unsafe-inline' 'wasm-unsafe-eval'", true],
]) {
  test(`says so when a policy of its host forbids ${what}`, async (t) => {
    const site = await host(t, {
      before: (request, response) => {
        const { writeHead } = response;
        response.writeHead = (status, headers) => writeHead.call(response, status, { ...headers, 'Content-Security-Policy': policy });
        return false;
      },
    });
    const { page, allow, look } = await phone(t, { site, started: runs });
    if (runs) return;
    allow(/Content Security Policy|preload|CompileError/i);
    await page.getByRole('alert').getByText('a policy of its host forbids it').waitFor();
    await look(`forbidden-${what.split(' ').pop()}`);
  });
}

test('is shown in no other page', async (t) => {
  const { page, site, allow } = await phone(t);
  allow(/frame|ancestor|ERR_BLOCKED|404/i); // The picture's tab has no icon.
  await page.goto(`${site.url}icons/icon.svg`);
  await page.evaluate(async (url) => {
    const frame = document.createElementNS('http://www.w3.org/1999/xhtml', 'iframe');
    frame.src = url;
    document.documentElement.append(frame);
    await new Promise((done) => setTimeout(done, 500));
  }, site.url);
  const inside = page.frames().find((frame) => frame !== page.mainFrame());
  assert.equal(inside ? await inside.locator('#app').count() : 0, 0);
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
  allow(/Content Security Policy|requires 'Trusted|foreign request: http:\/\/localhost/i);
  const blocked = await page.evaluate(async (elsewhere) => {
    const violations = [];
    document.addEventListener('securitypolicyviolation', (event) => violations.push(event.effectiveDirective));
    const refused = [];
    const attempt = (what, act) => {
      try {
        act();
      } catch (error) {
        if (error instanceof TypeError) refused.push(what);
      }
    };
    const script = document.createElement('script');
    attempt('script text', () => (script.textContent = 'window.injected = true'));
    attempt('script address', () => (script.src = 'boot.js'));
    script.append('window.injected = true');
    document.body.append(script);
    attempt('markup', () => document.body.insertAdjacentHTML('beforeend', '<p>new</p>'));
    attempt('markup of the policy', () => tyreside.createHTML('<svg><image href="x" /></svg>'));
    attempt('a handler in a drawing', () => tyreside.createHTML('<svg><path d="M0 0"onload="x()"/></svg>'));
    attempt('another script', () => tyreside.createScriptURL('boot.js'));
    attempt('another policy', () => trustedTypes.createPolicy('other', {}));
    document.body.append(document.createElement('p'));
    document.body.lastChild.setAttribute('style', 'color: red');
    await fetch(elsewhere).catch(() => {});
    await import(`${elsewhere}boot.js`).catch(() => {});
    const picture = new Image();
    picture.src = elsewhere;
    await new Promise((done) => setTimeout(done, 100));
    return { injected: window.injected === true, refused, violations: [...new Set(violations)].sort() };
  }, site.url.replace('127.0.0.1', 'localhost'));
  assert.deepEqual(blocked, {
    injected: false,
    refused: [
      'script text', 'script address', 'markup', 'markup of the policy', 'a handler in a drawing', 'another script', 'another policy',
    ],
    violations: ['connect-src', 'img-src', 'require-trusted-types-for', 'script-src-elem', 'style-src-attr', 'trusted-types'],
  });
});
