// How long a first visit waits for its first figure on a slow phone and a slow
// line, beside a page that is empty but for one word, built alike. A measure, no
// test: it prints and judges nothing. `make start-time` builds what it needs.
//
//   node tests/e2e/start-time.mjs EMPTY.wasm [NAME=DIR …]
//
// DIR is a finished build. The line is that of the usual slow-4G profile of
// browsers' own tools (from memory: 1.6 Mbit/s down, 750 kbit/s up, 150 ms there
// and back), the processor four times slower than this machine's; everything
// comes packed with brotli. Each page is loaded RUNS times, in turn with the
// others, each time in a fresh browser context.

import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { brotliCompressSync } from 'node:zlib';
import { chromium } from 'playwright-core';
import { MIME, WASM_OPT } from '../../site.mjs';

const RUNS = 7;
const SLOWER = 4;
const LINE = { offline: false, latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 750e3 / 8 };

const [program, ...builds] = process.argv.slice(2);
if (!program || !existsSync(program)) throw new Error('use: start-time.mjs EMPTY.wasm [NAME=DIR …]');

const work = mkdtempSync(join(tmpdir(), 'tyreside-'));
execFileSync('wasm-bindgen', [program, '--target', 'web', '--no-typescript', '--out-dir', work, '--out-name', 'empty']);
execFileSync('wasm-opt', [join(work, 'empty_bg.wasm'), '-o', join(work, 'empty_bg.wasm'), ...WASM_OPT], { stdio: 'inherit' });
writeFileSync(
  join(work, 'index.html'),
  '<!doctype html><meta charset="utf-8"><link rel="modulepreload" href="./empty.js">' +
    '<link rel="preload" href="./empty_bg.wasm" as="fetch" type="application/wasm" crossorigin="anonymous">' +
    '<script type="module">import init from "./empty.js"; await init({ module_or_path: "./empty_bg.wasm" });</script><body></body>',
);

/** Serves a folder, each file packed once. */
async function packed(dir) {
  const files = new Map();
  const server = createServer((request, response) => {
    const path = new URL(request.url, 'http://localhost').pathname.replace(/\/$/, '/index.html');
    const file = join(dir, path);
    if (!files.has(path)) files.set(path, existsSync(file) && statSync(file).isFile() ? brotliCompressSync(readFileSync(file)) : null);
    const bytes = files.get(path);
    if (!bytes) return response.writeHead(404).end();
    response.writeHead(200, { 'Content-Type': MIME[extname(path)] ?? 'application/octet-stream', 'Content-Encoding': 'br', 'Content-Length': bytes.length });
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

const pages = [['empty page', work, null], ...builds.map((named) => [...named.split(/=(.*)/s).slice(0, 2), '.axle .number'])];
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox', '--disable-gpu', '--disable-quic'] });
const times = new Map(pages.map(([name]) => [name, []]));
const bytes = new Map();
try {
  const sites = await Promise.all(pages.map(([, dir]) => packed(dir)));
  for (let run = 0; run <= RUNS; run += 1) {
    for (const [index, [name, , figure]] of pages.entries()) {
      const context = await browser.newContext({ viewport: { width: 360, height: 740 }, isMobile: true, hasTouch: true });
      const page = await context.newPage();
      const devtools = await context.newCDPSession(page);
      await devtools.send('Network.enable');
      await devtools.send('Network.emulateNetworkConditions', LINE);
      await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
      let received = 0;
      devtools.on('Network.loadingFinished', ({ encodedDataLength }) => (received += encodedDataLength));
      await page.addInitScript(watch, figure);
      await page.goto(sites[index].url, { waitUntil: 'commit' });
      await page.waitForFunction(() => window.drawnAt, null, { timeout: 120_000 });
      // The first round warms the server and the browser up.
      if (run) times.get(name).push(await page.evaluate(() => window.drawnAt));
      bytes.set(name, received);
      await context.close();
    }
  }
  sites.forEach((site) => site.close());
} finally {
  await browser.close();
  rmSync(work, { recursive: true, force: true });
}

console.log(`Opened to first figure drawn, processor ${SLOWER} times slower, slow 4G, ${RUNS} loads:`);
for (const [name, all] of times) {
  const sorted = all.sort((a, b) => a - b);
  const at = (share) => `${Math.round(sorted[Math.round(share * (sorted.length - 1))])} ms`;
  console.log(`  ${name.padEnd(14)} median ${at(0.5)}, least ${at(0)}, most ${at(1)}; ${(bytes.get(name) / 1000).toFixed(0)} kB by then`);
}
