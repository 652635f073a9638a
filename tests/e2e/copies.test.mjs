// A rig on another phone, from a file, by link or on paper; and that nothing
// is kept, altered or lost on the way without consent.

import assert from 'node:assert/strict';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { host, phone } from './harness.mjs';
import { card, enterRig, field, go, pick, unfold } from './words.mjs';

const SHOTS = fileURLToPath(new URL('./shots', import.meta.url));

/** Everything that is kept, in one order. */
const stored = (page) => page.evaluate(() => Object.entries(localStorage).sort());
const sections = async (page) => (await stored(page)).filter(([key]) => /^tyreside\.rig\./.test(key));
const copies = async (page) => {
  await go(page, 'Rig');
  await page.getByRole('link', { name: /^Copies/ }).tap();
  await page.getByRole('heading', { name: 'Bring rigs back' }).waitFor();
};
/** The link to the rig, off the page. */
const link = async (page) => {
  await copies(page);
  await page.getByRole('button', { name: 'Show the link' }).tap();
  return page.getByRole('textbox', { name: 'The link' }).inputValue();
};
const saved = async (page) => {
  await copies(page);
  const download = page.waitForEvent('download');
  await page.getByRole('link', { name: 'Save all rigs to a file' }).tap();
  return readFileSync(await (await download).path(), 'utf8');
};
const give = (page, text) =>
  page.getByLabel('Rigs from a file').setInputFiles({ name: 'rigs.json', mimeType: 'application/json', buffer: Buffer.from(text) });
const doSo = (page) => page.getByRole('button', { name: /^(?:Do so|Keep it here)$/ }).tap();
const rename = async (page, name) => {
  await go(page, 'Rig');
  await unfold(page, 'Rigs');
  await field(page, 'Name').fill(name);
};
const rigs = async (page) => (await stored(page)).filter(([key]) => /^tyreside\.rig\.\d+\.axles$/.test(key)).length;
/** Another phone of the household, at the same address. */
const second = (t, site, options = {}) => phone(t, { site, ...options });

test('a rig goes to a second phone by its link, when that says yes', async (t) => {
  const { page, site, look } = await phone(t);
  await enterRig(page);
  const url = await link(page);
  assert.match(url, /#RIG1-[0-9A-Z]+$/);
  console.log(`link to a rig of three axles: ${url.length} characters`);
  const size = await page.locator('.qr svg').evaluate((svg) => svg.getBoundingClientRect().width / svg.viewBox.baseVal.width);
  console.log(`its code: ${size.toFixed(1)} px a module`);
  assert.ok(size >= 3);
  await look('copies-link');
  const sent = await sections(page);

  const other = await second(t, site, { path: new URL(url).hash, scheme: 'dark' });
  await other.page.getByRole('heading', { name: 'Dusty: 3 axle groups' }).waitFor();
  await other.page.getByText('Not on this phone.').waitFor();
  await other.look('copies-incoming-dark');
  assert.deepEqual(await stored(other.page), [], 'kept before it was asked');
  await other.page.getByRole('button', { name: 'Not now' }).tap();
  await other.page.locator('h1', { hasText: 'Demo rig' }).waitFor();
  assert.deepEqual(await stored(other.page), []);
  assert.equal(new URL(other.page.url()).hash, '#/pressures');

  // In a page that is open already.
  await other.page.evaluate((hash) => { location.hash = hash; }, new URL(url).hash);
  await other.page.getByText('Not on this phone.').waitFor();
  await doSo(other.page);
  await other.page.locator('h1', { hasText: 'Dusty' }).waitFor();
  assert.equal(new URL(other.page.url()).hash, '#/rig');
  const came = new Map(await sections(other.page));
  assert.ok(sent.length >= 2);
  for (const [key, text] of sent) {
    if (!key.endsWith('.copies')) assert.equal(came.get(key), text, key);
  }
  await other.page.getByRole('button', { name: 'Undo' }).tap();
  await other.page.locator('h1', { hasText: 'Demo rig' }).waitFor();
  assert.deepEqual(await stored(other.page), [], 'not byte for byte what was there');
});

test('the same link where the rig is, and after both phones changed it', async (t) => {
  const { page, site, look } = await phone(t);
  await enterRig(page);
  const url = await link(page);
  const hash = new URL(url).hash;
  const open = (on) => on.evaluate((to) => { location.hash = to; }, hash);
  await open(page);
  await page.getByText('The same is here already.').waitFor();
  await page.getByRole('button', { name: 'Leave it' }).tap();

  const other = await second(t, site, { path: hash });
  await doSo(other.page);
  await other.page.locator('h1', { hasText: 'Dusty' }).waitFor();
  await rename(other.page, 'Theirs');
  const theirs = await link(other.page);
  // Only there: theirs is the newer one.
  await page.evaluate((to) => { location.hash = to; }, new URL(theirs).hash);
  await page.getByText('Axles and settings: newer in the link').waitFor();
  await page.getByText('Name: Dusty here, Theirs in the link').waitFor();
  await look('copies-newer');
  await doSo(page);
  await page.locator('h1', { hasText: 'Theirs' }).waitFor();
  assert.equal(await rigs(page), 1);
  // On both: both are kept.
  await rename(page, 'Ours');
  await rename(other.page, 'Theirs again');
  const again = await link(other.page);
  const before = await stored(page);
  await page.evaluate((to) => { location.hash = to; }, new URL(again).hash);
  await page.getByText('Axles and settings: differs on both sides').waitFor();
  await look('copies-both');
  assert.deepEqual(await stored(page), before);
  await doSo(page);
  await page.locator('h1', { hasText: 'Theirs again' }).waitFor();
  assert.equal(await rigs(page), 2);
  await page.getByRole('button', { name: 'Undo' }).tap();
  await page.locator('h1', { hasText: 'Ours' }).waitFor();
  assert.deepEqual(await stored(page), before, 'not byte for byte what was there');
});

test('backed up, cleared and restored, everything is as it was; and the rest can go', async (t) => {
  const { page, look } = await phone(t);
  await enterRig(page);
  const file = await saved(page);
  const before = await sections(page);
  await page.evaluate(() => localStorage.clear());
  await page.reload();
  await page.locator('h1', { hasText: 'Demo rig' }).waitFor();
  await copies(page);
  await give(page, file);
  await page.getByRole('heading', { name: 'Dusty: 3 axle groups' }).waitFor();
  assert.deepEqual(await stored(page), [], 'kept before it was asked');
  await doSo(page);
  await page.locator('h1', { hasText: 'Dusty' }).waitFor();
  assert.deepEqual(await sections(page), before, 'not byte for byte what was saved');

  // A rig that is only here goes when that is wanted, and comes back.
  await page.getByRole('button', { name: 'New', exact: true }).evaluate((key) => key.click());
  await page.getByRole('button', { name: 'With a trailer, 2 axles' }).tap();
  await copies(page);
  await give(page, file);
  await page.getByText('The same is here already.').waitFor();
  await page.getByText('Only here: My rig.').waitFor();
  await look('copies-restore');
  const two = await stored(page);
  await page.getByLabel('Remove the rigs that are only here').check();
  await doSo(page);
  await page.locator('h1', { hasText: 'Dusty' }).waitFor();
  assert.equal(await rigs(page), 1);
  await page.getByRole('button', { name: 'Undo' }).tap();
  await page.waitForFunction(() => Object.keys(localStorage).some((key) => key === 'tyreside.rig.2.axles'));
  assert.deepEqual(await stored(page), two);
});

test('what is no link or a newer one is refused with words, and nothing is kept', async (t) => {
  const { page, site } = await phone(t);
  await enterRig(page);
  const url = await link(page);
  const other = await second(t, site);
  const open = (hash) => other.page.evaluate((to) => { location.hash = to; }, hash);
  const hash = new URL(url).hash;
  for (const [bad, words] of [
    [hash.slice(0, -9), 'This is no whole link to a rig'],
    ['#RIG', 'This is no whole link to a rig'],
    [hash.replace('RIG1', 'RIG7'), 'A newer version of this page made this link (version 7)'],
    [`#RIG1-${'0'.repeat(20_000)}`, 'This link holds more than a rig can have'],
  ]) {
    await open(bad);
    await other.page.getByRole('alert').getByText(words).waitFor();
    await other.page.getByRole('button', { name: 'Leave it' }).tap();
    await other.page.locator('.axle .number').first().waitFor();
    assert.equal(new URL(other.page.url()).hash, '#/pressures');
  }
  assert.deepEqual(await stored(other.page), []);
});

test('markup from a file or a link is text on the page, before and after it is kept', async (t) => {
  const { page, site, look } = await phone(t);
  await enterRig(page);
  const markup = '<img src=x onerror=alert(1)><b>';
  await rename(page, markup);
  await field(card(page, 0), 'Tyre, as its sidewall says').fill('<i>LT265/75R16</i>');
  const file = await saved(page);
  const url = await link(page);
  const other = await second(t, site);
  const text = async () => {
    assert.equal(await other.page.locator('img, main b, main i').count(), 0);
    await other.page.getByText(markup).first().waitFor();
  };
  await copies(other.page);
  await give(other.page, file);
  await text();
  await other.page.getByRole('button', { name: 'Not now' }).tap();
  await other.page.evaluate((to) => { location.hash = to; }, new URL(url).hash);
  await text();
  await doSo(other.page);
  await other.page.locator('h1', { hasText: '<img' }).waitFor();
  await text();
  await other.page.evaluate(() => { location.hash = '#/rig/card'; });
  await other.page.locator('article.card').waitFor();
  await text();
  await look('copies-markup');
});

test('the link opens without a network, once the page is kept', async (t) => {
  const site = await host(t);
  const first = await phone(t, { site });
  await enterRig(first.page);
  const url = await link(first.page);
  const { page, allow } = await phone(t, { site, workers: 'allow' });
  allow(/ERR_CONNECTION_(?:REFUSED|RESET)|ERR_FAILED|Failed to fetch|fetch/i);
  await page.getByText('now works offline').waitFor();
  await site.stop();
  await page.goto('about:blank');
  await page.goto(url);
  await page.getByRole('heading', { name: 'Dusty: 3 axle groups' }).waitFor();
  await doSo(page);
  await page.locator('h1', { hasText: 'Dusty' }).waitFor();
});

test('a link leaves by the phone’s own sharing, by the clipboard, or by hand', async (t) => {
  const { page, context } = await phone(t);
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await page.evaluate(() => {
    navigator.share = async (data) => { globalThis.shared = data; };
    navigator.canShare = (data) => data.files?.[0]?.type === 'text/plain';
  });
  await enterRig(page);
  const url = await link(page);
  await page.getByRole('button', { name: 'Share the link' }).tap();
  assert.equal(await page.evaluate(() => globalThis.shared.url), url);
  await page.getByRole('button', { name: 'Copy the link' }).tap();
  await page.getByText('Copied.').waitFor();
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), url);
  // Where a browser shares no JSON, the file goes as a text.
  await page.getByRole('button', { name: 'Share the file' }).tap();
  const file = await page.evaluate(async () => [globalThis.shared.files[0].name, await globalThis.shared.files[0].text()]);
  assert.equal(file[0], 'tyreside-rigs.txt');
  assert.equal(JSON.parse(file[1]).rigs.length, 1);
  await page.evaluate(() => { navigator.clipboard.writeText = async () => { throw new Error('no'); }; });
  await page.getByRole('button', { name: 'Copy the link' }).tap();
  await page.getByText('does not let a page copy').waitFor();
  await page.waitForFunction((text) => {
    const { value, selectionStart, selectionEnd } = document.activeElement;
    return value?.slice(selectionStart, selectionEnd) === text;
  }, url);
});

test('one quiet line says how to keep a copy, once, and again when much has changed', async (t) => {
  const { page, look } = await phone(t);
  const line = page.getByRole('complementary', { name: 'Copies' });
  await page.locator('.axle .number').first().waitFor();
  assert.equal(await line.count(), 0);
  await enterRig(page);
  await go(page, 'Pressures');
  await line.getByText('on this phone alone').waitFor();
  await look('copies-line');
  await line.getByRole('button', { name: 'Not now' }).tap();
  await line.waitFor({ state: 'detached' });
  await page.reload();
  await page.locator('.axle .number').first().waitFor();
  await page.waitForTimeout(500);
  assert.equal(await line.count(), 0);
  await saved(page);
  // One change is not much.
  await rename(page, 'Dusty 2');
  await go(page, 'Pressures');
  await page.waitForTimeout(300);
  assert.equal(await line.count(), 0);
  // Days pass: then any change is.
  await page.evaluate(() => {
    const later = Date.now() + 91 * 86_400_000;
    Date.now = () => later;
  });
  await go(page, 'Rig');
  await go(page, 'Pressures');
  await line.getByText('Much has changed').waitFor();
  await line.getByRole('link', { name: 'Keep a copy' }).tap();
  await page.getByText('after seven days of use without a visit').waitFor();
});

test('the door card is one page of paper, black on white', async (t) => {
  const { page, look } = await phone(t, { scheme: 'dark' });
  await enterRig(page);
  await go(page, 'Rig');
  await page.getByRole('link', { name: 'Door card' }).tap();
  await page.locator('article.card td').first().waitFor();
  await look('card-dark');
  // A card without them can't be told from one of another load.
  const loads = await page.locator('.card-loads').innerText();
  assert.match(loads, /^For these loads on the most loaded tyre: Front [\d,]+ kg; Rear [\d,]+ kg; .*\. Van hitched\.$/);
  mkdirSync(SHOTS, { recursive: true });
  for (const [name, size] of [['A5', [148, 210]], ['Long, 99 × 210 mm', [99, 210]]]) {
    await pick(page, name);
    const pdf = await page.pdf({ preferCSSPageSize: true });
    const file = join(SHOTS, `card-${size[0]}.pdf`);
    writeFileSync(file, pdf);
    const text = pdf.toString('latin1');
    assert.equal(text.match(/\/Type\s*\/Page\b(?!s)/g).length, 1, `${name}: pages`);
    const [, width, height] = text.match(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/);
    const mm = [width, height].map((points) => Math.round((points * 25.4) / 72));
    assert.deepEqual(mm, size, name);
    await page.emulateMedia({ media: 'print' });
    // What the page says of being stored stood on the paper.
    await page.evaluate(() => (document.getElementById('notice').textContent = 'Not stored'));
    assert.ok(!(await page.locator('#notice').isVisible()));
    assert.ok(!(await page.getByText('Minutes not known').isVisible()));
    const colours = await page.evaluate(() => {
      const parts = [...document.querySelectorAll('article.card, article.card *')];
      return [...new Set(parts.map((part) => getComputedStyle(part).color))];
    });
    assert.deepEqual(colours, ['rgb(0, 0, 0)']);
    assert.ok(!(await page.locator('nav.views, header.top').first().isVisible()));
    await page.emulateMedia({ media: null });
  }
});

test('a figure that is refused is refused on the card too, with the reason', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await field(card(page, 0), 'Mass on the axle').fill('4000');
  await page.evaluate(() => { location.hash = '#/rig/card'; });
  const article = page.locator('article.card');
  await article.getByText('do not drive').first().waitFor();
  const first = article.locator('tbody tr').first().locator('td').first();
  assert.match(await first.innerText(), /^none/);
  await article.getByText(/Front: Overloaded by/).waitFor();
  await article.getByText('Vehicle nuts: the makers’ torque was not entered.').or(article.getByText("Vehicle nuts: the makers' torque was not entered.")).waitFor();
});
