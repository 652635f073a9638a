// What Trunk leaves to do for a page that works offline: seal a build, serve
// it, pack it for a host, weigh it. Node's own modules only.
//
//   node site.mjs hook               Trunk's last step: pack and seal a release build
//   node site.mjs serve DIR PORT     serve it on this machine
//   node site.mjs archive DIR FILE   one archive of it for a host, the same bytes each time
//   node site.mjs size DIR FIRST WHOLE
//                                    bytes of the first figure and of the whole page,
//                                    brotli; fails above FIRST or WHOLE

import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, realpathSync, rmSync, statSync, writeFileSync,
} from 'node:fs';
import { createServer } from 'node:http';
import { basename, dirname, extname, join, relative, resolve, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';

const WORKER = 'sw.js';
const SHELL = 'index.html';
// What hosts are to send along, in the form that many hosts of static files read.
const HEADERS = '_headers';
// Read by the system when the page is installed, never by a visit.
const UNLISTED = /^icons\/.*-512\.png$/;
export const MIME = {
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

// ---- pack

const TARGET = 'wasm32-unknown-unknown';
const GLUE = 'tyreside.js';
const WASM = 'tyreside_bg.wasm';
const LOADER = '__wasm_split.js';
const PART_STYLE = 'part.css';
// Stands in the glue of a program with parts until they have been taken out.
const UNSPLIT = '__wasm_split_placeholder__';
// What rustc's target and wasm-bindgen's glue use, no more. Without the first
// kilobyte of memory, offsets fold into loads: the linker puts the stack's far
// end there (--stack-first), and nothing else. 3 kB less than -Oz alone.
export const WASM_OPT = [
  '--enable-bulk-memory', '--enable-multivalue', '--enable-mutable-globals',
  '--enable-nontrapping-float-to-int', '--enable-reference-types', '--enable-sign-ext',
  '--flatten', '--rereloop', '-Oz', '-Oz', '--converge', '--low-memory-unused',
  '--strip-debug', '--strip-producers', '--strip-target-features',
];

/** The program as the linker left it. */
function linked() {
  const metadata = execFileSync('cargo', ['metadata', '--format-version', '1', '--no-deps', '--offline'], {
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  return join(JSON.parse(metadata).target_directory, TARGET, 'release', 'tyreside.wasm');
}

/** A script or style without the lines that are for readers, and without indentation. */
function trimmed(text) {
  const kept = text.replace(/^\s*(?:\/\/.*|\/\*[\s\S]*?\*\/\s*)$\n/gm, '');
  // Lines of a text are its own.
  if (kept.split('\n').some((line) => (line.match(/`/g) ?? []).length % 2)) throw new Error('a template spans lines');
  return kept.replace(/\n\s+/g, '\n');
}

/**
 * The glue without what only scripts of a page would call, of which this page
 * has none: a library brings classes along, and their code with them.
 */
function withoutClasses(glue) {
  const classes = [...glue.matchAll(/^export class (\w+) /gm)].map(([, name]) => name);
  let rest = glue.replace(/^export class [\s\S]*?^}\n(?:if \(Symbol\.dispose\) .*\n)?/gm, '');
  for (const name of classes) {
    rest = rest.replace(new RegExp(`^const ${name}Finalization = [\\s\\S]*?;\\n`, 'm'), '');
    if (rest.includes(name)) throw new Error(`the program makes objects of ${name}: its class must stay`);
  }
  return rest;
}

/** The program without exports that neither script names. */
async function withoutExports(program, scripts) {
  const { default: binaryen } = await import('binaryen');
  const module = binaryen.readBinary(program);
  try {
    const names = Array.from({ length: module.getNumExports() }, (_, index) => binaryen.getExportInfo(module.getExportByIndex(index)).name);
    for (const name of names) {
      if (!new RegExp(`\\b${name}\\b`).test(scripts)) module.removeExport(name);
    }
    return Buffer.from(module.emitBinary());
  } finally {
    module.dispose();
  }
}

/**
 * Puts numbers in place of the digests in the names by which the program calls
 * its glue: they tell libraries apart, and nothing packs a digest.
 */
function numbered(texts) {
  const names = [...new Set(texts[0].match(/\b__wbg_\w+_[0-9a-f]{16}\b/g) ?? [])];
  return names.reduce((now, name, index) => {
    // As long as before: in the program its length stands before it.
    const short = name.slice(0, -16) + String(index).padStart(16, '0');
    return now.map((text) => text.replaceAll(name, short));
  }, texts);
}

/**
 * The loader of parts, with a style that comes with each: a part is there when
 * both are, and fails, to be tried again, when either does.
 */
function styled(loader) {
  const parts = /^(export const __wasm_split_load_\w+ = [\s\S]*?, \[)(.*)(\]\)\);)$/gm;
  if (!parts.test(loader)) throw new Error(`the loader of parts is not as expected:\n${loader}`);
  return `${loader.replace(parts, (_, head, others, tail) => `${head}${others && `${others}, `}style${tail}`)}
let styleComing;
function style() {
  styleComing ??= new Promise((done, failed) => {
    const link = document.createElement('link');
    link.rel = 'stylesheet';
    link.href = new URL('./${PART_STYLE}', import.meta.url);
    link.onload = done;
    link.onerror = () => {
      link.remove();
      styleComing = undefined;
      failed(new Error('${PART_STYLE}'));
    };
    document.head.append(link);
  });
  return styleComing;
}
`;
}

/**
 * Puts the program, its parts, its glue and its styles into one folder, named
 * after all they hold, so that those of two builds never meet: a page that is
 * open while its host moves on finds its own parts, or none.
 *
 * Trunk has no step between cargo and wasm-bindgen, where a program is taken
 * apart, so wasm-bindgen is run once more here.
 */
export async function pack(dir, program = linked()) {
  const run = (tool, ...args) => execFileSync(tool, args, { stdio: ['ignore', 'inherit', 'inherit'] });
  const shell = join(dir, SHELL);
  let html = readFileSync(shell, 'utf8');
  const paths = walk(dir);
  const [glue] = paths.filter((path) => /^tyreside-[0-9a-f]+\.js$/.test(path));
  const [wasm] = paths.filter((path) => /^tyreside-[0-9a-f]+_bg\.wasm$/.test(path));
  const styles = [...html.matchAll(/\s*<link rel="stylesheet" href="(?:\.\/)?([^"]+)"[^>]*>/g)];
  if (!glue || !wasm || !styles.length) throw new Error(`not a build of Trunk's: ${paths.join(', ')}`);

  const work = mkdtempSync(join(dirname(resolve(program)), 'parts-'));
  try {
    const split = readFileSync(join(dir, glue), 'utf8').includes(UNSPLIT);
    let main = program;
    if (split) {
      run('wasm-split-cli', program, work, '--out-name', 'tyreside', '--target', 'web');
      main = join(work, 'tyreside.wasm');
    }
    // The parts reach the program through names that wasm-bindgen would drop.
    run('wasm-bindgen', main, '--target', 'web', '--keep-lld-exports', '--no-demangle', '--no-typescript', '--out-dir', join(work, 'out'), '--out-name', 'tyreside');
    const loader = split ? styled(readFileSync(join(work, LOADER), 'utf8')) : '';
    const glueOf = withoutClasses(readFileSync(join(work, 'out', GLUE), 'utf8'));
    const lean = await withoutExports(readFileSync(join(work, 'out', WASM)), glueOf + loader);
    const [text, named] = numbered([glueOf, lean.toString('latin1')]);
    writeFileSync(join(work, 'out', WASM), named, 'latin1');
    const out = new Map([[GLUE, Buffer.from(trimmed(text))]]);
    const parts = split ? readdirSync(work).filter((name) => /^(?:split|chunk)_.*\.wasm$/.test(name)) : [];
    for (const path of [join(work, 'out', WASM), ...parts.map((name) => join(work, name))]) {
      run('wasm-opt', path, '-o', path, ...WASM_OPT);
      out.set(basename(path), readFileSync(path));
    }
    if (split) out.set(LOADER, Buffer.from(trimmed(loader)));
    const ofPart = ([tag]) => split && /\sdata-part\b/.test(tag);
    const joined = (some) => Buffer.from(some.map(([, path]) => trimmed(readFileSync(join(dir, path), 'utf8'))).join(''));
    if (split) out.set(PART_STYLE, joined(styles.filter(ofPart)));
    for (const path of paths.filter((path) => /^[^/]+\.js$/.test(path))) {
      writeFileSync(join(dir, path), trimmed(readFileSync(join(dir, path), 'utf8')));
    }

    const names = [...out.keys()].sort();
    const style = joined(styles.filter((style) => !ofPart(style)));
    const folder = digest([...names.map((name) => `${name} ${digest(out.get(name))}`), digest(style)].join('\n'), 'sha256', 'hex').slice(0, 16);
    mkdirSync(join(dir, folder));
    for (const [name, bytes] of out) writeFileSync(join(dir, folder, name), bytes);
    for (const path of [glue, wasm, ...styles.map(([, path]) => path)]) rmSync(join(dir, path));

    const sealed = (name) => `href="./${folder}/${name}" integrity="sha384-${digest(out.get(name), 'sha384')}"`;
    // Trunk's own links go: their digests are of the files as they were.
    html = html.replace(/\s*<link rel="(?:modulepreload|preload)"[^>]*>|\s*<!--[\s\S]*?-->/g, '');
    styles.forEach(([tag], index) => {
      // Within the HTML: what comes from the worker costs a slow phone some 40 ms a file.
      html = html.replace(tag, () => (index ? '' : `\n<style>\n${style}</style>`));
    });
    // Asked for before the first script, which all that follows waits for.
    const early = [
      ...[GLUE, ...(split ? [LOADER] : [])].map((name) => `<link rel="modulepreload" ${sealed(name)}>`),
      // Not sealed: browsers ignore a digest on a preloaded fetch, and complain of it.
      `<link rel="preload" href="./${folder}/${WASM}" as="fetch" type="application/wasm" crossorigin="anonymous">`,
    ];
    html = html.replace('<script', () => `${early.join('\n    ')}\n    <script`).replaceAll(glue, `${folder}/${GLUE}`).replaceAll(wasm, `${folder}/${WASM}`);
    writeFileSync(shell, html);
    return { folder, parts: parts.length };
  } finally {
    rmSync(work, { recursive: true, force: true });
  }
}

// ---- finish

const SEALS = /\s*<meta (?:http-equiv="Content-Security-Policy"|name="build") content="[^"]*">/g;

/** The policy under which this HTML runs; inline scripts and styles are named by digest. */
function policy(html) {
  const inline = (what) => [...html.matchAll(new RegExp(`<${what}\\b([^>]*)>([\\s\\S]*?)</${what}>`, 'gi'))]
    .filter(([, attributes]) => !/\ssrc\s*=/i.test(attributes))
    .map(([, , text]) => `'sha256-${digest(text)}'`);
  return [
    "default-src 'none'",
    ["script-src 'self' 'wasm-unsafe-eval'", ...inline('script')].join(' '),
    ["style-src 'self'", ...inline('style')].join(' '),
    "img-src 'self'",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    // Text becomes markup or a script's address by one policy alone (boot.js).
    "require-trusted-types-for 'script'",
    'trusted-types tyreside',
  ].join('; ');
}

const attribute = (tag, name) =>
  tag.match(new RegExp(`\\s${name}\\s*=\\s*(?:"([^"]*)"|'([^']*)'|([^\\s>]+))`, 'i'))?.slice(1).find(Boolean);

/** What in the HTML the policy or a digest would stop in the browser. */
function faults(dir, html, paths) {
  const found = [];
  const markup = html.replace(/<!--[\s\S]*?-->/g, '').replace(/(<(script|style)\b[^>]*>)[\s\S]*?<\/\2>/gi, '$1');
  for (const [tag] of markup.matchAll(/<[a-z][^>]*>/gi)) {
    if (/\sstyle\s*=/i.test(tag)) found.push(`inline style: ${tag}`);
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

/**
 * What the host is to send: `[[pattern, [[name, value], …]], …]`, a `*` at a
 * pattern's end standing for anything. A page can say none of these itself.
 */
function hostRules(paths) {
  const folders = [...new Set(paths.filter((path) => /^[0-9a-f]{16}\//.test(path)).map((path) => path.split('/')[0]))];
  return [
    ['*', [
      ['Content-Security-Policy', "frame-ancestors 'none'"],
      ['Cross-Origin-Opener-Policy', 'same-origin'],
      // The walk keeps the screen on; nothing else of the device is used.
      ['Permissions-Policy', ['accelerometer', 'camera', 'display-capture', 'geolocation', 'gyroscope', 'magnetometer', 'microphone', 'midi', 'payment', 'usb'].map((what) => `${what}=()`).join(', ')],
      ['Referrer-Policy', 'no-referrer'],
      ['X-Content-Type-Options', 'nosniff'],
    ]],
    // These names follow their bytes; all others are asked for again each time.
    ...[...paths.filter((path) => !path.includes('/')).map((path) => (path === SHELL ? '' : path)), SHELL, 'icons/*']
      .map((path) => [path, [['Cache-Control', 'no-cache']]]),
    ...folders.map((folder) => [`${folder}/*`, [['Cache-Control', 'public, max-age=31536000, immutable']]]),
  ];
}

/** Sets a top-level constant of the worker. */
function setConstant(source, name, value) {
  const line = new RegExp(`^const ${name} = .*;$`, 'm');
  if (!line.test(source)) throw new Error(`${WORKER} has no line 'const ${name} = …;'`);
  return source.replace(line, () => `const ${name} = ${JSON.stringify(value)};`);
}

// A block, since of one no beginning is a script; then the digest of all before
// it, by which the page knows it whole before having it installed (offline.js).
const seal = (text) => {
  const block = `{\n${text}}\n`;
  return `${block}//${digest(block)}\n`;
};
const unseal = (text) => text.replace(/^\{\n([\s\S]*)\}\n\/\/\S+\n/, '$1');

/**
 * Writes the policy and the build's name into the HTML, and the list of files
 * into the worker. May be run again on a finished page.
 */
export function finish(dir) {
  const paths = walk(dir).filter((path) => path !== WORKER && path !== HEADERS);
  for (const [kind, there] of [
    [SHELL, paths.includes(SHELL)],
    ['script', paths.some((path) => path.endsWith(`/${GLUE}`))],
    ['wasm', paths.some((path) => path.endsWith(`/${WASM}`))],
  ]) {
    if (!there) throw new Error(`the build holds no ${kind}: ${paths.join(', ')}`);
  }

  const shell = join(dir, SHELL);
  const html = readFileSync(shell, 'utf8').replace(SEALS, '');
  const found = faults(dir, html, paths);
  if (found.length) throw new Error(`${SHELL}:\n  ${found.join('\n  ')}`);
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
  const blank = setConstant(setConstant(unseal(readFileSync(worker, 'utf8')), 'VERSION', ''), 'FILES', []);
  const version = digest(blank + JSON.stringify(files), 'sha256', 'hex').slice(0, 16);
  writeFileSync(worker, seal(setConstant(setConstant(blank, 'VERSION', version), 'FILES', files)));

  // Patterns of a host begin at its root: a page in a folder needs the folder's name before them.
  const rules = hostRules([...paths, WORKER]).map(([pattern, headers]) =>
    `/${pattern}\n${headers.map(([name, value]) => `  ${name}: ${value}\n`).join('')}`);
  writeFileSync(join(dir, HEADERS), rules.join(''));
  return { version, files: files.length };
}

// ---- serve

/** What `dir`'s own rules have a host send with `path`. */
export function headersOf(dir, path) {
  const found = {};
  let applies = false;
  const rules = existsSync(join(dir, HEADERS)) ? readFileSync(join(dir, HEADERS), 'utf8') : '';
  for (const line of rules.split('\n')) {
    if (line.startsWith('/')) {
      const pattern = line.slice(1);
      applies = pattern.endsWith('*') ? path.startsWith(pattern.slice(0, -1)) : path === pattern;
    } else if (applies && line) {
      const [, name, value] = line.match(/^ +([^:]+): (.*)$/);
      found[name] = value;
    }
  }
  return found;
}

const PACKERS = {
  br: (bytes) => brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 9 } }),
  gzip: (bytes) => gzipSync(bytes, { level: 9 }),
};
const packed = new Map();

/** These bytes as a host that compresses sends them: `[bytes, headers]`. */
function compressed(type, bytes, accepted = '') {
  const known = accepted.split(/[\s,;]+/);
  const encoding = type !== MIME['.png'] && Object.keys(PACKERS).find((name) => known.includes(name));
  const tag = `"${digest(bytes, 'sha256', 'hex').slice(0, 32)}${encoding ? `-${encoding}` : ''}"`;
  if (!encoding) return [bytes, { ETag: tag }];
  if (!packed.has(tag)) packed.set(tag, PACKERS[encoding](bytes));
  return [packed.get(tag), { ETag: tag, 'Content-Encoding': encoding }];
}

/**
 * Serves `dir` below `base` on this machine alone, as a host should: packed,
 * with the headers that the build asks for. Port 0 takes a free one; `before`
 * sees each request first, and answers it itself where it gives true. Answers
 * `{ url, port, close() }`; closing also cuts open connections.
 */
export function serve(dir, port = 0, base = '/', before = () => false) {
  const root = realpathSync(dir);
  const refuse = (response, status, headers = {}) => {
    response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8', ...headers });
    response.end(`${status}\n`);
  };
  const server = createServer((request, response) => {
    if (before(request, response)) return undefined;
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      return refuse(response, 405, { Allow: 'GET, HEAD' });
    }
    let path;
    let file;
    try {
      path = decodeURIComponent(new URL(request.url, 'http://localhost').pathname);
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
    const type = MIME[extname(file)] ?? 'application/octet-stream';
    const [bytes, kind] = compressed(type, readFileSync(file), request.headers['accept-encoding']);
    const headers = { 'Cache-Control': 'no-cache', ...headersOf(root, path.slice(base.length)), ...kind, Vary: 'Accept-Encoding' };
    if (request.headers['if-none-match'] === kind.ETag) {
      response.writeHead(304, headers);
      return response.end();
    }
    response.writeHead(200, { ...headers, 'Content-Type': type, 'Content-Length': bytes.length });
    return response.end(request.method === 'HEAD' ? undefined : bytes);
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

// ---- archive

/** Packs a finished build into one archive that says nothing of when or by whom; gives its digest. */
export function archive(dir, file) {
  if (!existsSync(join(dir, HEADERS))) throw new Error(`${dir} is not a finished build`);
  execFileSync('tar', [
    '--create', `--file=${file}`, '--format=ustar', '--sort=name', '--mtime=@0', '--owner=0', '--group=0', '--numeric-owner',
    '--mode=u=rwX,go=rX', '--use-compress-program=gzip -9n', `--directory=${dir}`, ...readdirSync(dir).filter((name) => !name.startsWith('.')).sort(),
  ]);
  return digest(readFileSync(file), 'sha256', 'hex');
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

/**
 * `{ path, bytes, packed, first }` of every file that a visit stores, and of
 * the worker. `first`: the figures wait for it. That is the HTML and what it
 * links for showing and running the page, among it the program.
 */
export function sizes(dir) {
  const list = readFileSync(join(dir, WORKER), 'utf8').match(/^const FILES = (.*);$/m);
  const files = JSON.parse(list?.[1] ?? '[]').map(([path]) => (path === './' ? SHELL : decodeURIComponent(path)));
  if (!files.length) throw new Error(`${WORKER} lists no files: not a finished build`);
  const html = readFileSync(join(dir, SHELL), 'utf8');
  const first = new Set([SHELL]);
  for (const [tag] of html.matchAll(/<(?:link|script)\b[^>]*>/g)) {
    if (/^<script/.test(tag) || /\srel="(?:stylesheet|modulepreload|preload)"/.test(tag)) {
      first.add((attribute(tag, 'href') ?? attribute(tag, 'src') ?? SHELL).replace(/^\.\//, ''));
    }
  }
  return [...files, WORKER].map((path) => {
    const bytes = readFileSync(join(dir, path));
    return { path, bytes: bytes.length, packed: weigh(path, bytes), first: first.has(path) };
  });
}

/** What the first figure and the whole page come to, each with its budget. */
export function totals(rows, [first, whole]) {
  const sum = (some) => some.reduce((total, { packed }) => total + packed, 0);
  return [
    { what: 'before the first figure', total: sum(rows.filter((row) => row.first)), budget: first },
    { what: 'of the whole page', total: sum(rows), budget: whole },
  ].map((row) => ({ ...row, within: row.total <= row.budget }));
}

function printSizes(dir, budgets) {
  const rows = sizes(dir).sort((a, b) => b.first - a.first || b.packed - a.packed);
  for (const { path, bytes, packed, first } of rows) {
    console.log(`${String(packed).padStart(8)}  of ${String(bytes).padStart(8)}  ${first ? 'first' : 'later'}  ${path}`);
  }
  for (const { what, total, budget, within } of totals(rows, budgets)) {
    console.log(`${String(total).padStart(8)}  bytes ${what} (brotli), ${within ? 'within' : 'ABOVE'} the budget of ${budget}`);
    if (!within) process.exitCode = 1;
  }
}

// ---- command line

async function main([command, dir, ...values]) {
  const numbers = values.map(Number);
  if (command === 'hook' && process.env.TRUNK_STAGING_DIR) {
    // A development build is never kept offline: it changes under the developer's hands.
    if (process.env.TRUNK_PROFILE !== 'release') return;
    const staging = process.env.TRUNK_STAGING_DIR;
    const { folder, parts } = await pack(staging);
    const { version, files } = finish(staging);
    console.log(`packed as ${folder} with ${parts} parts, sealed ${files} files as version ${version}`);
  } else if (command === 'serve' && dir && Number.isInteger(numbers[0])) {
    const site = await serve(dir, numbers[0]);
    console.log(`Tyreside is at ${site.url} (Ctrl-C ends it)`);
  } else if (command === 'archive' && dir && values.length === 1) {
    console.log(`${archive(dir, values[0])}  ${values[0]}`);
  } else if (command === 'size' && dir && numbers.length === 2 && numbers.every((number) => number > 0)) {
    printSizes(dir, numbers);
  } else {
    throw new Error('use: site.mjs serve DIR PORT | archive DIR FILE | size DIR FIRST WHOLE, or hook as a hook of Trunk');
  }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  main(process.argv.slice(2)).catch((error) => {
    console.error(`site.mjs: ${error.message}`);
    process.exitCode = 1;
  });
}
