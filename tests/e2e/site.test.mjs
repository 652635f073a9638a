// The build's own tools: what they refuse.

import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { appendFileSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { finish, sizes } from '../../site.mjs';
import { DIST, host, secondBuild } from './harness.mjs';

const SITE = fileURLToPath(new URL('../../site.mjs', import.meta.url));
const find = (dir, pattern) => join(dir, readdirSync(dir).find((name) => pattern.test(name)));
const version = (dir) => readFileSync(join(dir, 'sw.js'), 'utf8').match(/^const VERSION = "(.+)";$/m)[1];

const edit = (pattern, text) => (dir) => {
  const file = join(dir, 'index.html');
  const html = readFileSync(file, 'utf8');
  assert.match(html, pattern);
  writeFileSync(file, html.replace(pattern, text));
};

test('sealing again changes nothing; any change makes another version', (t) => {
  assert.equal(version(secondBuild(t, () => {})), version(DIST));
  const changes = [
    edit(/Starting…/, 'Beginning…'),
    (dir) => appendFileSync(join(dir, 'offline.js'), '\n'),
    (dir) => appendFileSync(join(dir, 'sw.js'), '\n'),
    (dir) => writeFileSync(join(dir, 'more.txt'), 'more'),
  ];
  const versions = [DIST, ...changes.map((change) => secondBuild(t, change))].map(version);
  assert.equal(new Set(versions).size, versions.length, versions.join());
});

for (const [what, change, message] of [
  ['a style changed after its digest was taken', (dir) => appendFileSync(find(dir, /^main-.*\.css$/), '\n'), /changed after its digest/],
  ['a script changed after its digest was taken', (dir) => appendFileSync(find(dir, /^tyreside-.*\.js$/), '\n'), /changed after its digest/],
  ['a build without wasm', (dir) => rmSync(find(dir, /\.wasm$/)), /holds no a wasm/],
  ['a build without its script', (dir) => rmSync(find(dir, /^tyreside-.*\.js$/)), /holds no a script/],
  ['a build without HTML', (dir) => rmSync(join(dir, 'index.html')), /holds no index.html/],
  ['an inline style', edit(/<main /, '<main style="color: red" '), /inline style/],
  ['an inline event handler', edit(/<main /, '<main onclick="go()" '), /inline event handler/],
  ['a file from elsewhere', edit(/<\/head>/, '<script src="https://elsewhere.example/a.js"></script></head>'), /not among the files/],
  ['a missing file', (dir) => rmSync(join(dir, 'manifest.webmanifest')), /not among the files/],
]) {
  test(`refuses to seal ${what}`, (t) => {
    const dir = secondBuild(t, change, { seal: false });
    assert.throws(() => finish(dir), message);
  });
}

test('the size of a first visit counts every listed file and the worker', (t) => {
  const dir = secondBuild(t, (copy) => writeFileSync(join(copy, 'more.txt'), 'x'.repeat(5000)));
  const rows = sizes(dir);
  assert.ok(rows.some(([path]) => path === 'sw.js') && rows.some(([path]) => path === 'index.html'));
  assert.equal(rows.length, sizes(DIST).length + 1);
  const total = sizes(DIST).reduce((sum, [, , packed]) => sum + packed, 0);
  const run = (budget) => spawnSync(process.execPath, [SITE, 'size', DIST, String(budget)]).status;
  assert.equal(run(total), 0);
  assert.equal(run(total - 1), 1);
});

test('the server answers only what lies in its folder', async (t) => {
  const site = await host(t, { base: '/at/' });
  const { port } = new URL(site.url);
  const ask = (path, method = 'GET') =>
    new Promise((done, failed) => {
      request({ host: '127.0.0.1', port, path, method }, (response) => {
        let length = 0;
        response.on('data', (part) => (length += part.length));
        response.on('end', () => done({ status: response.statusCode, type: response.headers['content-type'], length }));
      }).on('error', failed).end();
    });

  const wasm = readdirSync(DIST).find((name) => name.endsWith('.wasm'));
  assert.equal((await ask('/at/')).type, 'text/html; charset=utf-8');
  assert.equal((await ask(`/at/${wasm}`)).type, 'application/wasm');
  assert.equal((await ask('/at/manifest.webmanifest?x')).type, 'application/manifest+json');
  assert.equal((await ask('/at/icons/icon.svg')).type, 'image/svg+xml');
  const head = await ask(`/at/${wasm}`, 'HEAD');
  assert.deepEqual([head.status, head.length], [200, 0]);
  assert.equal((await ask('/at/', 'POST')).status, 405);
  assert.equal((await ask('/at/%E0%A4%A')).status, 400);
  for (const path of ['/', '/at', '/at/nothing', '/at/icons', '/at/../site.mjs', '/at/..%2fsite.mjs', '/at/%2e%2e%2fsite.mjs', '/at//etc/passwd', '/at/..%2f..%2f..%2fetc/passwd']) {
    assert.equal((await ask(path)).status, 404, path);
  }
});
