// Nothing that was entered is lost without a word: full storage, another tab,
// a lost phone.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { phone } from './harness.mjs';
import { card, enterRig, field, go, unfold } from './words.mjs';

/** Fills what room the browser gives this page, to the last few bytes. */
const fill = (page) =>
  page.evaluate(() => {
    localStorage.setItem('other.last', '');
    for (let size = 1 << 20; size > 0; size >>= 1) {
      for (;;) {
        const key = `other.${localStorage.length}.${size}`;
        try {
          localStorage.setItem(key, 'x'.repeat(size));
        } catch {
          localStorage.removeItem(key);
          break;
        }
      }
    }
    // What is left is less than a key takes.
    try {
      for (let last = 'x'; ; last += 'x') localStorage.setItem('other.last', last);
    } catch {
      // Not one letter more.
    }
  });

const empty = (page) =>
  page.evaluate(() => {
    for (const key of Object.keys(localStorage)) if (key.startsWith('other.')) localStorage.removeItem(key);
  });

const unkept = (page) => page.locator('.unkept');
const stored = (page) => page.evaluate(() => Object.entries(localStorage).filter(([key]) => key.startsWith('tyreside.')));
const saved = async (page, name) => {
  const download = page.waitForEvent('download');
  await page.getByRole('link', { name }).first().tap();
  return readFileSync(await (await download).path(), 'utf8');
};
const copies = async (page) => {
  await go(page, 'Rig');
  await page.getByRole('link', { name: /^Copies/ }).tap();
};
const pickRig = async (page, name) => {
  await unfold(page, 'Rigs');
  await page.getByLabel('Rig', { exact: true }).selectOption({ label: name });
};

// With storage full, an edit was gone once another rig had been looked at and
// another tab had written; nothing said so, and nothing was written later.
test('what finds no room waits, is said as long as it does, and is kept when there is room', async (t) => {
  const { page, look } = await phone(t);
  await enterRig(page);
  await page.getByRole('button', { name: 'Copy' }).tap();
  await field(page, 'Name').fill('Second');
  await pickRig(page, 'Dusty');
  await fill(page);
  await field(card(page, 0), 'Mass on the axle').fill('1333.25');
  await unkept(page).waitFor();
  await page.getByText('There is no room left').waitFor();
  await page.getByRole('button', { name: 'I understand' }).tap();
  await look('unkept');
  // The way out holds what storage does not.
  assert.match(await saved(page, 'Save the rigs to a file'), /1333\.25 kg/);

  await pickRig(page, 'Second');
  await page.getByText('There is no room left').waitFor();
  await page.evaluate(() => dispatchEvent(new StorageEvent('storage', { key: 'tyreside.rig.2.axles' })));
  await page.waitForTimeout(200);
  await unkept(page).waitFor();
  await pickRig(page, 'Dusty');
  assert.equal(await field(card(page, 0), 'Mass on the axle').inputValue(), '1333.25');

  // Closing asks first.
  const asked = page.waitForEvent('dialog');
  const closing = page.close({ runBeforeUnload: true });
  await (await asked).dismiss();
  await closing;

  await empty(page);
  await unkept(page).waitFor({ state: 'detached' });
  assert.ok((await stored(page)).some(([, text]) => text.includes('1333.25 kg')));
});

// Another tab's change made the field anew under the hand: '344.5' ended as '34'.
test('another tab’s change takes neither the focus nor what is being typed', async (t) => {
  const { page, another } = await phone(t);
  await enterRig(page);
  const mass = field(card(page, 0), 'Mass on the axle');
  await mass.fill('');
  const other = await another('#/rig');
  await mass.focus();
  await page.keyboard.type('13');
  await unfold(other, 'Rigs');
  await field(other, 'Name').fill('Theirs');
  await page.waitForTimeout(200);
  await page.keyboard.type('44.5');
  await page.waitForTimeout(200);
  assert.equal(await mass.inputValue(), '1344.5');
  assert.ok(await mass.evaluate((field) => field === document.activeElement));
  // Left, the field makes way for what the other tab changed; both are kept.
  await mass.blur();
  await page.locator('h1', { hasText: 'Theirs' }).waitFor();
  assert.equal(await mass.inputValue(), '1344.5');
  const kept = JSON.stringify(await stored(page));
  assert.ok(kept.includes('1344.5 kg') && kept.includes('Theirs'));
  // The other tab shows it once its own field is left.
  await field(other, 'Name').blur();
  await other.waitForFunction(() => [...document.querySelectorAll('input')].some((input) => input.value === '1344.5'));
});

test('that another tab deleted the rig is said', async (t) => {
  const { page, another } = await phone(t);
  await enterRig(page);
  await go(page, 'Pressures');
  const other = await another('#/rig');
  await unfold(other, 'Rigs');
  await other.getByRole('button', { name: 'Delete', exact: true }).tap();
  await page.getByRole('alert').getByText('Another tab deleted the rig').waitFor();
  await page.locator('h1', { hasText: 'Demo rig' }).waitFor();
});

// 5,000 of them froze the page for 4.1 s.
test('a storm of other tabs’ writes is gathered', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await go(page, 'Pressures');
  const ms = await page.evaluate(async () => {
    const began = performance.now();
    for (let i = 0; i < 5000; i += 1) {
      dispatchEvent(new StorageEvent('storage', { key: `tyreside.rig.${2 + (i % 100)}.axles` }));
    }
    await new Promise((done) => setTimeout(done, 100));
    return performance.now() - began;
  });
  console.log(`5,000 storage events: ${Math.round(ms)} ms, 100 of them waited`);
  assert.ok(ms < 1000, `${ms} ms`);
});

// Storage that counts its keys and names none was taken for an empty one.
test('storage that names no key is said to keep nothing', async (t) => {
  const { page, allow } = await phone(t, { started: false, path: 'icons/icon.svg' });
  allow(/404/); // The picture's tab has no icon.
  await page.addInitScript(() => {
    localStorage.setItem('tyreside.rig.1.axles', 'x');
    Storage.prototype.key = () => null;
  });
  await page.goto(new URL('/', page.url()).href);
  await page.locator('#start').waitFor({ state: 'detached' });
  await page.getByText('This browser keeps nothing for this page').waitFor();
  assert.equal(await page.evaluate(() => localStorage.getItem('tyreside.rig.1.axles')), 'x');
});

test('rigs saved to a file come back after the phone was cleared, when asked for', async (t) => {
  const { page, look } = await phone(t);
  await enterRig(page);
  await copies(page);
  const file = await saved(page, 'Save all rigs to a file');
  await page.evaluate(() => localStorage.clear());
  await page.reload();
  await page.locator('h1', { hasText: 'Demo rig' }).waitFor();
  await copies(page);
  const picker = page.getByLabel('Rigs from a file');
  const give = (text) => picker.setInputFiles({ name: 'rigs.json', mimeType: 'application/json', buffer: Buffer.from(text) });

  await give(file.slice(0, -20));
  await page.getByText('This is no whole file of rigs').waitFor();
  await give('{"tyreside":7,"rigs":[]}');
  await page.getByText('A newer version of this page wrote this file').waitFor();
  await give(file);
  await page.getByText('Dusty: 3 axle groups').waitFor();
  await look('copies');
  assert.deepEqual(await stored(page), [], 'kept before it was asked for');
  await page.getByRole('button', { name: 'Not now' }).tap();
  await give(file);
  await page.getByRole('button', { name: 'Keep it here' }).tap();
  await page.locator('h1', { hasText: 'Dusty' }).waitFor();
  assert.equal(await field(card(page, 2), 'Mass on the axle').inputValue(), '2600');
  await page.reload();
  await page.locator('h1', { hasText: 'Dusty' }).waitFor();
});

test('the browser is asked not to clear a rig of one’s own, and what it says is shown', async (t) => {
  const { page } = await phone(t);
  await page.evaluate(() => {
    globalThis.asked = 0;
    navigator.storage.persist = async () => {
      globalThis.asked += 1;
      return false;
    };
  });
  await copies(page);
  assert.equal(await page.evaluate(() => globalThis.asked), 0);
  await enterRig(page);
  await copies(page);
  await page.getByText('This browser may clear the rigs').waitFor();
  await page.evaluate(() => {
    navigator.storage.persist = async () => true;
  });
  await go(page, 'Pressures');
  await copies(page);
  await page.getByText('keeps the rigs until you clear its data').waitFor();
});

// The rig was remembered as it was before the other tab's change came along.
test('bringing an axle back undoes nothing that another tab changed', async (t) => {
  const { page, another } = await phone(t);
  await enterRig(page);
  const other = await another('#/rig');
  await unfold(other, 'Rigs');
  await unfold(card(page, 2), 'More');
  // What is being typed here keeps the other tab's change from being looked at.
  await field(card(page, 0), 'Mass on the axle').focus();
  await field(other, 'Name').fill('Theirs');
  await page.waitForTimeout(200);
  // At the page's own pace: on a busy machine the change is taken over between
  // two commands from outside, and there is nothing to undo any more.
  await page.getByRole('button', { name: 'Remove this axle' }).last().evaluate(async (key) => {
    key.click();
    while (!document.getElementById('undo')) await new Promise((done) => setTimeout(done));
    document.getElementById('undo').click();
  });
  await page.waitForFunction(() => document.querySelectorAll('main section.axle-entry').length === 3);
  await page.locator('h1', { hasText: 'Theirs' }).waitFor();
  assert.ok(JSON.stringify(await stored(page)).includes('Theirs'));
});
