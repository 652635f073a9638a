// Who calls whom within the page: prints the arrows of `src/ui` and fails on one
// that must not be. The rules are those of `DEVELOPERS.md`: frame → views → kit →
// the frame's state; no view calls another; nothing goes in a circle.
//
//   node tests/arrows.mjs

import { readFileSync, readdirSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';

/** Comments and texts blanked, so that what is left is code. */
const code = (source) =>
  source.replace(/\/\/[^\n]*|\/\*[\s\S]*?\*\/|r#"[\s\S]*?"#|"(?:\\[\s\S]|[^"\\])*"|'(?:\\.|[^'\\\n])'/g, (text) => text.replace(/[^\n]/g, ' '));

/** Every path that begins at `index` with `head`, braces spelled out. */
function paths(text, index, head) {
  const step = text.slice(index).match(/^\s*::\s*(?:(\w+)|(\{))/);
  if (!step) return [head];
  const after = index + step[0].length;
  if (step[1]) return paths(text, after, [...head, step[1]]);
  const found = [];
  let depth = 1;
  for (let at = after; depth && at < text.length; at += 1) {
    if (text[at] === '{') depth += 1;
    else if (text[at] === '}') depth -= 1;
    else if (depth === 1 && /\w/.test(text[at]) && !/[\w:]/.test(text[at - 1])) {
      const [name] = text.slice(at).match(/^\w+/);
      // What follows `as` is a name of this file's own.
      if (/\bas\s+$/.test(text.slice(after, at)) || name === 'as') continue;
      found.push(...paths(text, at + name.length, name === 'self' ? head : [...head, name]));
    }
  }
  return found;
}

/** The names of the inline modules around `index`. */
function within(text, index) {
  const open = [];
  for (const [token, name] of text.slice(0, index).matchAll(/\bmod\s+(\w+)\s*\{|[{}]/g)) {
    if (token === '}') open.pop();
    else open.push(name);
  }
  return open.filter(Boolean);
}

/** `[[module, module], …]`: what each file of `files` (path → source) names of the others. */
export function imports(files) {
  const moduleOf = (path) => path.replace(/\.rs$/, '').replace(/(?:^|\/)mod$/, '').split('/').filter(Boolean);
  const modules = new Map([...files.keys()].map((path) => [moduleOf(path).join('::'), path]));
  const arrows = new Map();
  for (const [path, source] of files) {
    const text = code(source);
    const here = moduleOf(path);
    for (const match of text.matchAll(/(?<![\w:]|\bin )\$?(?:crate::ui|super|self)(?=\s*::)/g)) {
      let rest = match.index + match[0].length;
      let base = [];
      if (!match[0].endsWith('crate::ui')) {
        base = [...here, ...within(text, match.index)];
        if (match[0] === 'super') base.pop();
        for (let more; (more = text.slice(rest).match(/^\s*::\s*super\b/)); rest += more[0].length) base.pop();
      }
      for (const named of paths(text, rest, base)) {
        while (named.length && !modules.has(named.join('::'))) named.pop();
        const [from, to] = [here, named].map((name) => name.join('::'));
        if (to && from !== to) arrows.set(`${from} ${to}`, [from, to]);
      }
    }
  }
  return [...arrows.values()].sort((a, b) => String(a).localeCompare(String(b)));
}

/** A view's folder counts as one, however many files it has. */
const room = (module) => module.match(/^views::\w+/)?.[0] ?? module;

/** The circles that modules go in, each as a list. */
function circles(arrows) {
  const next = new Map();
  for (const [from, to] of arrows) next.set(from, [...(next.get(from) ?? []), to]);
  const reach = (from) => {
    const seen = new Set();
    const visit = (module) => (next.get(module) ?? []).forEach((to) => seen.has(to) || (seen.add(to), visit(to)));
    visit(from);
    return seen;
  };
  const all = new Map([...next.keys()].map((from) => [from, reach(from)]));
  const found = new Set();
  for (const [from, seen] of all) {
    if (seen.has(from)) found.add([...seen].filter((to) => all.get(to)?.has(from)).sort().join(', '));
  }
  return [...found];
}

/** What in the arrows must not be, in words. */
export function faults(arrows) {
  const view = (module) => /^views::/.test(module);
  const found = [];
  for (const [from, to] of arrows) {
    const arrow = `${from} → ${to}`;
    if (view(to) && /^kit\b/.test(from)) found.push(`from the kit to a view: ${arrow}`);
    if (view(from) && view(to) && room(from) !== room(to)) found.push(`between views: ${arrow}`);
    if (/^frame::/.test(to) && !/^frame::(?:state|parts)$/.test(to) && /^(?:kit|views)\b/.test(from)) {
      found.push(`into the frame, past its state: ${arrow}`);
    }
  }
  const rooms = arrows.map(([from, to]) => [room(from), room(to)]).filter(([from, to]) => from !== to);
  return [...found, ...circles(rooms).map((circle) => `in a circle: ${circle}`)];
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const root = fileURLToPath(new URL('../src/ui', import.meta.url));
  const names = readdirSync(root, { recursive: true }).filter((name) => name.endsWith('.rs'));
  const arrows = imports(new Map(names.map((name) => [name.replaceAll('\\', '/'), readFileSync(`${root}/${name}`, 'utf8')])));
  const rooms = new Map();
  for (const [from, to] of arrows) {
    if (room(from) !== room(to)) rooms.set(room(from), (rooms.get(room(from)) ?? new Set()).add(room(to)));
  }
  for (const [from, to] of [...rooms].sort()) console.log(`${from} → ${[...to].sort().join(', ')}`);
  const found = faults(arrows);
  console.log(found.length ? `\nArrows that must not be:\n  ${found.join('\n  ')}` : `\n${arrows.length} arrows between ${names.length} files, none amiss`);
  if (found.length) process.exitCode = 1;
}
