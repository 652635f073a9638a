// How long the page keeps one waiting, beside other pages in the same run: one of
// a single word, and one of a single word by the same framework, built alike. A
// measure, no test: it prints and judges nothing. `make start-time` builds what it
// needs.
//
//   node tests/e2e/start-time.mjs EMPTY.wasm [NAME=DIR …]
//
// DIR is a finished build. All pages take turns, RUNS times each, and come with
// the headers that a build asks its host for: by one of them a page has a process
// to itself, apart from its worker's. Without it a start from what is kept takes
// nearly twice as long.
//
// 1. The first visit, on a slow phone and a slow line, until the first figure is
//    drawn. The line is that of the usual slow-4G profile of browsers' own tools
//    (from memory: 1.6 Mbit/s down, 750 kbit/s up, 150 ms there and back), the
//    processor four times slower than this machine's; everything comes packed
//    with brotli, each time into a fresh browser context.
// 2. A start from what is kept, with the server gone, on processors of several
//    speeds. The other pages are kept by the same worker.
// 3. From a tap on a surface to the next picture, as the browser's Event Timing
//    tells it, in steps of 8 ms; beside a page that changes one word.

import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { loadavg, tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { brotliCompressSync } from 'node:zlib';
import { chromium } from 'playwright-core';
import { MIME, WASM_OPT, headersOf } from '../../site.mjs';

const RUNS = 7;
const SLOWER = 4;
const SPEEDS = [1, 4, 6];
const LINE = { offline: false, latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 750e3 / 8 };

const [program, ...builds] = process.argv.slice(2);
if (!program || !existsSync(program)) throw new Error('use: start-time.mjs EMPTY.wasm [NAME=DIR …]');

const work = mkdtempSync(join(tmpdir(), 'tyreside-'));

// The worker of the page, for another folder.
const keeper = readFileSync(new URL('../../src/offline/sw.js', import.meta.url), 'utf8');
const KEPT =
  'navigator.serviceWorker.register("./sw.js").then(() => navigator.serviceWorker.ready).then(() => (document.documentElement.dataset.offline = "ready"));';

/** A folder of one page, kept by the same worker. */
function folder(name, html, build) {
  const dir = join(work, name);
  mkdirSync(dir);
  build(dir);
  writeFileSync(join(dir, 'keep.js'), KEPT);
  writeFileSync(join(dir, 'index.html'), `<!doctype html><meta charset="utf-8"><script async src="./keep.js"></script>${html}`);
  const digest = (file) => createHash('sha256').update(readFileSync(join(dir, file))).digest('base64');
  const files = readdirSync(dir).map((file) => [file === 'index.html' ? './' : file, digest(file)]);
  const set = (text, constant, value) => text.replace(new RegExp(`^const ${constant} = .*;$`, 'm'), () => `const ${constant} = ${JSON.stringify(value)};`);
  writeFileSync(join(dir, 'sw.js'), set(set(keeper, 'VERSION', name), 'FILES', files));
  return dir;
}

const blank = folder('blank', '<body><button type="button">Started</button><script src="./turn.js"></script></body>', (dir) =>
  writeFileSync(join(dir, 'turn.js'), 'document.querySelector("button").onclick = ({ target }) => (target.textContent += ".");'),
);
const empty = folder(
  'empty',
  '<link rel="modulepreload" href="./empty.js">' +
    '<link rel="preload" href="./empty_bg.wasm" as="fetch" type="application/wasm" crossorigin="anonymous">' +
    '<script type="module">import init from "./empty.js"; await init({ module_or_path: "./empty_bg.wasm" });</script><body></body>',
  (dir) => {
    execFileSync('wasm-bindgen', [program, '--target', 'web', '--no-typescript', '--out-dir', dir, '--out-name', 'empty']);
    execFileSync('wasm-opt', [join(dir, 'empty_bg.wasm'), '-o', join(dir, 'empty_bg.wasm'), ...WASM_OPT], { stdio: 'inherit' });
  },
);

/** Serves a folder with the last build's headers, each file packed once. */
async function packed(dir) {
  const [, asked] = builds.at(-1).split(/=(.*)/s);
  const files = new Map();
  const server = createServer((request, response) => {
    const path = new URL(request.url, 'http://localhost').pathname.replace(/\/$/, '/index.html');
    const file = join(dir, path);
    if (!files.has(path)) files.set(path, existsSync(file) && statSync(file).isFile() ? brotliCompressSync(readFileSync(file)) : null);
    const bytes = files.get(path);
    if (!bytes) return response.writeHead(404).end();
    response.writeHead(200, { ...headersOf(asked, path.slice(1)), 'Content-Type': MIME[extname(path)] ?? 'application/octet-stream', 'Content-Encoding': 'br', 'Content-Length': bytes.length });
    response.end(bytes);
  });
  await new Promise((ready) => server.listen(0, '127.0.0.1', ready));
  return { url: `http://127.0.0.1:${server.address().port}/`, close: () => (server.closeAllConnections(), server.close()) };
}

/** Runs in the page: notes when what is waited for is first drawn. */
function watch(figure) {
  const look = () => {
    const there = figure ? document.querySelector(figure) : document.body?.textContent.includes('Started');
    if (there) requestAnimationFrame(() => setTimeout(() => (window.drawnAt = performance.now())));
    else requestAnimationFrame(look);
  };
  look();
}

const FIGURE = '.axle .number';
const pages = [
  { name: 'one word', dir: blank, figure: null, key: 'button' },
  { name: 'by the framework', dir: empty, figure: null },
  ...builds.map((named) => named.split(/=(.*)/s)).map(([name, dir]) => ({ name, dir, figure: FIGURE, key: 'label:has(input[name=surface])' })),
];
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu', '--disable-quic'] });

/** Prints the middle, least and most of what was measured for each page. */
function print(title, times, more = () => '') {
  console.log(`${title} (machine's load ${loadavg()[0].toFixed(1)}):`);
  for (const [name, all] of times) {
    const sorted = all.sort((a, b) => a - b);
    const at = (share) => `${Math.round(sorted[Math.round(share * (sorted.length - 1))])} ms`;
    console.log(`  ${name.padEnd(18)} median ${at(0.5)}, least ${at(0)}, most ${at(1)}${more(name)}`);
  }
}

async function visitor({ figure }) {
  const context = await browser.newContext({ viewport: { width: 360, height: 740 }, isMobile: true, hasTouch: true });
  await context.addInitScript(watch, figure);
  return context;
}

/** A page opened on a slower processor, when it is drawn. */
async function opened(context, url, rate, line) {
  const page = await context.newPage();
  const devtools = await context.newCDPSession(page);
  let received = 0;
  if (line) {
    await devtools.send('Network.enable');
    await devtools.send('Network.emulateNetworkConditions', line);
    devtools.on('Network.loadingFinished', ({ encodedDataLength }) => (received += encodedDataLength));
  }
  await devtools.send('Emulation.setCPUThrottlingRate', { rate });
  await page.goto(url, { waitUntil: 'commit' });
  await page.waitForFunction(() => window.drawnAt, null, { timeout: 120_000 });
  return { page, drawnAt: await page.evaluate(() => window.drawnAt), received };
}

/** From a tap to the next picture. */
async function tapped(page, key, turn) {
  const target = page.locator(key).nth(turn % (await page.locator(key).count()));
  await target.scrollIntoViewIfNeeded();
  await page.evaluate(() => {
    window.taps = [];
    window.watching ??= new PerformanceObserver((list) => window.taps.push(...list.getEntries().filter(({ interactionId }) => interactionId)));
    window.watching.observe({ type: 'event', durationThreshold: 16 });
  });
  const box = await target.boundingBox();
  await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height / 2);
  await page.waitForFunction(() => window.taps.length, null, { timeout: 5000 }).catch(() => {});
  // What takes less than the least that is told counts as that.
  return page.evaluate(() => Math.max(16, ...window.taps.map(({ duration }) => duration)));
}

const filled = (names) => new Map(names.map((name) => [name, []]));
const servers = [];
try {
  for (const page of pages) servers.push(await packed(page.dir));

  const first = filled(pages.map(({ name }) => name));
  const bytes = new Map();
  for (let run = 0; run <= RUNS; run += 1) {
    for (const [index, page] of pages.entries()) {
      const context = await visitor(page);
      const { drawnAt, received } = await opened(context, servers[index].url, SLOWER, LINE);
      // The first round warms the server and the browser up.
      if (run) first.get(page.name).push(drawnAt);
      bytes.set(page.name, received);
      await context.close();
    }
  }
  print(`First visit to first figure drawn, processor ${SLOWER} times slower, slow 4G, ${RUNS} loads`, first, (name) => `; ${(bytes.get(name) / 1000).toFixed(0)} kB by then`);

  const contexts = [];
  for (const [index, page] of pages.entries()) {
    const context = await visitor(page);
    const tab = await context.newPage();
    await tab.goto(servers[index].url);
    await tab.locator('html[data-offline=ready]').waitFor({ state: 'attached' });
    await tab.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
    await tab.close();
    contexts.push(context);
  }
  servers.forEach((site) => site.close());
  for (const rate of SPEEDS) {
    const warm = filled(pages.map(({ name }) => name));
    const taps = filled(pages.filter(({ key }) => key).map(({ name }) => name));
    for (let run = 0; run <= RUNS; run += 1) {
      for (const [index, { name, key }] of pages.entries()) {
        const { page, drawnAt } = await opened(contexts[index], servers[index].url, rate);
        // What the worker checks after a start is not part of it.
        await page.waitForTimeout(500);
        if (run) warm.get(name).push(drawnAt);
        if (run && key) taps.get(name).push(await tapped(page, key, run));
        await page.close();
      }
    }
    print(`From what is kept, the server gone, processor ${rate} times slower, ${RUNS} starts`, warm);
    print(`Tap to picture, processor ${rate} times slower, ${RUNS} taps`, taps);
  }
} finally {
  await browser.close();
  servers.forEach((site) => site.close());
  rmSync(work, { recursive: true, force: true });
}
