// What Trunk leaves to do for a page that works offline: seal a build, serve
// it, weigh it. Node's own modules only.
//
//   node site.mjs finish [DIR]       list and seal a built page; as Trunk's hook without DIR
//   node site.mjs serve DIR PORT     serve it on this machine
//   node site.mjs size DIR BUDGET    bytes of a first visit, brotli; fails above BUDGET

import { createHash } from 'node:crypto';
import { readFileSync, readdirSync, realpathSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, relative, resolve, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import { brotliCompressSync, constants } from 'node:zlib';

const WORKER = 'sw.js';
const SHELL = 'index.html';
// Read by the system when the page is installed, never by a visit.
const UNLISTED = /^icons\/.*-512\.png$/;
const MIME = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
};

const digest = (bytes, algorithm = 'sha256', encoding = 'base64') =>
  createHash(algorithm).update(bytes).digest(encoding);

/** Every file below `dir`, as sorted paths with forward slashes. */
function walk(dir) {
  return readdirSync(dir, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(dir, join(entry.parentPath ?? entry.path, entry.name)))
    .map((path) => path.split(sep).join('/'))
    .sort();
}

// ---- finish

const SEALS = /\s*<meta (?:http-equiv="Content-Security-Policy"|name="build") content="[^"]*">/g;

/** The policy under which this HTML runs; inline scripts are named by digest. */
function policy(html) {
  const inline = [...html.matchAll(/<script\b([^>]*)>([\s\S]*?)<\/script>/gi)]
    .filter(([, attributes]) => !/\ssrc\s*=/i.test(attributes))
    .map(([, , text]) => `'sha256-${digest(text)}'`);
  return [
    "default-src 'none'",
    ["script-src 'self' 'wasm-unsafe-eval'", ...inline].join(' '),
    "style-src 'self'",
    "img-src 'self' data:",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}

const attribute = (tag, name) =>
  tag.match(new RegExp(`\\s${name}\\s*=\\s*(?:"([^"]*)"|'([^']*)'|([^\\s>]+))`, 'i'))?.slice(1).find(Boolean);

/** What in the HTML the policy or a digest would stop in the browser. */
function faults(dir, html, paths) {
  const found = [];
  const markup = html.replace(/<!--[\s\S]*?-->/g, '').replace(/(<script\b[^>]*>)[\s\S]*?<\/script>/gi, '$1');
  for (const [tag] of markup.matchAll(/<[a-z][^>]*>/gi)) {
    if (/^<style\b|\sstyle\s*=/i.test(tag)) found.push(`inline style: ${tag}`);
    if (/\son[a-z]+\s*=/i.test(tag)) found.push(`inline event handler: ${tag}`);
    const target = /^<(?:link|script|img)\b/i.test(tag) && (attribute(tag, 'href') ?? attribute(tag, 'src'));
    if (!target) continue;
    const path = target.replace(/^\.\//, '');
    if (!paths.includes(path)) {
      found.push(`not among the files of the page: ${tag}`);
      continue;
    }
    const integrity = attribute(tag, 'integrity');
    if (integrity) {
      const [algorithm, expected] = integrity.split(/-(.*)/s);
      if (digest(readFileSync(join(dir, path)), algorithm) !== expected) {
        found.push(`changed after its digest was taken: ${tag}`);
      }
    }
  }
  return found;
}

/** Sets a top-level constant of the worker. */
function setConstant(source, name, value) {
  const line = new RegExp(`^const ${name} = .*;$`, 'm');
  if (!line.test(source)) throw new Error(`${WORKER} has no line 'const ${name} = …;'`);
  return source.replace(line, () => `const ${name} = ${JSON.stringify(value)};`);
}

/**
 * Writes the policy and the build's name into the HTML, and the list of files
 * into the worker. Scripts, styles and wasm stay as Trunk digested them. May
 * be run again on a finished page.
 */
export function finish(dir) {
  const paths = walk(dir).filter((path) => path !== WORKER);
  for (const [kind, there] of [
    [SHELL, paths.includes(SHELL)],
    ['a script', paths.some((path) => /^tyreside-.*\.js$/.test(path))],
    ['a wasm', paths.some((path) => path.endsWith('.wasm'))],
  ]) {
    if (!there) throw new Error(`the build holds no ${kind}: ${paths.join(', ')}`);
  }

  const shell = join(dir, SHELL);
  const raw = readFileSync(shell, 'utf8').replace(SEALS, '');
  const found = faults(dir, raw, paths);
  if (found.length) throw new Error(`${SHELL}:\n  ${found.join('\n  ')}`);
  // Browsers ignore a digest on a preloaded fetch, and complain of it.
  const html = raw.replace(/<link rel="preload"[^>]*>/g, (tag) => tag.replace(/ integrity="[^"]*"/, ''));
  const charset = html.match(/<meta charset=[^>]*>/i);
  if (!charset || charset.index > html.search(/<(?:script|link)\b/i)) {
    throw new Error(`${SHELL}: the charset must come first, the policy follows it`);
  }
  const name = digest(
    paths.map((path) => `${path} ${digest(path === SHELL ? html : readFileSync(join(dir, path)))}`).join('\n'),
    'sha256',
    'hex',
  ).slice(0, 12);
  const at = charset.index + charset[0].length;
  const seals =
    `\n<meta http-equiv="Content-Security-Policy" content="${policy(html)}">` +
    `\n<meta name="build" content="${name}">`;
  writeFileSync(shell, html.slice(0, at) + seals + html.slice(at));

  // The page is stored under the folder's address, which every host answers directly.
  const files = paths.filter((path) => !UNLISTED.test(path)).map((path) => [
    path === SHELL ? './' : path.split('/').map(encodeURIComponent).join('/'),
    digest(readFileSync(join(dir, path))),
  ]);
  const worker = join(dir, WORKER);
  const blank = setConstant(setConstant(readFileSync(worker, 'utf8'), 'VERSION', ''), 'FILES', []);
  const version = digest(blank + JSON.stringify(files), 'sha256', 'hex').slice(0, 16);
  writeFileSync(worker, setConstant(setConstant(blank, 'VERSION', version), 'FILES', files));
  return { version, files: files.length };
}

// ---- serve

/**
 * Serves `dir` below `base` on this machine alone. Port 0 takes a free one.
 * Answers `{ url, port, close() }`; closing also cuts open connections.
 */
export function serve(dir, port = 0, base = '/') {
  const root = realpathSync(dir);
  const refuse = (response, status, headers = {}) => {
    response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8', ...headers });
    response.end(`${status}\n`);
  };
  const server = createServer((request, response) => {
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      return refuse(response, 405, { Allow: 'GET, HEAD' });
    }
    let file;
    try {
      const path = decodeURIComponent(new URL(request.url, 'http://localhost').pathname);
      if (!path.startsWith(base)) return refuse(response, 404);
      file = resolve(root, path.slice(base.length).replace(/^\/+/, ''));
      if (statSync(file).isDirectory()) {
        if (!path.endsWith('/')) return refuse(response, 404);
        file = join(file, SHELL);
      }
      file = realpathSync(file);
      if (!file.startsWith(root + sep)) return refuse(response, 404);
    } catch (error) {
      return refuse(response, error instanceof URIError ? 400 : 404);
    }
    const bytes = readFileSync(file);
    response.writeHead(200, {
      'Content-Type': MIME[extname(file)] ?? 'application/octet-stream',
      'Content-Length': bytes.length,
      // Names do not follow the bytes served (Trunk hashes them earlier).
      'Cache-Control': 'no-cache',
      'X-Content-Type-Options': 'nosniff',
    });
    response.end(request.method === 'HEAD' ? undefined : bytes);
  });
  return new Promise((done, failed) => {
    server.once('error', failed);
    server.listen(port, '127.0.0.1', () => {
      const { port: taken } = server.address();
      done({
        url: `http://127.0.0.1:${taken}${base}`,
        port: taken,
        close: () =>
          new Promise((closed) => {
            server.close(closed);
            server.closeAllConnections();
          }),
      });
    });
  });
}

// ---- size

const TEXT = { [constants.BROTLI_PARAM_MODE]: constants.BROTLI_MODE_TEXT };

/** Bytes on the wire from a host that compresses with brotli; pictures are packed already. */
function weigh(path, bytes) {
  if (path.endsWith('.png')) return bytes.length;
  const params = {
    [constants.BROTLI_PARAM_QUALITY]: 11,
    [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
    ...(path.endsWith('.wasm') ? {} : TEXT),
  };
  return brotliCompressSync(bytes, { params }).length;
}

/** `[path, bytes, brotli bytes]` of everything that a first visit loads. */
export function sizes(dir) {
  const list = readFileSync(join(dir, WORKER), 'utf8').match(/^const FILES = (.*);$/m);
  const files = JSON.parse(list?.[1] ?? '[]').map(([path]) => (path === './' ? SHELL : decodeURIComponent(path)));
  if (!files.length) throw new Error(`${WORKER} lists no files: not a finished build`);
  return [...files, WORKER].map((path) => {
    const bytes = readFileSync(join(dir, path));
    return [path, bytes.length, weigh(path, bytes)];
  });
}

function printSizes(dir, budget) {
  const rows = sizes(dir).sort((a, b) => b[2] - a[2]);
  const total = rows.reduce((sum, row) => sum + row[2], 0);
  for (const [path, bytes, packed] of rows) {
    console.log(`${String(packed).padStart(8)}  of ${String(bytes).padStart(8)}  ${path}`);
  }
  const verdict = total <= budget ? 'within' : 'ABOVE';
  console.log(`${String(total).padStart(8)}  bytes on a first visit (brotli), ${verdict} the budget of ${budget}`);
  if (total > budget) process.exitCode = 1;
}

// ---- command line

async function main([command, dir, value]) {
  const number = Number(value);
  if (command === 'finish') {
    const staging = dir ?? process.env.TRUNK_STAGING_DIR;
    if (!staging) throw new Error('finish: no folder given, and not run by Trunk');
    // A development build is never kept offline: it changes under the developer's hands.
    if (!dir && process.env.TRUNK_PROFILE !== 'release') return;
    const { version, files } = finish(staging);
    console.log(`sealed ${files} files as version ${version}`);
  } else if (command === 'serve' && dir && Number.isInteger(number)) {
    const site = await serve(dir, number);
    console.log(`Tyreside is at ${site.url} (Ctrl-C ends it)`);
  } else if (command === 'size' && dir && number > 0) {
    printSizes(dir, number);
  } else {
    throw new Error('use: site.mjs finish [DIR] | serve DIR PORT | size DIR BUDGET');
  }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  main(process.argv.slice(2)).catch((error) => {
    console.error(`site.mjs: ${error.message}`);
    process.exitCode = 1;
  });
}
