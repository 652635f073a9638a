// The footprint: what letting air out does, under a thumb on the slider.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { phone } from './harness.mjs';
import { enterRig, field, go, pick, unit } from './words.mjs';

const path = '#/pressures/footprint';
const slider = (page) => page.getByRole('slider', { name: 'Cold pressure' });
const growth = async (page) => Number((await page.locator('.growth .number').innerText()).replace('×', ''));
const pressure = (page) => page.locator('.readout .speed').innerText();
const row = (page, name) => page.getByRole('row', { name: new RegExp(`^${name}`) }).getByRole('cell').allInnerTexts();

/** Every text and shape of the drawings that a browser draws outside its box. */
const outside = () =>
  [...document.querySelectorAll('.to-scale svg')].flatMap((svg) => {
    const box = svg.getBoundingClientRect();
    return [...svg.querySelectorAll('*')]
      .filter((part) => {
        const { left, right, top, bottom } = part.getBoundingClientRect();
        return left < box.left - 1 || right > box.right + 1 || top < box.top - 1 || bottom > box.bottom + 1;
      })
      .map((part) => part.outerHTML);
  });

for (const scheme of ['light', 'dark']) {
  test(`shows what the recommended pressure does, and what any other would (${scheme})`, async (t) => {
    const { page, look } = await phone(t, { scheme, path });
    await page.getByText('Invented demo rig.').waitFor();
    await pick(page, 'Trailer');
    assert.equal(await pressure(page), '33 psi');
    assert.match(await slider(page).getAttribute('aria-valuetext'), /^33 psi, in the band of dirt.*×1\.\d\d$/);
    await page.getByText('Load reserve +26 % at 33 psi and 80 km/h (dirt road).').waitFor();
    await page.getByText('no licence to go below what the load asks for').waitFor();
    await look(`footprint-${scheme}`);

    await slider(page).press('Home');
    assert.equal(await pressure(page), '15 psi');
    await page.getByText('Too little air at 15 psi').waitFor();
    await look(`footprint-low-${scheme}`);
    await page.getByRole('button', { name: 'Recommended, dirt road: 33 psi' }).tap();
    assert.equal(await pressure(page), '33 psi');
  });
}

test('keys, buttons and units move it by whole steps of the gauge between its ends', async (t) => {
  const { page } = await phone(t, { path });
  await pick(page, 'Trailer');
  await page.getByText('15 psi floor').waitFor();
  await page.getByText('sealed 50 psi').waitFor();
  await slider(page).press('End');
  assert.equal(await pressure(page), '50 psi');
  assert.equal(await growth(page), 1);
  await page.getByRole('button', { name: 'More air' }).tap();
  assert.equal(await pressure(page), '50 psi');
  await slider(page).press('ArrowLeft');
  await page.getByRole('button', { name: 'Less air' }).tap();
  assert.equal(await pressure(page), '48 psi');
  assert.match(await page.locator('.slider [role=status]').innerText(), /^48 psi, in no band, footprint ×1\.0\d$/);

  let last = await growth(page);
  for (let psi = 47; psi >= 15; psi -= 1) {
    await slider(page).press('ArrowLeft');
    assert.equal(await pressure(page), `${psi} psi`);
    const now = await growth(page);
    assert.ok(now > last, `${psi} psi: ${now} after ${last}`);
    last = now;
    if (psi % 8 === 0) assert.deepEqual(await page.evaluate(outside), [], `${psi} psi`);
  }
  await unit(page, 'kPa');
  assert.equal(await pressure(page), '105 kPa');
  assert.deepEqual(await page.evaluate(outside), []);
});

test('the table holds what is drawn', async (t) => {
  const { page } = await phone(t, { path });
  await pick(page, 'Trailer');
  const number = (text) => Number(text.match(/[\d.]+/)[0]);
  const [before, after] = (await row(page, 'Area')).map(number);
  const [, estimate] = (await row(page, 'Its growth')).map((text) => number(text.replace('—', '0')));
  assert.ok(Math.abs(after / before - estimate) < 0.01);
  assert.equal(estimate, await growth(page));
  const [, bounds] = await row(page, 'Bounds');
  const [least, greatest] = bounds.match(/[\d.]+/g).map(Number);
  assert.ok(least < estimate && estimate < greatest, bounds);
  assert.deepEqual((await page.getByRole('columnheader').allInnerTexts()).slice(-2), ['50 psi', '33 psi']);
});

test('a wheel typed in starts as the axle, keeps what is typed, and is not shown while it is wrong', async (t) => {
  const { page, look } = await phone(t, { path });
  await pick(page, 'Rear');
  await pick(page, 'Typed in');
  const load = field(page, 'Load on it');
  assert.equal(await load.inputValue(), '905');
  await field(page, 'Tyre, as its sidewall says').fill('265/75R16');
  await load.fill('700');
  await unit(page, 'kPa');
  await field(page, 'Sealed road').fill('345');
  await page.getByText('What this tyre carries is not known here').waitFor();
  // The design's worked case, as close as a gauge's mark comes to 207 kPa.
  for (let presses = 0; presses < 60 && (await pressure(page)) !== '205 kPa'; presses += 1) {
    await slider(page).press((await pressure(page)) > '205 kPa' ? 'ArrowLeft' : 'ArrowRight');
  }
  assert.equal(await growth(page), 1.46);
  assert.deepEqual(await row(page, 'Deflection'), ['17 mm', '27 mm']);
  await look('footprint-typed');

  // With its load index it is held to what the tyre carries and may hold.
  await field(page, 'Tyre, as its sidewall says').fill('LT265/75R16 123/120Q E');
  await page.getByText(/^Load reserve \+\d+ % at 205 kPa/).waitFor();
  await field(page, 'Sealed road').fill('600');
  await page.getByText('Your own 600 kPa is above').waitFor();
  assert.equal(await slider(page).count(), 0);
  await field(page, 'Sealed road').fill('345');

  await load.fill('7OO');
  await load.blur();
  await page.getByText('An entry above can\'t be used.').waitFor();
  assert.equal(await page.locator('.growth, .figures').count(), 0);
  assert.equal(await load.inputValue(), '7OO');
  await look('footprint-wrong');
  await go(page, 'Pressures');
  // The axles have nothing to do with it.
  await page.locator('.axle .number').nth(2).waitFor();
  await page.goto(`${page.url().split('#')[0]}${path}`);
  await field(page, 'Tyre, as its sidewall says').fill('265/75R16');
  await load.fill('3000');
  await page.getByText('Too flat: this load would press the tyre in').waitFor();
  await field(page, 'Tyre, as its sidewall says').fill('265/75-16');
  await page.getByText('This is a diagonal tyre.').waitFor();
  await load.fill('');
  await page.getByText('Enter the load on the tyre.').waitFor();

  await field(page, 'Tyre, as its sidewall says').fill('255/65R17');
  await load.fill('900');
  await field(page, 'Sealed road').fill('300');
  await slider(page).press('Home');
  await page.getByText('Above 30 % the sidewall bulges').waitFor();
  await page.getByText(/Below \d+ kPa the estimate no longer holds/).waitFor();
  await look('footprint-flat');
  await page.reload();
  assert.equal(await load.inputValue(), '900');
});

test('an axle without a pressure has no footprint either, and says why', async (t) => {
  const { page, look } = await phone(t, { path });
  await enterRig(page);
  await page.goto(`${page.url().split('#')[0]}${path}`);
  await slider(page).waitFor();
  await go(page, 'Rig');
  await page.getByLabel('Mass on the axle').first().fill('4000');
  await page.goto(`${page.url().split('#')[0]}${path}`);
  await page.getByText('Overloaded by').waitFor();
  assert.equal(await slider(page).count(), 0);
  await look('footprint-overloaded');
});

test('prints the figures and drawings without the controls', async (t) => {
  const { page } = await phone(t, { path });
  await page.emulateMedia({ media: 'print' });
  for (const hidden of [slider(page), page.getByRole('navigation', { name: 'Views' }), page.getByRole('radio').first()]) {
    assert.ok(!(await hidden.isVisible()));
  }
  for (const shown of [page.getByRole('table'), page.locator('.to-scale svg').first(), page.getByText('How far to trust it'), page.getByText('Before you let air out')]) {
    assert.ok(await shown.isVisible());
  }
  assert.match(await page.getByRole('table').locator('caption').innerText(), /^Front, 721 kg on a tyre$/);
});

test('follows a drag', async (t) => {
  const { page } = await phone(t, { path });
  await slider(page).press('End');
  await slider(page).evaluate((input) => input.scrollIntoView({ block: 'center' }));
  const { x, y, width, height } = await slider(page).boundingBox();
  await page.mouse.move(x + width - 24, y + height / 2);
  await page.mouse.down();
  await page.mouse.move(x + width / 2, y + height / 2, { steps: 4 });
  const half = Number.parseFloat(await pressure(page));
  assert.ok(half > 15 && half < 36, `${half} psi`);
  await page.mouse.move(x, y + height / 2, { steps: 4 });
  await page.mouse.up();
  assert.equal(await pressure(page), '15 psi');
});

// A step of the slider in each frame, down and up again, at a quarter of the
// speed: the frames must go on coming at 60 a second. Other work on the
// machine only ever takes frames away, so the best of several rounds counts.
test('redraws in every frame of 60 a second at a quarter of the speed', async (t) => {
  const FRAME_MS = 1000 / 60;
  const ROUNDS = 8;
  const { page, context } = await phone(t, { path });
  // Tapped, as a mouse at rest would have to be told what came under it.
  await page.getByRole('radio', { name: 'Trailer', exact: true }).tap();
  await unit(page, 'kPa');
  const cdp = await context.newCDPSession(page);
  await cdp.send('Performance.enable', { timeDomain: 'threadTicks' });
  const spent = async () => {
    const { metrics } = await cdp.send('Performance.getMetrics');
    return 1000 * metrics.find(({ name }) => name === 'TaskDuration').value;
  };
  const drag = async (extra = 0) => {
    const before = await spent();
    const { redraws, gaps } = await page.evaluate(async (extra) => {
      const input = document.querySelector('#footprint-pressure');
      const steps = Number(input.max);
      let redraws = 0;
      const watch = new MutationObserver(() => (redraws += 1));
      watch.observe(document.querySelector('.to-scale'), { childList: true, subtree: true });
      const times = [];
      for (let step = 1; step <= 2 * steps; step += 1) {
        times.push(await new Promise(requestAnimationFrame));
        input.value = String(Math.abs(steps - step));
        input.dispatchEvent(new Event('input', { bubbles: true }));
        for (const until = performance.now() + extra; performance.now() < until; );
      }
      times.push(await new Promise(requestAnimationFrame));
      watch.disconnect();
      return { redraws, gaps: times.slice(1).map((time, index) => time - times[index]) };
    }, extra);
    assert.ok(redraws >= 90, `${redraws} redraws`);
    const each = ((await spent()) - before) / redraws;
    gaps.sort((a, b) => a - b);
    const late = gaps.filter((gap) => gap > 1.5 * FRAME_MS).length;
    return { redraws, each, late, frame: gaps[gaps.length >> 1] };
  };
  const show = ({ redraws, each, late, frame }) =>
    `${redraws} redraws, median frame ${frame.toFixed(1)} ms, ${late} late, ${each.toFixed(1)} ms of the main thread each`;
  const holds = ({ frame }) => frame < 1.1 * FRAME_MS;

  await slider(page).press('End');
  t.diagnostic(`full speed: ${show(await drag())}`);
  await cdp.send('Emulation.setCPUThrottlingRate', { rate: 4 });
  let best = await drag();
  for (let round = 1; round < ROUNDS && !holds(best); round += 1) {
    const next = await drag();
    if (next.frame < best.frame) best = next;
  }
  t.diagnostic(`quarter speed: ${show(best)}`);
  assert.ok(holds(best), show(best));
  const slow = await drag(FRAME_MS);
  assert.ok(!holds(slow), `a redraw that takes a frame longer goes unnoticed: ${show(slow)}`);
});
