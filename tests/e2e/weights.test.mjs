// Weights: tickets, what is left of each rating, and moving a load.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { phone } from './harness.mjs';
import { axle, beside, card, enterRig, field, go, pick, unfold } from './words.mjs';

const path = '#/weights';
const ball = async (page) => Number((await page.locator('.ball-mass strong').innerText()).match(/^(?:about )?(\d+) kg/)[1]);
const worst = (page) => page.locator('.worst').innerText();
const van = (page) => page.getByRole('row', { name: /^Trailer/ }).getByRole('cell').nth(1).innerText();
const least = async (page) => Number((await van(page)).match(/least ([\d.]+) psi/)[1]);
const place = (page) => page.getByRole('slider', { name: /^Its place/ });
const told = (page) => place(page).getAttribute('aria-valuetext');
const load = (page, name) => page.getByRole('group', { name: 'Loads' }).getByRole('button', { name: new RegExp(name) });
const figures = async (page) => ({ ball: await ball(page), worst: await worst(page), van: await van(page) });

/** A finger down on one place of the drawing, along to another, and up. */
async function drag(page, from, to) {
  const plan = page.locator('.load-plan');
  await plan.evaluate((drawing) => drawing.scrollIntoView({ block: 'center' }));
  const { x, y, width, height } = await plan.boundingBox();
  const at = ([across, down]) => [{ x: x + across * width, y: y + down * height }];
  const touch = await page.context().newCDPSession(page);
  const send = (type, touchPoints) => touch.send('Input.dispatchTouchEvent', { type, touchPoints });
  await send('touchStart', at(from));
  for (let step = 1; step <= 8; step += 1) {
    const part = (i) => from[i] + ((to[i] - from[i]) * step) / 8;
    await send('touchMove', at([part(0), part(1)]));
  }
  await send('touchEnd', []);
  await touch.detach();
}

/** The middle of a load's mark, as shares of the drawing. */
const mark = (page, number) =>
  page.locator('.load-plan').evaluate((plan, number) => {
    const box = plan.getBoundingClientRect();
    const text = [...plan.querySelectorAll('text')].find((text) => text.textContent === String(number));
    const of = text.getBoundingClientRect();
    return [(of.x + of.width / 2 - box.x) / box.width, (of.y + of.height / 2 - box.y) / box.height];
  }, number);

/** Where the middle of the van's axles is, as a share of the drawing. */
const overAxles = (page) =>
  page.locator('.load-plan').evaluate((plan) => {
    const box = plan.getBoundingClientRect();
    const wheels = [...plan.querySelectorAll('.tyre')].map((wheel) => wheel.getBoundingClientRect());
    const axles = wheels.slice(2).map(({ x, width }) => x + width / 2 - box.x);
    return axles.reduce((sum, x) => sum + x, 0) / axles.length / box.width;
  });

for (const scheme of ['light', 'dark']) {
  test(`shows what stands where and what is left, worst first (${scheme})`, async (t) => {
    const { page, look } = await phone(t, { scheme, path });
    await page.getByText('Invented demo rig.').waitFor();
    assert.equal(await ball(page), 220);
    assert.match(await worst(page), /^6\d kg left \(2\.\d %\)\s+Least left: Vehicle \(GVM\)\. Within by 5\d kg at least\.$/);
    const lefts = await page.locator('.margin .left').allInnerTexts();
    const percents = lefts.map((text) => Number(text.match(/\(([\d.]+) %\)/)[1]));
    assert.deepEqual(percents, [...percents].sort((a, b) => a - b));
    assert.ok(percents.length >= 9, `${percents.length} ratings`);
    await page.getByText('A public weighbridge is the judge; the plates and local law decide.').waitFor();
    // 220 kg, 1.15 m behind the rear axle of a wheelbase of 2.8 m: 90 kg off the front, 310 kg on the rear.
    await page.getByText('front axle −90 kg, rear axle +310 kg').waitFor();
    await look(`weights-${scheme}`);
    for (const fold of ['Weighbridge tickets', 'Measures and plates', 'What the words mean']) {
      await page.getByText(fold, { exact: true }).tap();
    }
    for (const fold of ['Three weighings to ask for, in order', 'How the readings agree', 'Why two-sided?']) {
      await page.getByText(fold, { exact: true }).tap();
    }
    await page.getByText('practice, no law and no promise of stability').waitFor();
    await page.getByText('Payload 630 kg').waitFor();
    await look(`weights-open-${scheme}`);
  });
}

test('a finger takes the spare wheel from the rear bar to over the axles', async (t) => {
  const { page, look } = await phone(t, { path });
  await load(page, 'Spare wheel').tap();
  assert.equal(await told(page), 'On the van, 3.00 m behind the van’s axles');
  const before = { ...(await figures(page)), least: await least(page) };
  await drag(page, await mark(page, 1), [await overAxles(page), 0.3]);
  assert.match(await told(page), /^On the van, (over the van’s axles|0\.\d\d m (ahead of|behind) the van’s axles)$/);
  const after = { ...(await figures(page)), least: await least(page) };
  // 32 kg by 3 m, over 4.9 m.
  assert.ok(Math.abs(after.ball - before.ball - 19.6) < 2, `${before.ball} to ${after.ball}`);
  assert.notEqual(after.worst, before.worst);
  assert.match(after.worst, /Vehicle \(GVM\)/);
  assert.ok(after.least < before.least, `${before.least} to ${after.least} psi`);
  await page.getByText(/\+(19|20|21) kg by the plan/).waitFor();
  assert.match(await page.locator('main > [role=status].unseen').innerText(), /^Spare wheel: On the van.*Ball mass 2\d\d kg.*Least left: Vehicle \(GVM\)/);
  await look('weights-moved');

  await page.getByRole('button', { name: 'Undo' }).tap();
  const { least: _, ...as } = before;
  assert.deepEqual(await figures(page), as);

  // Over the ball a load changes to the vehicle, and stays where it was let go.
  await drag(page, await mark(page, 1), [0.2, 0.5]);
  assert.match(await told(page), /^On the vehicle/);
  await page.reload();
  assert.match(await told(page), /^On the vehicle/);
  await page.getByRole('button', { name: 'Back to where it was weighed' }).tap();
  assert.deepEqual(await figures(page), as);
});

test('the keyboard does the same', async (t) => {
  const { page } = await phone(t, { path });
  const before = { ...(await figures(page)), least: await least(page) };
  await load(page, 'Spare wheel').press('Enter');
  await place(page).focus();
  for (let step = 0; step < 60; step += 1) await page.keyboard.press('ArrowLeft');
  assert.equal(await told(page), 'On the van, over the van’s axles');
  const after = { ...(await figures(page)), least: await least(page) };
  assert.ok(Math.abs(after.ball - before.ball - 19.6) < 1, `${before.ball} to ${after.ball}`);
  assert.notEqual(after.worst, before.worst);
  assert.ok(after.least < before.least);
  for (let step = 0; step < 60; step += 1) await page.keyboard.press('ArrowRight');
  const { least: _, ...as } = before;
  assert.deepEqual(await figures(page), as);
});

test('hitched and unhitched are two states of one rig', async (t) => {
  const { page, look } = await phone(t, { path });
  const front = () => page.locator('.on-axle .mass strong').first().innerText();
  assert.match(await front(), /^1310 kg/);
  await pick(page, 'Unhitched');
  assert.match(await front(), /^1400 kg/);
  assert.equal(await page.getByText('Vehicle and van (GCM)').count(), 0);
  await look('weights-unhitched');
});

// 1460 typed for 1640: two digits swapped left a mass as likely as the right one.
test('a mass short of its ticket is doubted on the first screen', async (t) => {
  const { page, look } = await phone(t, { path });
  await enterRig(page);
  await go(page, 'Weights');
  await page.getByText('Weighbridge tickets', { exact: true }).tap();
  await page.getByRole('button', { name: 'New ticket' }).tap();
  await field(page, 'Front axle, hitched').fill('1280');
  await field(page, 'Whole vehicle, hitched').fill('2920');
  await field(page, 'Van axles, hitched').fill('2600');
  await go(page, 'Pressures');
  const doubt = page.getByText('Check the mass: the weighbridge ticket gives at least');
  assert.equal(await doubt.count(), 0);
  await go(page, 'Rig');
  await field(card(page, 1), 'Mass on the axle').fill('1460');
  await go(page, 'Pressures');
  await doubt.waitFor();
  await look('pressures-ticket');
  await page.locator('li').filter({ has: doubt }).getByRole('button', { name: 'Open its entry' }).tap();
  await field(card(page, 1), 'Mass on the axle').fill('1640');
  // 63 typed for 36: never refused, and said.
  await field(card(page, 0), 'Placard pressure').fill('63');
  await card(page, 0).getByText('Check the placard’s pressure').waitFor();
  await go(page, 'Pressures');
  assert.equal(await axle(page, 'Front').locator('.number').innerText(), '63');
  assert.equal(await doubt.count(), 0);
  await page.getByText('Are two digits swapped?').waitFor();
});

// A vehicle that tows nothing was asked for the distance from ball to van axles.
test('a vehicle without a van is asked for nothing of a van', async (t) => {
  const { page, look } = await phone(t);
  await page.getByRole('button', { name: 'Enter my rig' }).tap();
  await page.getByRole('button', { name: 'Vehicle alone' }).tap();
  await go(page, 'Weights');
  await page.getByText('Enter the wheelbase under Measures').waitFor();
  await page.getByText('Measures and plates', { exact: true }).tap();
  for (const of of ['Rear axle to ball', 'Ball to van axles', 'ATM', 'Towing limit']) {
    assert.equal(await field(page, of).count(), 0, of);
  }
  await field(page, 'Wheelbase').fill('2800');
  await field(page, 'Vehicle unladen').fill('2100');
  await field(page, 'Of that on the front axle').fill('1150');
  await page.getByRole('button', { name: 'Add a load' }).tap();
  await field(page, 'Mass (kg)').fill('100');
  // Over the rear axle: all of it is there.
  assert.match(await page.locator('.on-axle .mass strong').nth(1).innerText(), /^about 1050 kg/);
  await page.getByRole('slider', { name: /^Its place/ }).press('End');
  assert.match(await told(page), /^On the vehicle, \d\.\d\d m behind the vehicle’s rear axle/);
  await look('weights-alone');
});

test('a first ticket takes the place of the estimate', async (t) => {
  const { page, look } = await phone(t, { path });
  await enterRig(page);
  await go(page, 'Weights');
  await page.getByText('No ticket yet: an estimate').waitFor();
  await page.locator('.missing').getByText('Unhitch on the plate, jockey wheel and all on it.').waitFor();
  assert.match(await page.locator('.on-axle .mass strong').first().innerText(), /not known/);
  await page.getByText('Measures and plates', { exact: true }).tap();
  for (const [name, value] of [
    ['Wheelbase', '2850'],
    ['Rear axle to ball', '1200'],
    ['Ball to van axles', '5100'],
    ['GVM', '3200'],
    ['Vehicle unladen', '2300'],
    ['Tare', '2100'],
    ['ATM', '2700'],
    ['GTM', '2500'],
  ]) {
    await page.getByLabel(name, { exact: false }).first().fill(value);
  }
  assert.match(await page.locator('.on-axle .mass strong').first().innerText(), /^about \d+ kg ± \d+ kg$/);
  await look('weights-estimate');

  await page.getByText('Weighbridge tickets', { exact: true }).tap();
  await page.getByRole('button', { name: 'New ticket' }).tap();
  await field(page, 'Weighbridge').last().fill('By the silos');
  await field(page, 'Front axle, hitched').fill('1280');
  await page.getByText('Weigh these too').waitFor();
  await field(page, 'Whole vehicle, hitched').fill('3060');
  await field(page, 'Van axles, hitched').fill('2240');
  await field(page, 'Whole van, unhitched').fill('2440');
  assert.equal(await ball(page), 200);
  assert.equal(await page.getByText('Weigh these too').count(), 0);

  // A reading that the others don't bear out.
  await field(page, 'Front axle, unhitched').fill('1360');
  await field(page, 'Whole vehicle, unhitched').fill('2700');
  await page.getByRole('alert').getByText('These readings can’t all be right').waitFor();
  await look('weights-contradiction');
  // One wrong reading was spread over all axles, said four screens further down,
  // and followed by the pressures.
  await page.getByText('No mass below is sure until they agree').waitFor();
  await page.getByText('The pressures don’t follow readings').waitFor();
  assert.equal(await page.getByLabel('The pressures follow these loads').count(), 0);
  await page.getByText('Weighbridge tickets', { exact: true }).tap();
  await page.getByRole('button', { name: 'Look at the readings' }).tap();
  await page.waitForFunction(() => document.activeElement?.id === 'contradiction');
  assert.ok(await page.getByRole('alert').isVisible());
  await field(page, 'Whole vehicle, unhitched').fill('2860');
  await page.getByText('How the readings agree').waitFor();

  // What can't be used is marked, and nothing is shown as if it were current.
  await field(page, 'Van axles, hitched').fill('2,24O');
  await page.getByText('An entry below can’t be used.').waitFor();
  assert.equal(await page.locator('.ball-mass').count(), 0);
  await page.reload();
  await page.getByText('An entry below can’t be used.').waitFor();
  await field(page, 'Van axles, hitched').fill('2240');
  assert.ok(Math.abs((await ball(page)) - 200) <= 20);
});

test('a tank part full is cautioned, a load can be added and removed', async (t) => {
  const { page, look } = await phone(t, { path });
  await page.getByText('Fresh water: part full, its water runs').waitFor();
  await load(page, 'Fresh water').tap();
  await page.getByText('part full, its water runs').waitFor();
  await field(page, 'Filled').fill('100');
  assert.equal(await page.getByText('part full, its water runs').count(), 0);
  const full = await ball(page);
  await page.getByRole('button', { name: 'Add a load' }).tap();
  await field(page, 'Name').fill('Generator');
  await field(page.locator('.picked-load'), 'Mass').fill('60');
  await place(page).press('End');
  assert.match(await told(page), /behind the van’s axles$/);
  assert.ok((await ball(page)) < full - 30);
  await look('weights-load');
  await page.getByRole('button', { name: 'Remove this load' }).tap();
  assert.equal(await ball(page), full);
  await page.getByRole('button', { name: 'Undo' }).tap();
  assert.ok((await ball(page)) < full - 30);
});

test('a day is written as the language of the browser has it', async (t) => {
  for (const [locale, day] of [['en-AU', '2 May 2026'], ['en-US', 'May 2, 2026'], ['de-DE', '02.05.2026']]) {
    const { page } = await phone(t, { path, locale });
    await page.getByText('Weighbridge tickets', { exact: true }).tap();
    const tickets = await field(page, 'Ticket that counts').locator('option').allTextContents();
    assert.ok(tickets.includes(`${day}, Invented weighbridge`), `${locale}: ${tickets}`);
  }
});

test('what was aboard belongs to its ticket', async (t) => {
  const { page } = await phone(t, { path });
  const before = await figures(page);
  // Left behind: it was on the ticket, and is no longer in the plan.
  await load(page, 'Spare wheel').tap();
  await page.getByRole('button', { name: 'Remove this load' }).tap();
  assert.notDeepEqual(await figures(page), before);
  await page.getByText('Weighbridge tickets', { exact: true }).tap();
  await page.getByRole('button', { name: 'New ticket' }).tap();
  await page.getByText('No ticket yet').waitFor();
  await field(page, 'Ticket that counts').selectOption({ label: '2 May 2026, Invented weighbridge' });
  assert.notDeepEqual(await figures(page), before);
  await page.getByRole('button', { name: 'Undo' }).tap();
  assert.deepEqual(await figures(page), before);
  await page.getByRole('button', { name: 'Delete this ticket' }).tap();
  await page.getByText('No ticket yet').waitFor();
  await page.getByRole('button', { name: 'Undo' }).tap();
  assert.deepEqual(await figures(page), before);
});

test('the pressures follow the loads once that is ticked, hitched and unhitched', async (t) => {
  const { page, look } = await phone(t);
  assert.equal(await axle(page, 'Trailer').locator('.load').innerText(), '660 kg a tyre');
  await go(page, 'Weights');
  const follows = page.getByLabel('The pressures follow these loads');
  await follows.check();
  await page.getByRole('slider', { name: /^Its place/ }).press('Home');
  assert.match(await told(page), /^On the vehicle, 3\.65 m ahead/);
  await go(page, 'Pressures');
  // 2240 kg on its axles, 32 kg · 7.9/4.9 of them with the spare wheel gone; four tyres, 10 % more.
  assert.equal(await axle(page, 'Trailer').locator('.load').innerText(), '602 kg a tyre');
  const front = () => axle(page, 'Front').locator('.load').innerText();
  const hitched = await front();
  await pick(page, 'Unhitched');
  assert.notEqual(await front(), hitched);
  await axle(page, 'Trailer').getByText('Stays behind').waitFor();
  await page.getByText('Above 100 km/h with a trailer').waitFor({ state: 'detached' });
  await look('pressures-unhitched');
  await page.reload();
  await axle(page, 'Trailer').getByText('Stays behind').waitFor();
  // The walk goes to the vehicle's tyres only.
  await pick(page, 'Dirt');
  await page.getByRole('link', { name: 'Let down for dirt' }).tap();
  await page.getByText('The van stays behind.').waitFor();
  await page.getByRole('button', { name: 'Cold: start' }).tap();
  await page.getByText('0 of 4 tyres done').waitFor();
  await go(page, 'Weights');
  assert.ok(await follows.isChecked());
  await page.getByRole('button', { name: 'Undo' }).waitFor({ state: 'detached' });
});

// A total read a tonne short took 7 psi off every axle, and said so nowhere near.
test('pressures that follow the loads stay where they are while the readings disagree', async (t) => {
  const { page } = await phone(t, { path });
  await page.getByLabel('The pressures follow these loads').check();
  await page.getByText('Weighbridge tickets', { exact: true }).tap();
  const loads = async () => {
    await go(page, 'Pressures');
    await page.locator('.axle-key .load').first().waitFor();
    return page.locator('.axle-key .load').allInnerTexts();
  };
  const before = await loads();
  await go(page, 'Weights');
  await page.getByText('Weighbridge tickets', { exact: true }).tap();
  const van = field(page, 'Van axles, hitched').first();
  const read = Number(await van.inputValue());
  await van.fill(String(read - 1000));
  await page.getByText('No mass below is sure until they agree').waitFor();
  assert.deepEqual(await loads(), before);
  await go(page, 'Weights');
  await page.getByRole('button', { name: 'Look at the readings' }).tap();
  await page.getByRole('alert').getByText('These readings can’t all be right').waitFor();
  await van.fill(String(read));
  await page.getByLabel('The pressures follow these loads').waitFor();
  assert.deepEqual(await loads(), before);
});

test('twice the text fits the phone', async (t) => {
  const { page, look } = await phone(t, { path });
  for (const fold of ['Weighbridge tickets', 'Measures and plates', 'What the words mean']) {
    await page.getByText(fold, { exact: true }).tap();
  }
  await page.evaluate(() => (document.documentElement.style.fontSize = '200%'));
  await look('weights-200');
});

test('taken back, the rig has the loads that it had', async (t) => {
  const { page } = await phone(t, { path });
  const follows = page.getByLabel('The pressures follow these loads');
  await follows.check();
  await page.getByRole('button', { name: 'Undo' }).tap();
  assert.ok(!(await follows.isChecked()));
  await go(page, 'Pressures');
  assert.equal(await axle(page, 'Trailer').locator('.load').innerText(), '660 kg a tyre');
});

test('an own rig is asked for its masses unhitched, and told where they come from', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await go(page, 'Pressures');
  await pick(page, 'Unhitched');
  await beside(page).getByText('Enter this axle\'s mass with the van unhitched.').first().waitFor();
  await beside(page).getByRole('button', { name: 'Open its entry' }).first().tap();
  const alone = field(card(page, 0), 'Mass, van unhitched');
  await alone.waitFor();
  assert.ok(await alone.evaluate((input) => input === document.activeElement));
  await alone.fill('1310');
  await unfold(card(page, 1), 'More');
  await field(card(page, 1), 'Mass, van unhitched').fill('1400');
  await go(page, 'Pressures');
  assert.equal(await axle(page, 'Front').locator('.load').innerText(), '721 kg a tyre');
  assert.equal(await axle(page, 'Rear').locator('.load').innerText(), '770 kg a tyre');
  await pick(page, 'Hitched');
  assert.equal(await axle(page, 'Front').locator('.load').innerText(), '699 kg a tyre');
});

for (const scheme of ['light', 'dark']) {
  // 'Rig' stood half outside the page once text was twice as large.
  test(`the five keys of the views show their words at any size of text (${scheme})`, async (t) => {
    const { page } = await phone(t, { scheme, path });
    for (const size of ['100%', '130%', '200%']) {
      await page.evaluate((size) => (document.documentElement.style.fontSize = size), size);
      const keys = await page.getByRole('navigation', { name: 'Views' }).getByRole('link').evaluateAll((links) =>
        links.map((link) => {
          const words = document.createRange();
          words.selectNodeContents(link);
          const [inner, outer] = [words.getBoundingClientRect(), link.getBoundingClientRect()];
          return {
            name: link.textContent,
            inside: inner.left >= outer.left && inner.right <= outer.right && inner.top >= outer.top && inner.bottom <= outer.bottom,
            onScreen: outer.left >= 0 && outer.right <= 360 && outer.bottom <= 740,
            height: outer.height,
          };
        }),
      );
      assert.deepEqual(keys.map(({ name }) => name), ['Pressures', 'Wheel nuts', 'Checks', 'Weights', 'Rig']);
      for (const key of keys) {
        assert.ok(key.inside && key.onScreen && key.height >= 48, `${size}: ${JSON.stringify(key)}`);
      }
      await page.screenshot({ path: `tests/e2e/shots/keys-${size.slice(0, -1)}-${scheme}.png` });
    }
  });
}
