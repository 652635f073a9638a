// What the page holds does not grow with use.
//
// Signals kept every effect and memo that had once read them, and views made
// theirs anew: the program's memory grew by 2 to 11 kB with each view that was
// opened, and by 5 kB with each change of the unit, and did not come back.
//
//   ROUNDS=67 node --test tests/e2e/memory.test.mjs     10,184 views

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { phone } from './harness.mjs';

const ROUNDS = Number(process.env.ROUNDS ?? 4);
/** Memory comes in pages, and closures wait for the browser’s collector. */
const PAGE = 65_536;
const MOST_PAGES = 5;

/** The addresses in the table of views. */
function addresses() {
  const read = (file) => readFileSync(new URL(`../../src/ui/${file}`, import.meta.url), 'utf8');
  const named = new Map([...read('kit/route.rs').matchAll(/const (\w+): &str = "(.*)"/g)].map(([, name, address]) => [name, address]));
  return [...read('frame/table.rs').matchAll(/\baddress: (?:"(.*)"|route::(\w+))/g)].map(([, address, name]) => address ?? named.get(name));
}

/** Runs in the page: every view from every other one, with what `taps` names tapped at home. */
async function round([views, taps]) {
  const settled = async () => {
    for (let turn = 0; turn < 3; turn += 1) await new Promise((done) => setTimeout(done));
  };
  let count = 0;
  const go = async (address) => {
    if (location.hash === address) return;
    const gone = new Promise((done) => addEventListener('hashchange', done, { once: true }));
    location.hash = address;
    await gone;
    await settled();
    count += 1;
  };
  let tapped = 0;
  for (const from of views) {
    for (const to of views) {
      if (from === to) continue;
      await go(from);
      await go(to);
    }
    await go(views[0]);
    for (const what of taps) {
      const number = document.querySelectorAll(what).length;
      for (let index = 0; index < number; index += 1) {
        document.querySelectorAll(what)[index].click();
        await settled();
        tapped += 1;
      }
    }
  }
  return [count, tapped];
}

test('memory is flat over views opened, units changed and surfaces tapped', async (t) => {
  const { page, context } = await phone(t);
  const views = addresses();
  assert.ok(views.length >= 9, views.join());
  const devtools = await context.newCDPSession(page);
  const held = async () => {
    await devtools.send('HeapProfiler.collectGarbage');
    const { nodes, jsEventListeners } = await devtools.send('Memory.getDOMCounters');
    // The glue, which is loaded already, gives the program that it started.
    const bytes = await page.evaluate(async () => {
      const { default: started } = await import(document.querySelector('link[rel=modulepreload]').href);
      return (await started()).memory.buffer.byteLength;
    });
    return { bytes, nodes, jsEventListeners };
  };
  const taps = ['.unit-key', 'input[name=surface]'];
  for (let warm = 0; warm < 2; warm += 1) await page.evaluate(round, [views, taps]);

  const before = await held();
  const began = Date.now();
  let opened = 0;
  let tapped = 0;
  for (let index = 0; index < ROUNDS; index += 1) {
    const [more, also] = await page.evaluate(round, [views, taps]);
    opened += more;
    tapped += also;
  }
  const seconds = (Date.now() - began) / 1000;
  const after = await held();
  const pages = (after.bytes - before.bytes) / PAGE;
  t.diagnostic(
    `${opened} views opened and ${tapped} keys tapped in ${seconds.toFixed(0)} s: memory from ${before.bytes / 1024} to ${after.bytes / 1024} KiB; ` +
      `nodes ${before.nodes}, ${after.nodes}; listeners ${before.jsEventListeners}, ${after.jsEventListeners}`,
  );
  assert.ok(tapped > ROUNDS * views.length * 4, 'the keys were found');
  assert.ok(pages <= MOST_PAGES, `${pages} pages of memory more`);
  assert.ok(after.nodes < before.nodes + 50, 'nodes stay');
  assert.equal(after.jsEventListeners, before.jsEventListeners, 'listeners stay');
});
