// Forty letters without a blank, as a name or a sidewall, widened the page to
// 793 px on a screen of 360.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { phone } from './harness.mjs';
import { card, enterRig, field, go, unfold } from './words.mjs';

const LONG = 'Wwwwwwwwww'.repeat(4);
const VIEWS = ['pressures', 'nuts', 'checks', 'rig', 'pressures/walk', 'pressures/footprint', 'convert', 'rig/tools'];

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
