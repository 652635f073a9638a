// The air view and the warm figures: the job at the edge of the dirt.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { phone } from './harness.mjs';
import { go, pick } from './words.mjs';

const PSI_PER_ATMOSPHERE = 14.6959;
const MINUTE_MS = 60_000;
const DAY_MS = 24 * 60 * MINUTE_MS;

/** What a gauge in whole psi should be brought to, by the gas law at sea level. */
function asRead(cold, { reading, wasCold }) {
  const ratio = (reading + PSI_PER_ATMOSPHERE) / (wasCold + PSI_PER_ATMOSPHERE);
  return Math.ceil((cold + PSI_PER_ATMOSPHERE) * ratio - PSI_PER_ATMOSPHERE);
}

const press = (page, name) => page.getByRole('button', { name, exact: true }).tap();

/** The figures of a list of axles, as numbers. */
async function figures(list) {
  return (await list.locator('.number').allTextContents()).map(Number);
}

const shown = (page) => figures(page.locator('.answers'));
const warmPanel = (page) => page.getByRole('region', { name: 'As read now' });

/** One warm tyre of the rear axle, which was set to the demo's 50 psi. */
async function readWarm(page, reading) {
  await press(page, 'Tyres warm? Read as now');
  await pick(page, 'Rear');
  await page.getByLabel('Reads now').fill(String(reading));
  await press(page, 'Show figures');
}

test('arrives warm, airs down, pumps up and logs, all offline', async (t) => {
  const { page, site, allow } = await phone(t, { workers: 'allow' });
  await page.locator('html[data-offline=ready]').waitFor();
  await site.stop();
  allow(/ERR_CONNECTION_REFUSED|Failed to fetch/);
  await page.reload();
  await page.locator('#start').waitFor({ state: 'detached' });

  await pick(page, 'Dirt');
  const cold = await shown(page);
  assert.deepEqual(cold, [27, 37, 33]);
  await readWarm(page, 56);
  const warm = cold.map((figure) => asRead(figure, { reading: 56, wasCold: 50 }));
  // The number to read off the gauge is the large one, the cold one the small.
  assert.deepEqual(await shown(page), warm);
  for (const figure of cold) await page.locator('.answers').getByText(`cold ${figure} psi`).waitFor();
  assert.equal(await page.locator('.answers').getByText('psi warm').count(), 3);

  await go(page, 'Air');
  assert.deepEqual(await figures(page.locator('.way').first()), warm);
  for (const figure of cold) await page.locator('.way').first().getByText(`cold ${figure} psi`).waitFor();
  await press(page, 'Start letting down');
  const targets = [warm[0], warm[0], warm[1], warm[1], warm[2], warm[2], warm[2], warm[2]];
  for (const [done, target] of targets.entries()) {
    await page.getByRole('heading', { name: `Tyre ${done + 1} of 8` }).waitFor();
    assert.deepEqual(await figures(page.locator('.walk')), [target]);
    if (done === 0) await press(page, 'Start');
    await press(page, 'Tyre done');
  }
  await page.getByRole('heading', { name: '8 tyres done' }).waitFor();
  await press(page, 'Log it');
  await page.getByText(/Last logged: .*sealed to dirt, 8 tyres/).waitFor();

  await page.getByText('Set to, cold: Front 27 psi; Rear 37 psi; Trailer 33 psi. Last for dirt').waitFor();

  // Back at the seal, warm from the dirt: what was cold is known from the walk.
  await go(page, 'Pressures');
  assert.deepEqual(await shown(page), cold);
  await pick(page, 'Sealed');
  await press(page, 'Tyres warm? Read as now');
  await pick(page, 'Front');
  await page.getByLabel('Reads now').fill('34');
  await page.getByText('Was cold: 27 psi, set for dirt on').waitFor();
  await press(page, 'Show figures');
  const up = [36, 50, 50].map((figure) => asRead(figure, { reading: 34, wasCold: 27 }));
  assert.deepEqual(await shown(page), up);
  await go(page, 'Air');
  await press(page, 'Start pumping up');
  for (const target of [up[0], up[0], up[1], up[1], up[2], up[2], up[2], up[2]]) {
    assert.deepEqual(await figures(page.locator('.walk')), [target]);
    await page.locator('.walk').getByText('psi warm').waitFor();
    await press(page, 'Tyre done');
  }
  await page.getByText('Read all tyres again cold').waitFor();
  await press(page, 'Log it');
  await page.getByText(/Last logged: .*dirt to sealed, 8 tyres/).waitFor();

  await page.getByText('Slow leaks').tap();
  await page.getByLabel('Cold reading now').fill('50');
  await press(page, 'Keep this reading');
  await page.getByText('Enter the air around').waitFor();
  await page.getByLabel('Air around now').fill('68 F');
  await press(page, 'Keep this reading');
  await page.getByText('One reading makes no line').waitFor();
  await page.getByText(/: 50 psi at 20 °C/).waitFor();
});

test('a warm reading counts for half an hour and is never shown as cold', async (t) => {
  const { page } = await phone(t, { clock: true });
  await pick(page, 'Dirt');
  await readWarm(page, 56);
  await warmPanel(page).getByText('0 min ago').waitFor();
  await page.clock.fastForward(29 * MINUTE_MS);
  await warmPanel(page).getByText('29 min ago').waitFor();
  assert.equal(await page.locator('.answers').getByText('psi warm').count(), 3);
  await go(page, 'Air');
  await press(page, 'Start letting down');
  assert.deepEqual(await figures(page.locator('.walk')), [31]);
  await page.clock.fastForward(2 * MINUTE_MS);
  // The walk asks for another instead of turning to the cold figure.
  await page.locator('.walk').getByText('over 30 min old and no longer counts').waitFor();
  assert.deepEqual(await figures(page.locator('.walk')), []);
  await go(page, 'Pressures');
  await warmPanel(page).getByText('over 30 min old and no longer counts').waitFor();
  assert.equal(await page.locator('.answers').getByText('psi warm').count(), 0);
  // Nor does it after a reload.
  await page.reload();
  await warmPanel(page).getByText('no longer counts').waitFor();
  await go(page, 'Air');
  await press(page, 'Read this tyre');
  assert.equal(await page.getByLabel('Was cold').inputValue(), '36');
  await page.getByLabel('Reads now').fill('40');
  await press(page, 'Show the figure');
  assert.deepEqual(await figures(page.locator('.walk')), [asRead(27, { reading: 40, wasCold: 36 })]);
  // A tyre begun is finished by the reading that it was begun with.
  await press(page, 'Start');
  await page.clock.fastForward(31 * MINUTE_MS);
  await page.getByRole('timer').getByText(/3[01]:/).waitFor();
  assert.deepEqual(await figures(page.locator('.walk')), [asRead(27, { reading: 40, wasCold: 36 })]);
  await press(page, 'Tyre done');
  await page.locator('.walk').getByText('no longer counts').waitFor();
  assert.deepEqual(await figures(page.locator('.walk')), []);
  await press(page, 'Tyres are cold');
  assert.deepEqual(await figures(page.locator('.walk')), [27]);
  await page.locator('.walk').getByText('psi cold').waitFor();
  await press(page, 'End walk');
  await page.getByText('Set to, cold: Front 27, 36 psi; Rear 50 psi; Trailer 50 psi.').waitFor();
  await page.getByText('The walk was left before its end').waitFor();
});

test('a warm figure goes with an entry that cannot be used', async (t) => {
  const { page } = await phone(t);
  await pick(page, 'Dirt');
  await readWarm(page, 56);
  await press(page, 'Read again');
  await page.getByLabel('Reads now').fill('5x');
  // Leaving it says what is wrong, which moves the keys below.
  await page.getByLabel('Reads now').blur();
  await page.getByText('This unit is not known here').waitFor();
  await press(page, 'Show figures');
  await warmPanel(page).getByText("can't be used").waitFor();
  assert.deepEqual(await shown(page), [27, 37, 33]);
  assert.equal(await page.locator('.answers').getByText('psi warm').count(), 0);
  await press(page, 'Read again');
  await page.getByLabel('Reads now').fill('44');
  await press(page, 'Show figures');
  await warmPanel(page).getByText('44 psi is below the 50 psi').waitFor();
  await press(page, 'Read again');
  await page.getByLabel('Reads now').fill('75');
  await press(page, 'Show figures');
  await warmPanel(page).getByText('Do not drive on').waitFor();
});

test('warns against bleeding warm tyres to a sealed-road figure', async (t) => {
  const { page } = await phone(t);
  await readWarm(page, 56);
  await warmPanel(page).getByText('Never let air out of a warm tyre').waitFor();
  await go(page, 'Air');
  await press(page, 'Start pumping up');
  await page.getByText('let none out; wait until it is cold').waitFor();
});

test("a tyre's temperature does instead of its cold pressure", async (t) => {
  const { page } = await phone(t);
  await pick(page, 'Dirt');
  await press(page, 'Tyres warm? Read as now');
  await pick(page, 'Its temperature');
  await page.getByLabel('Air in the tyre').fill('45');
  await press(page, 'Show figures');
  await warmPanel(page).getByText('Enter the temperature of the air around').waitFor();
  await press(page, 'Read again');
  await page.getByLabel('Air around now').fill('20');
  await press(page, 'Show figures');
  const now = (cold) => Math.ceil(((cold + PSI_PER_ATMOSPHERE) * 318.15) / 293.15 - PSI_PER_ATMOSPHERE);
  assert.deepEqual(await shown(page), [27, 37, 33].map(now));
});

async function openTools(page, part) {
  await page.getByText('Compressor, deflator, air space').tap();
  await page.getByText(part, { exact: true }).tap();
}

// The invented rig's figures stood here with no word that they are invented.
test('says of the demo rig that it is invented', async (t) => {
  const { page } = await phone(t, { path: '#/air' });
  await page.getByText('Invented demo rig.').waitFor();
  await page.getByRole('button', { name: 'Enter my rig' }).tap();
  await page.locator('#app h1', { hasText: 'My rig' }).waitFor();
  await go(page, 'Air');
  await page.getByRole('heading', { name: 'Trip sheet' }).waitFor();
  assert.equal(await page.getByText('Invented demo rig.').count(), 0);
});

// The sheet said "posted limit" of a way back on tyres made for 50 km/h.
test('the trip sheet keeps to the tyres’ own speed limit', async (t) => {
  const { page } = await phone(t, { path: '#/rig' });
  const tyre = page.locator('main section.card').first().getByLabel('Tyre, as its sidewall says');
  await tyre.fill('LT265/75R16 123/120B E');
  await go(page, 'Air');
  assert.deepEqual(await page.locator('.way .speed').allInnerTexts(), [
    'max 50 km/h',
    'posted limit, at most 50 km/h',
  ]);
});

test('the stopwatch times a tyre, also over a reload', async (t) => {
  const { page } = await phone(t, { path: '#/air', clock: true });
  await page.getByText("enter the compressor's flow").waitFor();
  await openTools(page, 'Time one tyre pumped up');
  await page.getByLabel('From (psi)').first().fill('27');
  await page.getByLabel('To (psi)').first().fill('36');
  await page.getByRole('button', { name: 'Start the stopwatch' }).first().tap();
  await page.clock.fastForward(40_000);
  await page.getByRole('timer').getByText(/0:4\d/).waitFor();
  await page.reload();
  await openTools(page, 'Time one tyre pumped up');
  await page.clock.fastForward(50_000);
  await page.getByRole('timer').getByText(/1:3\d/).waitFor();
  await press(page, 'Stop');
  const seconds = Number(await page.getByLabel('Time it took').first().inputValue());
  assert.ok(seconds >= 90 && seconds < 100, `${seconds} s`);
  // One figure now, and for this very fill the one timed.
  await page.getByText(/pump up to · 1 min 3\d s a tyre/).waitFor();
  await page.getByText(/All 8 tyres: \d+ min/).waitFor();
});

test('the walk shows what to expect, goes on over a reload and lets the pump rest', async (t) => {
  const { page } = await phone(t, { path: '#/air', clock: true });
  await openTools(page, 'Compressor');
  await page.getByLabel('Free-air flow').first().fill('2 cfm');
  await page.getByLabel('At (psi)').first().fill('0');
  await page.getByLabel('May run').fill('2');
  await page.getByLabel('Then rests').fill('10');
  await page.getByText(/All 8 tyres: \d+ to \d+ min, \d+ to \d+ min of it pauses/).waitFor();
  await press(page, 'Start pumping up');
  await page.getByText(/Expected: \d+ to \d+ (s|min)/).waitFor();
  await page.getByText('The screen stays on.').waitFor();
  await press(page, 'Start');
  await page.clock.fastForward(60_000);
  await page.reload();
  await page.getByRole('timer').getByText(/1:0\d/).waitFor();
  await page.clock.fastForward(61_000);
  await page.getByText('Let the compressor rest for 10 min').waitFor();
  await press(page, 'It has rested');
  await page.getByText('Let the compressor rest').waitFor({ state: 'detached' });
  await press(page, 'Go on');
  await page.clock.fastForward(20 * MINUTE_MS);
  await page.getByText('Longer than expected').waitFor();
  await press(page, 'Tyre done');
  await page.getByRole('heading', { name: 'Tyre 2 of 8' }).waitFor();
  await press(page, 'Back');
  await page.getByRole('heading', { name: 'Tyre 1 of 8' }).waitFor();
  await press(page, 'End walk');
  await page.getByRole('heading', { name: 'Trip sheet' }).waitFor();
});

test('says so where the screen cannot be kept on', async (t) => {
  const { page, context } = await phone(t);
  await context.addInitScript(() => {
    delete Navigator.prototype.wakeLock;
  });
  await page.goto('about:blank');
  await page.goBack();
  await go(page, 'Air');
  await press(page, 'Start letting down');
  await page.getByText('may switch the screen off').waitFor();
});

test('an unusable entry takes the minutes away', async (t) => {
  const { page } = await phone(t, { path: '#/air' });
  await openTools(page, 'Compressor');
  await page.getByLabel('Free-air flow').first().fill('150');
  await page.getByLabel('At (psi)').first().fill('0');
  await page.getByText(/All 8 tyres/).waitFor();
  await page.getByLabel('Free-air flow').first().fill('150x');
  await page.getByText(/All 8 tyres/).waitFor({ state: 'detached' });
  await page.getByText("No minutes: an entry of this page can't be used").first().waitFor();
});

test('judges the rise after an hour', async (t) => {
  const { page } = await phone(t, { path: '#/air' });
  await page.getByText('Warm check').tap();
  await pick(page, 'Rear');
  await page.getByLabel('Reads now').fill('62');
  await press(page, 'Check the rise');
  await page.getByText('Enter what it reads now').waitFor();
  await page.getByLabel('Driven before').fill('60');
  await press(page, 'Check the rise');
  await page.getByText('Too much: too little air').waitFor();
  await page.getByText('Rise 24 % of the cold 50 psi').waitFor();
  await page.getByLabel('Reads now').fill('56');
  await page.getByText('check again').waitFor();
  await press(page, 'Check the rise');
  await page.getByText('As expected').waitFor();
});

test('draws a leak with its band, and says when readings are too short', async (t) => {
  const { page, look } = await phone(t, { path: '#/air', clock: true });
  await page.getByText('Slow leaks').tap();
  await pick(page, 'Rear');
  await pick(page, '2');
  await page.getByText('Slow leaks').tap();
  const keep = async (reading) => {
    // Days later the temperature of the last reading no longer counts.
    await page.waitForFunction(() => document.querySelector('#now-air')?.value === '');
    await page.getByLabel('Air around now').fill('15');
    await page.getByText('Slow leaks').tap();
    await page.getByLabel('Cold reading now').fill(reading);
    await press(page, 'Keep this reading');
    await page.getByText(`: ${reading} psi at 15 °C`).waitFor();
  };
  await keep('56');
  await page.clock.fastForward(3 * DAY_MS);
  await keep('55.5');
  await page.getByText('Too short to say').waitFor();
  await page.clock.fastForward(27 * DAY_MS);
  await keep('50');
  await page.getByText(/Loses 6\.\d psi a month \(\d\.\d to \d\.\d\)/).waitFor();
  await page.getByText('It loses more than that').waitFor();
  await page.getByText(/Reaches the sealed-road load minimum, 3\d(\.\d)? psi, between/).waitFor();
  await page.locator('.chart polygon').waitFor();
  await look('air-leak');
  // Pumped up: the line would be false.
  await page.clock.fastForward(DAY_MS);
  await keep('58');
  await page.getByText('it was pumped up').waitFor();
  await page.getByRole('button', { name: /Delete the reading/ }).last().tap();
  await page.getByText('It loses more than that').waitFor();
  // Another tyre has its own.
  await pick(page, '1');
  await page.getByText('No readings of this tyre yet').waitFor();
});

for (const scheme of ['light', 'dark']) {
  test(`is accessible (${scheme})`, async (t) => {
    const { page, look } = await phone(t, { scheme });
    await pick(page, 'Dirt');
    await press(page, 'Tyres warm? Read as now');
    await page.getByText('Height and air temperature').tap();
    await look(`air-now-entry-${scheme}`);
    await press(page, 'Forget');
    await readWarm(page, 56);
    await look(`air-now-${scheme}`);
    await go(page, 'Air');
    await page.getByRole('heading', { name: 'Trip sheet' }).waitFor();
    for (const part of await page.locator('summary').all()) await part.tap();
    await page.getByLabel('Free-air flow').first().fill('72');
    await page.getByLabel('At (psi)').first().fill('30');
    await page.getByLabel('May run').fill('300');
    await page.getByLabel('Then rests').fill('10');
    await look(`air-${scheme}`);
    await press(page, 'Start letting down');
    await press(page, 'Start');
    await look(`air-walk-${scheme}`);
  });
}
