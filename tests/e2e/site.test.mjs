// The build's own tools: what they refuse.

import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { appendFileSync, chmodSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { brotliDecompressSync, gunzipSync } from 'node:zlib';
import { archive, finish, pack, sizes, totals } from '../../site.mjs';
import { DIST, host, secondBuild } from './harness.mjs';

const SITE = fileURLToPath(new URL('../../site.mjs', import.meta.url));
/** The folder of a build's program and parts. */
const folder = (dir) => join(dir, readdirSync(dir).find((name) => /^[0-9a-f]{16}$/.test(name)));
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
  ['a loader changed after its digest was taken', (dir) => appendFileSync(join(folder(dir), '__wasm_split.js'), '\n'), /changed after its digest/],
  ['a script changed after its digest was taken', (dir) => appendFileSync(join(folder(dir), 'tyreside.js'), '\n'), /changed after its digest/],
  ['a build without wasm', (dir) => rmSync(join(folder(dir), 'tyreside_bg.wasm')), /holds no wasm/],
  ['a build without its script', (dir) => rmSync(join(folder(dir), 'tyreside.js')), /holds no script/],
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

test('the sizes count every listed file and the worker, each against its budget', (t) => {
  const dir = secondBuild(t, (copy) => writeFileSync(join(copy, 'more.txt'), 'x'.repeat(5000)));
  const rows = sizes(dir);
  const paths = rows.map(({ path }) => path);
  assert.ok(['sw.js', 'more.txt', 'index.html'].every((path) => paths.includes(path)), paths.join());
  assert.deepEqual(rows.filter(({ path, first }) => first && /^(?:sw\.js|more\.txt|.*(?:split|chunk)_.*)$/.test(path)), []);
  const [first, whole] = totals(rows, [Infinity, Infinity]).map(({ total }) => total);
  assert.ok(rows.find(({ path }) => path === 'index.html').packed < first && first < whole);
  const within = (...budgets) => totals(rows, budgets).map((row) => row.within);
  assert.deepEqual(within(first, whole), [true, true]);
  assert.deepEqual(within(first - 1, whole - 1), [false, false]);
  const run = (...budgets) => spawnSync(process.execPath, [SITE, 'size', dir, ...budgets.map(String)]).status;
  assert.equal(run(first, whole), 0);
  assert.equal(run(first - 1, whole), 1);
});

test('a build is packed under a name of its own, and to the same bytes each time', async (t) => {
  // What Trunk leaves, with a small program: no part, one style.
  const build = async (style) => {
    const dir = mkdtempSync(join(tmpdir(), 'tyreside-'));
    t.after(() => rmSync(dir, { recursive: true, force: true }));
    const program = join(dir, 'program.wasm');
    // A module with one exported memory.
    writeFileSync(program, Buffer.from([0, 97, 115, 109, 1, 0, 0, 0, 5, 3, 1, 0, 1, 7, 10, 1, 6, ...Buffer.from('memory'), 2, 0]));
    const out = join(dir, 'out');
    mkdirSync(out);
    writeFileSync(join(out, 'tyreside-1a.js'), 'glue');
    writeFileSync(join(out, 'tyreside-1a_bg.wasm'), 'wasm');
    writeFileSync(join(out, 'a-1.css'), style);
    writeFileSync(
      join(out, 'index.html'),
      '<head><link rel="stylesheet" href="./a-1.css"/></head><script type="module">import init from "./tyreside-1a.js"; init("./tyreside-1a_bg.wasm")</script>',
    );
    return { ...(await pack(out, program)), out };
  };
  const [one, again, other] = [await build('a {}'), await build('a {}'), await build('b {}')];
  assert.equal(one.folder, again.folder);
  assert.notEqual(one.folder, other.folder);
  const html = readFileSync(join(one.out, 'index.html'), 'utf8');
  for (const file of ['tyreside.js', 'tyreside_bg.wasm']) {
    assert.ok(html.includes(`./${one.folder}/${file}`), file);
    assert.ok(readFileSync(join(one.out, one.folder, file)).length);
  }
  assert.ok(html.includes('<style>\na {}</style>'));
  assert.deepEqual(readdirSync(one.out).sort(), [one.folder, 'index.html'].sort());
});

test('one build is one archive, whenever and by whom it was made', (t) => {
  const digests = [0o644, 0o600].map((mode, index) => {
    const dir = secondBuild(t, () => {});
    for (const name of ['sw.js', 'index.html']) {
      chmodSync(join(dir, name), mode);
      utimesSync(join(dir, name), index + 1, index + 1);
    }
    mkdirSync(join(dir, '.stage'));
    return archive(dir, join(dir, '..', `${basename(dir)}.tar.gz`));
  });
  t.after(() => readdirSync(tmpdir()).filter((name) => /^tyreside-.*\.tar\.gz$/.test(name)).forEach((name) => rmSync(join(tmpdir(), name))));
  assert.equal(digests[0], digests[1]);
  const dir = secondBuild(t, (copy) => writeFileSync(join(copy, 'more.txt'), 'more'));
  const file = join(dir, '..', `${basename(dir)}.tar.gz`);
  assert.notEqual(archive(dir, file), digests[0]);
  const held = spawnSync('tar', ['--list', '--file', file], { encoding: 'utf8' }).stdout.split('\n').filter((name) => name && !name.endsWith('/'));
  const files = readdirSync(dir, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  assert.equal(held.length, files.length);
  assert.ok(held.includes('_headers') && held.includes('sw.js'));
});

test('the server packs what it sends, and sends what the build asks a host for', async (t) => {
  const site = await host(t, { base: '/at/' });
  const wasm = `${basename(folder(DIST))}/tyreside_bg.wasm`;
  const ask = (path, headers) =>
    new Promise((done, failed) => {
      request(new URL(path, site.url), { headers }, (response) => {
        const parts = [];
        response.on('data', (part) => parts.push(part));
        response.on('end', () => done({ status: response.statusCode, headers: response.headers, bytes: Buffer.concat(parts) }));
      }).on('error', failed).end();
    });
  const plain = await ask(wasm, {});
  assert.ok(!plain.headers['content-encoding']);
  for (const [accepted, encoding, unpack] of [['gzip, deflate, br', 'br', brotliDecompressSync], ['gzip', 'gzip', gunzipSync]]) {
    const answer = await ask(wasm, { 'accept-encoding': accepted });
    assert.equal(answer.headers['content-encoding'], encoding);
    assert.ok(answer.bytes.length < plain.bytes.length / 2);
    assert.deepEqual(unpack(answer.bytes), plain.bytes);
    const again = await ask(wasm, { 'accept-encoding': accepted, 'if-none-match': answer.headers.etag });
    assert.deepEqual([again.status, again.bytes.length], [304, 0]);
  }
  assert.match(plain.headers['cache-control'], /immutable/);
  for (const path of ['', 'sw.js', 'boot.js', 'icons/icon.svg', 'manifest.webmanifest']) {
    const { headers } = await ask(path, {});
    assert.equal(headers['cache-control'], 'no-cache', path);
    assert.equal(headers['content-security-policy'], "frame-ancestors 'none'", path);
    assert.equal(headers['referrer-policy'], 'no-referrer', path);
    assert.match(headers['permissions-policy'], /geolocation=\(\)/, path);
  }
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

  const wasm = `${basename(folder(DIST))}/tyreside_bg.wasm`;
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
