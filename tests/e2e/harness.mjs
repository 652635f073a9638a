// A phone in a test's hands. All specs use it; each checks a finished build in
// dist/ (`make e2e` builds it first).
//
//   const { page, site, look, allow } = await phone(t, { scheme: 'dark', workers: 'allow' });
//
// `phone(t, options)` serves dist/ (or `site`, an answer of `host`), opens the
// page on a fresh 360×740 touch screen and waits until the app has started.
// When the test `t` ends it fails for every console error or warning, page
// error, policy violation and request to a foreign origin that was not
// expected by `allow(/pattern/)`. Options and their defaults: `scheme` light,
// `workers` block, `path` '', `javaScript` true, `started` true (false: open
// only), `clock` false (true: time stands under `page.clock`).
//
//   look(name)      axe (WCAG A to AAA, contrast 7:1), controls of 48 px, no sideways
//                   scrolling, and a picture in tests/e2e/shots/
//   another(path)   a second tab on the same phone
//   host(t, options)  a server to stop, restart and move to another build; `before(request,
//                   response)` may answer in its place, or never
//   secondBuild(t, change)  a copy of dist/, changed by `change(dir)` and sealed again

import { AxeBuilder } from '@axe-core/playwright';
import assert from 'node:assert/strict';
import { cpSync, mkdtempSync, mkdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after } from 'node:test';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { finish, serve } from '../../site.mjs';

export const DIST = fileURLToPath(new URL('../../dist', import.meta.url));
const SHOTS = fileURLToPath(new URL('./shots', import.meta.url));
const TAGS = [
  'wcag2a', 'wcag2aa', 'wcag2aaa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice',
];
export const TARGET_PX = 48;

let browser;

async function openBrowser() {
  browser ??= chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
  return browser;
}

// A failed check skips the hooks after it; what they leave would keep Node running.
const sites = new Set();
after(async () => {
  await (await browser)?.close();
  await Promise.all([...sites].map((site) => site.stop()));
});

/** A server that can fall silent and come back, also with another build, on its port. */
export async function host(t, { dir = DIST, base = '/', before } = {}) {
  let server = await serve(dir, 0, base, before);
  const { url, port } = server;
  const site = {
    url,
    visitors: [],
    async stop() {
      await server?.close();
      server = undefined;
    },
    async restart(other = dir) {
      await site.stop();
      server = await serve(other, port, base, before);
    },
  };
  sites.add(site);
  // Hooks run in the order that they were set in: without its visitors gone,
  // the site would refuse what a page is still fetching.
  t.after(async () => {
    for (const visitor of site.visitors) await visitor.close();
    await site.stop();
  });
  return site;
}

/** A sealed copy of the build after `change(dir)`; removed with the test. */
export function secondBuild(t, change, { seal = true } = {}) {
  const dir = mkdtempSync(join(tmpdir(), 'tyreside-'));
  t.after(() => rmSync(dir, { recursive: true, force: true }));
  cpSync(DIST, dir, { recursive: true });
  change(dir);
  if (seal) finish(dir);
  return dir;
}

export async function phone(t, options = {}) {
  const { scheme = 'light', locale = 'en-AU', workers = 'block', path = '', javaScript = true, started = true } = options;
  const site = options.site ?? (await host(t));
  const origin = new URL(site.url).origin;
  const context = await (await openBrowser()).newContext({
    viewport: { width: 360, height: 740 },
    deviceScaleFactor: 2,
    hasTouch: true,
    isMobile: true,
    colorScheme: scheme,
    javaScriptEnabled: javaScript,
    reducedMotion: 'reduce',
    locale,
    serviceWorkers: workers,
  });
  site.visitors.push(context);
  context.setDefaultTimeout(10_000);
  // Without a word of it: that a worker can't be had is a notice on the page.
  if (workers === 'block') await context.addInitScript(() => delete Navigator.prototype.serviceWorker);

  const problems = [];
  const expected = [];
  context.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) problems.push(`${message.type()}: ${message.text()}`);
  });
  context.on('weberror', (error) => problems.push(`page error: ${error.error().stack ?? error.error()}`));
  context.on('request', (request) => {
    const url = new URL(request.url());
    if (url.origin !== origin && !['data:', 'blob:'].includes(url.protocol)) {
      problems.push(`foreign request: ${request.url()}`);
    }
  });
  t.after(async () => {
    await context.close();
    const unexpected = problems.filter((problem) => !expected.some((pattern) => pattern.test(problem)));
    assert.deepEqual(unexpected, [], 'problems on the page');
  });

  async function open(address) {
    const page = await context.newPage();
    if (options.clock) await page.clock.install();
    await page.goto(new URL(address, site.url).href);
    if (started) await page.locator('#start').waitFor({ state: 'detached' });
    return page;
  }
  const page = await open(path);

  return {
    page,
    context,
    site,
    problems,
    allow: (pattern) => expected.push(pattern),
    another: open,
    look: (name) => look(page, name),
  };
}

/** All that can be measured about a view: access, reach of a thumb, width. */
export async function look(page, name) {
  mkdirSync(SHOTS, { recursive: true });
  await page.screenshot({ path: join(SHOTS, `${name}.png`), fullPage: true });

  const { violations } = await new AxeBuilder({ page })
    .options({ rules: { 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } } })
    .withTags(TAGS)
    .analyze();
  assert.deepEqual(
    violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => `${node.html} ${node.failureSummary}`).join('\n')}`),
    [],
    `axe on ${name}`,
  );

  assert.deepEqual(await page.evaluate(smallTargets, TARGET_PX), [], `controls under ${TARGET_PX} px on ${name}`);

  // Against the screen: a phone's browser widens `innerWidth` to what sticks out.
  const width = await page.evaluate(() => document.documentElement.scrollWidth);
  const overflow = width - page.viewportSize().width;
  assert.ok(overflow <= 0, `${name} scrolls sideways by ${overflow} px`);
}

/** Runs in the page. A control inside a label may be hit anywhere on the label. */
export function smallTargets(least) {
  const controls = document.querySelectorAll(
    'button, select, textarea, summary, input:not([type=hidden]), a[href], [role=button], [role=tab], [role=switch]',
  );
  return [...controls].flatMap((control) => {
    if (!control.checkVisibility({ visibilityProperty: true })) return [];
    // A link in running text is as tall as its line.
    if (control.matches('a') && control.closest('p, li, dd, td') && getComputedStyle(control).display === 'inline') return [];
    const areas = [control, ...(control.labels ?? [])].map((element) => element.getBoundingClientRect());
    // Rounded, as layouts of fractional pixels are.
    if (areas.some(({ width, height }) => Math.round(width) >= least && Math.round(height) >= least)) return [];
    const { width, height } = areas[0];
    return [`${control.outerHTML.slice(0, 120)}: ${width.toFixed(1)}×${height.toFixed(1)}`];
  });
}
