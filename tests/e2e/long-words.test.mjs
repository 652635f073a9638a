// Forty letters without a blank, as a name or a sidewall, widened the page to
// 793 px on a screen of 360.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { phone } from './harness.mjs';
import { card, enterRig, field, go, pick, unfold } from './words.mjs';

const LONG = 'Wwwwwwwwww'.repeat(4);
const VIEWS = ['pressures', 'nuts', 'checks', 'rig', 'pressures/walk', 'pressures/footprint', 'convert', 'rig/tools', 'rig/copies', 'rig/card'];

/** Opens every fold, and gives what sticks out of the screen. */
const sticksOut = (page) =>
  page.evaluate(() => {
    document.querySelectorAll('details').forEach((fold) => (fold.open = true));
    const { scrollWidth } = document.documentElement;
    if (scrollWidth <= 360) return null;
    const wide = [...document.querySelectorAll('main *, header *')].filter((element) => element.getBoundingClientRect().right > 361);
    const leaves = wide.filter((element) => !element.children.length && element.getBoundingClientRect().left < 360);
    return `${scrollWidth} px: ${leaves.slice(0, 4).map((element) => element.parentElement.outerHTML.slice(0, 150)).join(' ')}`;
  });

for (const text of [100, 200]) {
  test(`forty letters without a blank widen no view, text at ${text} %`, async (t) => {
    const { page } = await phone(t, { path: '#/rig' });
    await enterRig(page);
    await unfold(page, 'Rigs');
    await page.getByRole('button', { name: 'Copy' }).tap();
    await unfold(page, 'Rigs');
    await field(page, 'Name').fill(LONG);
    await page.evaluate((percent) => (document.documentElement.style.fontSize = `${percent}%`), text);
    const found = [];
    let looks = 0;
    const check = async (what) => {
      looks += 1;
      const wide = await sticksOut(page);
      if (wide) found.push(`${what}: ${wide}`);
    };
    // With sidewalls that are understood, then with one that is a long word.
    for (const tyre of [null, LONG]) {
      await go(page, 'Rig');
      if (tyre) await field(card(page, 0), 'Tyre, as its sidewall says').fill(tyre);
      for (const view of VIEWS) {
        await page.evaluate((to) => (location.hash = `#/${to}`), view);
        await page.locator('main h2, main fieldset, main button').first().waitFor();
        await page.waitForTimeout(100);
        await check(`${view}${tyre ? ', tyre' : ''}`);
        const lines = page.locator('.axle button[aria-expanded]');
        for (let line = 0; line < (await lines.count()); line += 1) {
          // By a click, since a wide page may have moved it out of reach.
          await lines.nth(line).dispatchEvent('click');
          await check(`${view}${tyre ? ', tyre' : ''}, line ${line}`);
        }
      }
    }
    await go(page, 'Rig');
    await page.getByRole('button', { name: 'Delete', exact: true }).dispatchEvent('click');
    await check('deleted');
    console.log(`${looks} views at ${text} %: ${found.length} wider than the screen`);
    assert.deepEqual(found, []);
  });
}

/** Words of up to twelve letters that stand on more than one line. */
const broken = (page) =>
  page.evaluate(() => {
    const found = [];
    const texts = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
    for (let text = texts.nextNode(); text; text = texts.nextNode()) {
      const { parentElement: of } = text;
      if (!of.checkVisibility() || of.closest('.unseen, svg, option')) continue;
      // For screen readers alone.
      if (of.getBoundingClientRect().width <= 2) continue;
      for (const { 0: word, index } of text.data.matchAll(/[\p{L}\d.]{2,12}/gu)) {
        const range = document.createRange();
        range.setStart(text, index);
        range.setEnd(text, index + word.length);
        const lines = new Set([...range.getClientRects()].map(({ top }) => Math.round(top)));
        if (lines.size > 1) found.push(word);
      }
    }
    return found;
  });

// 'Front' stood a letter a line and '36' a digit a line, on a phone set to
// larger text; and 'psi warm' at any size.
test('at twice the text size no word and no number is broken', async (t) => {
  const { page } = await phone(t);
  const large = (percent) => page.evaluate((of) => (document.documentElement.style.fontSize = `${of}%`), percent);
  const open = async (view) => {
    await page.evaluate((to) => (location.hash = `#/${to}`), view);
    await page.locator('main h2, main fieldset, main button').first().waitFor();
    await page.waitForTimeout(150);
  };
  const found = [];
  const check = async (what) => {
    for (const percent of [100, 200]) {
      await large(percent);
      const words = await broken(page);
      if (words.length) found.push(`${what} at ${percent} %: ${words.join(' ')}`);
      const wide = await sticksOut(page);
      if (wide) found.push(`${what} at ${percent} %: ${wide}`);
    }
  };
  await pick(page, 'Dirt');
  await check('pressures');
  await open('pressures/walk');
  await page.getByRole('button', { name: 'Warm: read one tyre' }).tap();
  await page.getByLabel('Reads now').fill('39');
  await check('a reading');
  await page.getByRole('button', { name: 'Start, tyres warm' }).tap();
  await page.getByRole('button', { name: 'Tyre done' }).tap();
  await check('the walk');
  await page.getByRole('button', { name: 'End it here' }).tap();
  await check('the end');
  for (const view of ['pressures', 'pressures/footprint', 'nuts', 'checks', 'weights', 'rig', 'rig/tools']) {
    await open(view);
    await check(view);
  }
  await open('convert');
  await pick(page, 'ft·lbf');
  await page.getByLabel('The figure').fill('85');
  await check('convert');
  assert.deepEqual(found, []);
});

// '142 N·m' was '42 N·' at twice the text size, and the notice stood a letter a line.
test('at twice the text size no figure of the demo is cut, and words stay words', async (t) => {
  const { page } = await phone(t, { path: '#/nuts' });
  await page.evaluate(() => (document.documentElement.style.fontSize = '200%'));
  const check = async (what) => {
    assert.equal(await sticksOut(page), null, what);
    const notice = await page.locator('.demo').boundingBox();
    assert.ok(notice.height < 330, `${what}: the notice is ${notice.height} px high`);
  };
  await pick(page, 'Set the wrench');
  await page.locator('.torque .figure').waitFor();
  await check('the mark');
  await pick(page, 'Tighten');
  await page.getByRole('group', { name: 'The rig from above' }).getByRole('button', { name: 'Rear, left' }).tap();
  await page.locator('.nut').first().waitFor();
  await check('the wheel');
  await go(page, 'Pressures');
  await pick(page, 'Dirt');
  await check('the first screen');
  await page.getByRole('link', { name: 'Let down for dirt' }).tap();
  await page.getByRole('button', { name: 'Cold: start' }).tap();
  await page.locator('.in-hand .number').waitFor();
  await check('the walk');
});
