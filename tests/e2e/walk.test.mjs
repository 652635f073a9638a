// The path through the job: the surface ahead, cold or warm, tyre by tyre, and
// kept as what the rig is set to.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { phone } from './harness.mjs';
import { axle, beside, card, enterRig, go, number, ownPressure, pick, unfold } from './words.mjs';

const PSI_PER_ATMOSPHERE = 14.6959;
const MINUTE_MS = 60_000;

/** What a gauge in whole psi should be brought to, by the gas law at sea level. */
function asRead(cold, { reading, wasCold }) {
  const ratio = (reading + PSI_PER_ATMOSPHERE) / (wasCold + PSI_PER_ATMOSPHERE);
  return Math.ceil((cold + PSI_PER_ATMOSPHERE) * ratio - PSI_PER_ATMOSPHERE);
}

const press = (page, name) => page.getByRole('button', { name, exact: true }).tap();
const follow = (page, name) => page.getByRole('link', { name, exact: true }).tap();
const openWalk = async (page) => {
  await page.goto(`${page.url().split('#')[0]}#/pressures/walk`);
  await page.locator('#walk-heading').waitFor();
};
const openTools = async (page, part) => {
  await page.goto(`${page.url().split('#')[0]}#/rig/tools`);
  await page.getByText(part, { exact: true }).tap();
};

/** The numbers on the first screen, front to back. */
const shown = (page) => Promise.all(['Front', 'Rear', 'Trailer'].map(async (name) => Number(await number(page, name))));
/** The number for the tyre in hand; none where one is asked for. */
const inHand = async (page) => (await page.locator('.in-hand .number').allInnerTexts()).map(Number);
/** The tyre in hand, by its full name. */
const which = (page) => page.locator('#walk-heading').innerText();
const setTo = (page) => page.getByRole('region', { name: 'What the rig is set to' });

/** The demo's tyres in the order of a way round it, with the axle of each. */
const ROUND = [
  ['Front, left', 0],
  ['Rear, left', 1],
  ['Trailer, front axle, left', 2],
  ['Trailer, rear axle, left', 2],
  ['Trailer, rear axle, right', 2],
  ['Trailer, front axle, right', 2],
  ['Rear, right', 1],
  ['Front, right', 0],
];

/** Another surface picked on the first screen, and on to its walk. */
async function pick2(page, surface) {
  await go(page, 'Pressures');
  await pick(page, surface);
  await openWalk(page);
}

/** One warm tyre of the rear axle, read before a walk. */
async function readWarm(page, reading) {
  await press(page, 'Warm: read one tyre');
  await pick(page, 'Rear');
  await page.getByLabel('Reads now').fill(String(reading));
}

test('arrives warm, lets down eight tyres and pumps up again, all offline', async (t) => {
  const { page, site, allow, look } = await phone(t, { workers: 'allow' });
  await page.locator('html[data-offline=ready]').waitFor();
  await site.stop();
  allow(/ERR_CONNECTION_(?:REFUSED|RESET)|Failed to fetch/);
  await page.reload();
  await page.locator('#start').waitFor({ state: 'detached' });

  // Counted as a thumb does it: from the first screen to the last tyre.
  let taps = 0;
  const tap = async (act) => {
    taps += 1;
    await act;
  };
  await tap(pick(page, 'Dirt'));
  const cold = await shown(page);
  assert.deepEqual(cold, [27, 37, 33]);
  await tap(follow(page, 'Let down for dirt'));
  await tap(press(page, 'Warm: read one tyre'));
  await tap(pick(page, 'Rear'));
  await tap(page.getByLabel('Reads now').fill('56'));
  await tap(press(page, 'Start, tyres warm'));
  const warm = cold.map((figure) => asRead(figure, { reading: 56, wasCold: 50 }));
  for (const [name, axle] of ROUND) {
    assert.equal(await which(page), name);
    assert.deepEqual(await inHand(page), [warm[axle]]);
    await page.locator('.in-hand').getByText(`cold ${cold[axle]} psi`).waitFor();
    await tap(press(page, 'Tyre done'));
  }
  console.log(`warm let-down of eight tyres: ${taps} taps`);
  assert.ok(taps <= 14, `${taps} taps`);
  await page.getByRole('heading', { name: 'Set for dirt' }).waitFor();
  await look('walk-ended');
  await follow(page, 'Back to the pressures');
  await setTo(page).getByText(/Set for dirt since \d+:\d\d, tyres warm\. Cold figures below: warm tyres read more; let none out to reach them\. Pump up before sealed road\./).waitFor();
  // What was read was of tyres at another pressure.
  assert.deepEqual(await shown(page), cold);
  await look('set-for-dirt');

  // A round begun as cold minutes later had the warm tyres let down.
  await page.evaluate(() => (location.hash = '#/checks/round'));
  await page.getByText(/^They were warm at \d+:\d\d, less than 3 hours ago\.$/).waitFor();
  const filled = page.locator('.walk-keys .primary');
  assert.deepEqual(await filled.allInnerTexts(), ['Start, tyres warm']);
  await go(page, 'Pressures');

  // Hours later the tyres are cold again.
  await press(page, 'Pump up for sealed road');
  await press(page, 'Cold: start');
  for (const [name, axle] of ROUND) {
    assert.equal(await which(page), name);
    assert.deepEqual(await inHand(page), [[36, 50, 50][axle]]);
    await page.locator('.in-hand').getByText('cold', { exact: true }).waitFor();
    await press(page, 'Tyre done');
  }
  await page.getByText('Read all tyres again cold').waitFor();
  await follow(page, 'Back to the pressures');
  await setTo(page).getByText(/Set for sealed since/).waitFor();
});

test('a first dirt figure takes one tap, and they are set by one more', async (t) => {
  const { page } = await phone(t);
  await pick(page, 'Dirt');
  assert.deepEqual(await shown(page), [27, 37, 33]);
  await press(page, 'They are set so');
  await setTo(page).getByText('Set for dirt since').waitFor();
  await page.reload();
  await setTo(page).getByText('Set for dirt since').waitFor();
  // Warm at the seal, the blank cold pressure is what they were set to.
  await press(page, 'Pump up for sealed road');
  await press(page, 'Warm: read one tyre');
  await page.getByLabel('Reads now').fill('34');
  await page.getByText('Was cold: 27 psi, set for dirt').waitFor();
  await press(page, 'Start, tyres warm');
  assert.deepEqual(await inHand(page), [asRead(36, { reading: 34, wasCold: 27 })]);
});

test('a walk keeps its place, takes any tyre first, and is taken back', async (t) => {
  const { page, look } = await phone(t);
  await pick(page, 'Dirt');
  await follow(page, 'Let down for dirt');
  await press(page, 'Cold: start');
  await press(page, 'Tyre done');
  // Left for another view, and found again.
  await go(page, 'Pressures');
  await setTo(page).getByText('Under way to dirt: 1 tyre done').waitFor();
  await page.reload();
  await follow(page, 'Go on with the walk');
  assert.equal(await which(page), 'Rear, left');
  // A tyre out of its turn, by the drawing.
  await page.getByRole('button', { name: 'Trailer, front axle, left' }).tap();
  assert.equal(await which(page), 'Trailer, front axle, left');
  await press(page, 'Tyre done');
  await page.getByRole('button', { name: 'Rear, left, this one now' }).waitFor();
  await page.getByRole('button', { name: 'Trailer, front axle, left, done' }).waitFor();
  await look('walk-skipped');
  // A reload once put another tyre in hand than the one tapped.
  await page.getByRole('button', { name: 'Trailer, rear axle, right' }).tap();
  await page.reload();
  await page.locator('#start').waitFor({ state: 'detached' });
  assert.equal(await which(page), 'Trailer, rear axle, right');
  // A tyre done was tapped, and undo took another's tick without a word.
  await page.getByRole('button', { name: 'Front, left, done' }).tap();
  await press(page, 'Undo: Trailer, front axle, left');
  assert.equal(await which(page), 'Trailer, front axle, left');
  await page.getByRole('button', { name: 'Front, left, done' }).tap();
  await press(page, 'Not done after all');
  assert.equal(await which(page), 'Front, left');
  await press(page, 'Tyre done');
  await press(page, 'End it here');
  await page.getByText('do not drive so').waitFor();
  await press(page, 'Undo');
  assert.equal(await which(page), 'Rear, left');
  await press(page, 'End it here');
  await follow(page, 'Back to the pressures');
  await setTo(page).getByText('some tyres are set for dirt, some are not').waitFor();
  // What is left to do is seven tyres; the one done is not asked for again.
  await follow(page, 'Let down for dirt');
  await press(page, 'Cold: start');
  assert.equal(await which(page), 'Rear, left');
  await page.getByText('0 of 7 tyres done').waitFor();
});

// The van's tyres stood there as done on a walk without the van.
test('a walk with the van left behind leaves its tyres out', async (t) => {
  const { page, look } = await phone(t);
  await pick(page, 'Unhitched');
  await page.goto(`${page.url().split('#')[0]}#/rig`);
  for (const index of [0, 1]) {
    await unfold(card(page, index), 'More');
    await card(page, index).getByLabel('Mass, van unhitched').fill(['1400', '1465'][index]);
  }
  await go(page, 'Pressures');
  await pick(page, 'Dirt');
  await follow(page, 'Let down for dirt');
  await press(page, 'Cold: start');
  await page.getByText('stays behind').waitFor();
  const van = page.getByRole('button', { name: /^Trailer, .*, has no part in this$/ });
  assert.equal(await van.count(), 4);
  await van.first().dispatchEvent('click');
  assert.equal(await which(page), 'Front, left');
  assert.equal(await page.getByText('An axle has no figure').count(), 0);
  await look('walk-unhitched');
});

// 'Let down to 42 warm' stood above the word not to let any out.
test('a warm tyre above its sealed-road figure waits until it is cold', async (t) => {
  const { page } = await phone(t, { path: '#/rig' });
  await (await ownPressure(page, 0)).fill('45');
  await go(page, 'Pressures');
  await pick(page, 'Sealed');
  await press(page, 'They are set so');
  await go(page, 'Rig');
  await (await ownPressure(page, 0)).fill('');
  await openWalk(page);
  await readWarm(page, 56);
  await press(page, 'Start, tyres warm');
  assert.equal(await which(page), 'Front, left');
  await page.locator('.in-hand').getByText('Wait until cold, then let down to').waitFor();
  assert.deepEqual(await inHand(page), [36]);
  await page.locator('.in-hand').getByText('cold', { exact: true }).waitFor();
});

// 'Cold: start' was the filled key also an hour after a warm walk.
test('the key to begin with is the one that is right for what is known of the tyres', async (t) => {
  const { page } = await phone(t, { clock: true });
  const filled = () => page.locator('.walk-keys .primary').innerText();
  await pick(page, 'Dirt');
  await follow(page, 'Let down for dirt');
  await page.getByText('Not sure: read one.').waitFor();
  assert.equal(await filled(), 'Warm: read one tyre');
  await readWarm(page, 56);
  await press(page, 'Start, tyres warm');
  for (let tyre = 0; tyre < 8; tyre += 1) await press(page, 'Tyre done');
  await page.clock.fastForward(60 * MINUTE_MS);
  await pick2(page, 'Sealed');
  await page.getByText(/They were warm at \d+:\d\d, less than 3 hours ago/).waitFor();
  assert.equal(await filled(), 'Warm: read one tyre');
  await press(page, 'Cold: start');
  for (let tyre = 0; tyre < 8; tyre += 1) await press(page, 'Tyre done');
  await page.clock.fastForward(5 * MINUTE_MS);
  await pick2(page, 'Dirt');
  await page.getByText('They were set cold a few minutes ago.').waitFor();
  assert.equal(await filled(), 'Cold: start');
});

test('a warm reading counts for half an hour and is never shown as cold', async (t) => {
  const { page } = await phone(t, { clock: true });
  await pick(page, 'Dirt');
  await follow(page, 'Let down for dirt');
  await readWarm(page, 56);
  await go(page, 'Pressures');
  await page.getByText('0 min ago').waitFor();
  await page.clock.fastForward(29 * MINUTE_MS);
  await page.getByText('29 min ago').waitFor();
  assert.equal(await page.locator('.axle.warm').count(), 3);
  await openWalk(page);
  await press(page, 'Start, tyres warm');
  assert.deepEqual(await inHand(page), [31]);
  await page.clock.fastForward(2 * MINUTE_MS);
  // The walk asks for another instead of turning to the cold figure.
  await page.locator('.walk').getByText('over 30 min old and no longer counts').waitFor();
  assert.deepEqual(await inHand(page), []);
  await go(page, 'Pressures');
  await page.getByText('over 30 min old and no longer counts').waitFor();
  assert.equal(await page.locator('.axle.warm').count(), 0);
  // Nor does it after a reload.
  await page.reload();
  await page.getByText('no longer counts').waitFor();
  await follow(page, 'Go on with the walk');
  await press(page, 'Read this tyre');
  assert.equal(await page.getByLabel('Was cold').inputValue(), '36');
  await page.getByLabel('Reads now').fill('40');
  await press(page, 'Show the figure');
  assert.deepEqual(await inHand(page), [asRead(27, { reading: 40, wasCold: 36 })]);
  // A tyre begun is finished by the reading that it was begun with.
  await press(page, 'Time it');
  await page.clock.fastForward(31 * MINUTE_MS);
  await page.getByRole('timer').getByText(/3[01]:/).waitFor();
  assert.deepEqual(await inHand(page), [asRead(27, { reading: 40, wasCold: 36 })]);
  await press(page, 'Tyre done');
  await page.locator('.walk').getByText('no longer counts').waitFor();
  assert.deepEqual(await inHand(page), []);
  await press(page, 'Tyres are cold');
  assert.deepEqual(await inHand(page), [37]);
  await page.locator('.in-hand').getByText('cold', { exact: true }).waitFor();
  await press(page, 'End it here');
  await page.getByText('some are not: do not drive so').waitFor();
});

// 'tyres warm' stood there fifteen days later.
test('that the rig was set warm is said until its tyres are cold', async (t) => {
  const { page } = await phone(t, { clock: true });
  await pick(page, 'Dirt');
  await follow(page, 'Let down for dirt');
  await readWarm(page, 56);
  await press(page, 'Start, tyres warm');
  for (let tyre = 0; tyre < 8; tyre += 1) await press(page, 'Tyre done');
  await follow(page, 'Back to the pressures');
  await setTo(page).getByText('tyres warm. Cold figures below').waitFor();
  await page.clock.fastForward(3 * 60 * MINUTE_MS);
  await setTo(page).getByText(/Set for dirt since \d+:\d\d\. Pump up|Set for dirt since .*, \d+:\d\d\. Pump up/).waitFor();
});

// The form was made anew with every digit that changed a target: '56.5' ended
// as '56', and nothing said so.
test('a warm reading is typed digit by digit', async (t) => {
  const { page } = await phone(t);
  await pick(page, 'Dirt');
  await follow(page, 'Let down for dirt');
  await press(page, 'Warm: read one tyre');
  // Nothing read is said, not passed over.
  await press(page, 'Start, tyres warm');
  await page.getByText('Enter what the gauge reads on one warm tyre').waitFor();
  const reading = page.getByLabel('Reads now');
  await reading.focus();
  for (const [index, key] of [...'41.5'].entries()) {
    await page.keyboard.type(key);
    assert.equal(await reading.inputValue(), '41.5'.slice(0, index + 1));
  }
  assert.ok(await reading.evaluate((field) => field === document.activeElement));
});

// The words below a warm figure pushed the axles' names under the tyres, and
// the units over the numbers.
test('what stands on an axle stays within it, cold and warm, at any size', async (t) => {
  const { page } = await phone(t);
  await pick(page, 'Dirt');
  const check = async (what) => {
    for (const [width, height, text] of [[320, 640, 100], [360, 740, 100], [412, 915, 100], [740, 360, 100], [360, 740, 200]]) {
      await page.setViewportSize({ width, height });
      await page.evaluate((text) => (document.documentElement.style.fontSize = `${text}%`), text);
      const over = await page.evaluate(() => {
        const faults = [];
        for (const line of document.querySelectorAll('.on-axle')) {
          const { left, right } = line.getBoundingClientRect();
          const parts = [...line.querySelectorAll('.name, .number, .load, .between, .slow, .unit-key')];
          const boxes = parts.map((part) => {
            const range = document.createRange();
            range.selectNodeContents(part);
            return [part.className, range.getBoundingClientRect()];
          });
          for (const [name, box] of boxes) {
            if (box.left < left - 1 || box.right > right + 1) faults.push(`${name} beyond its axle`);
          }
          boxes.forEach(([one, a], i) => {
            for (const [other, b] of boxes.slice(i + 1)) {
              // Digits are lower than their line.
              const over = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
              const apart = a.right <= b.left + 1 || b.right <= a.left + 1 || over <= 0.15 * Math.max(a.height, b.height);
              if (!apart) faults.push(`${one} on ${other}`);
            }
          });
        }
        return faults;
      });
      assert.deepEqual(over, [], `${what}, ${width} px, ${text} % text`);
    }
    await page.setViewportSize({ width: 360, height: 740 });
    await page.evaluate(() => (document.documentElement.style.fontSize = ''));
  };
  await check('cold');
  await follow(page, 'Let down for dirt');
  await readWarm(page, 56);
  await go(page, 'Pressures');
  await page.locator('.axle.warm').nth(2).waitFor();
  await check('warm');
});

test('a warm figure goes with an entry that cannot be used', async (t) => {
  const { page } = await phone(t);
  await pick(page, 'Dirt');
  await follow(page, 'Let down for dirt');
  await readWarm(page, '5x');
  // Leaving it says what is wrong, which moves the keys below.
  await page.getByLabel('Reads now').blur();
  await page.getByText('This unit is not known here').waitFor();
  await press(page, 'Start, tyres warm');
  await page.getByText("An entry of the warm reading can't be used").waitFor();
  assert.deepEqual(await inHand(page), []);
  await page.getByLabel('Reads now').fill('44');
  await page.getByText('44 psi is below the 50 psi').waitFor();
  await page.getByLabel('Reads now').fill('75');
  await page.getByText('Do not drive on').waitFor();
  await go(page, 'Pressures');
  assert.deepEqual(await shown(page), [27, 37, 33]);
  assert.equal(await page.locator('.axle.warm').count(), 0);
});

test('warns against bleeding warm tyres to a sealed-road figure', async (t) => {
  const { page } = await phone(t);
  await openWalk(page);
  await readWarm(page, 56);
  await go(page, 'Pressures');
  await page.getByText('Never let air out of a warm tyre to reach a sealed-road figure').waitFor();
  await openWalk(page);
  await press(page, 'Start, tyres warm');
  await page.getByText('let none out; wait until it is cold').waitFor();
});

test("a tyre's temperature does instead of its cold pressure", async (t) => {
  const { page } = await phone(t);
  await pick(page, 'Dirt');
  await follow(page, 'Let down for dirt');
  await press(page, 'Warm: read one tyre');
  await page.getByText('By its temperature instead').tap();
  await pick(page, 'Its temperature');
  await page.getByLabel('Air in the tyre').fill('45');
  await page.getByText('Enter the temperature of the air around').waitFor();
  await page.getByLabel('Air around now').fill('20');
  await go(page, 'Pressures');
  const now = (cold) => Math.ceil(((cold + PSI_PER_ATMOSPHERE) * 318.15) / 293.15 - PSI_PER_ATMOSPHERE);
  assert.deepEqual(await shown(page), [27, 37, 33].map(now));
});

// The sheet said "posted limit" of a way back on tyres made for 50 km/h.
test('the way back keeps to the tyres’ own speed limit', async (t) => {
  const { page } = await phone(t, { path: '#/rig' });
  await card(page, 0).getByLabel('Tyre, as its sidewall says').fill('LT265/75R16 123/120B E');
  await openWalk(page);
  assert.equal(await page.locator('.walk-start .speed').innerText(), 'posted limit, at most 50 km/h');
});

test('the walk shows what to expect, goes on over a reload, lets the pump rest, and offers its time', async (t) => {
  const { page } = await phone(t, { clock: true });
  await press(page, 'They are set so');
  await pick(page, 'Dirt');
  await press(page, 'They are set so');
  await openTools(page, 'Compressor');
  await page.getByLabel('Free-air flow').first().fill('2 cfm');
  await page.getByLabel('At (psi)').first().fill('0');
  await page.getByLabel('May run').fill('2');
  await page.getByLabel('Then rests').fill('10');
  await go(page, 'Pressures');
  await press(page, 'Pump up for sealed road');
  await page.getByText(/All 8 tyres: \d+ to \d+ min, \d+ to \d+ min of it pauses/).waitFor();
  await press(page, 'Cold: start');
  await page.getByText(/Expected: \d+ to \d+ (s|min)/).waitFor();
  await page.getByText('The screen stays on.').waitFor();
  await press(page, 'Time it');
  await page.clock.fastForward(60_000);
  await page.reload();
  await page.getByRole('timer').getByText(/1:0\d/).waitFor();
  await page.clock.fastForward(61_000);
  await page.getByText('Let the compressor rest for 10 min').waitFor();
  await press(page, 'It has rested');
  await page.getByText('Let the compressor rest').waitFor({ state: 'detached' });
  await press(page, 'Clock on');
  await page.clock.fastForward(20 * MINUTE_MS);
  await page.getByText('Longer than expected').waitFor();
  await press(page, 'Tyre done');
  assert.equal(await which(page), 'Rear, left');
  await press(page, 'End it here');
  await page.getByText(/Front: one tyre from 27 psi to 36 psi took 22:/).waitFor();
  await press(page, 'Count on it for later minutes');
  await page.getByText('one tyre from').waitFor({ state: 'detached' });
  await openTools(page, 'Time one tyre pumped up');
  assert.match(await page.getByLabel('Time it took').first().inputValue(), /^13\d\d/);
});

test('says so where the screen cannot be kept on', async (t) => {
  const { page, context } = await phone(t);
  await context.addInitScript(() => {
    delete Navigator.prototype.wakeLock;
  });
  await page.goto('about:blank');
  await page.goBack();
  await openWalk(page);
  await press(page, 'Cold: start');
  await page.getByText('may switch the screen off').waitFor();
});

// Without the pressure that it is given at, a flow was passed over as none.
test('a flow without its pressure says so where it is entered', async (t) => {
  const { page } = await phone(t);
  await pick(page, 'Dirt');
  await press(page, 'They are set so');
  await pick(page, 'Sealed');
  await openTools(page, 'Compressor');
  await page.getByLabel('Free-air flow').first().fill('72');
  const blank = page.getByText('“At” is blank: this flow counts for nothing.');
  await blank.waitFor();
  await page.getByLabel('May run').fill('30');
  await page.getByText('“Then rests” is blank').waitFor();
  await openWalk(page);
  await page.getByText('Minutes not known: a flow (Rig, “Compressor, deflator”) lacks its pressure').waitFor();
  await openTools(page, 'Compressor');
  await page.getByLabel('At (psi)').first().fill('0');
  await blank.waitFor({ state: 'detached' });
});

test('an unusable entry takes the minutes away', async (t) => {
  const { page } = await phone(t);
  await pick(page, 'Dirt');
  await press(page, 'They are set so');
  await pick(page, 'Sealed');
  await openTools(page, 'Compressor');
  await page.getByLabel('Free-air flow').first().fill('150');
  await page.getByLabel('At (psi)').first().fill('0');
  await openWalk(page);
  await page.getByText(/All 8 tyres/).waitFor();
  await openTools(page, 'Compressor');
  await page.getByLabel('Free-air flow').first().fill('150x');
  await openWalk(page);
  await page.getByText("Minutes not known: an entry can't be used").waitFor();
  assert.equal(await page.getByText(/All 8 tyres/).count(), 0);
});

// Soft sand picked on one view was dirt on another.
test('soft sand picked on the first screen is soft sand all the way', async (t) => {
  const { page } = await phone(t);
  await pick(page, 'Soft sand');
  const numbers = await shown(page);
  await follow(page, 'Let down for soft sand');
  await press(page, 'Cold: start');
  assert.deepEqual(await inHand(page), [numbers[0]]);
  await page.getByText('Let down for soft sand').waitFor();
});

test('an own rig fills the first screen: surface, numbers, speed, state and what comes next', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  for (let index = 0; index < 3; index += 1) {
    await card(page, index).getByLabel('Placard pressure').fill(['36', '42', '50'][index]);
  }
  await go(page, 'Pressures');
  await pick(page, 'Dirt');
  await press(page, 'They are set so');
  await setTo(page).waitFor();
  const nav = await page.getByRole('navigation', { name: 'Views' }).boundingBox();
  const parts = [
    setTo(page),
    page.locator('.surfaces'),
    page.locator('.speed'),
    page.locator('.rig-drawing'),
    page.getByRole('button', { name: 'Pump up for sealed road' }),
  ];
  await page.evaluate(() => scrollTo(0, 0));
  for (const part of parts) {
    const box = await part.boundingBox();
    assert.ok(box.y >= 0 && box.y + box.height <= nav.y + 1, `${await part.innerText()}: ${box.y + box.height} of ${nav.y}`);
  }
  assert.equal(await beside(page).count(), 0);

  // A small phone has room for the numbers.
  await page.setViewportSize({ width: 320, height: 640 });
  const bar = await page.getByRole('navigation', { name: 'Views' }).boundingBox();
  for (const name of ['Front', 'Rear', 'Trailer']) {
    const box = await axle(page, name).locator('.number').boundingBox();
    assert.ok(box.y >= 0 && box.y + box.height <= bar.y + 1, `${name}: ${box.y + box.height} of ${bar.y}`);
  }
});

for (const scheme of ['light', 'dark']) {
  test(`the walk is accessible (${scheme})`, async (t) => {
    const { page, look } = await phone(t, { scheme });
    await pick(page, 'Dirt');
    await follow(page, 'Let down for dirt');
    await look(`walk-start-${scheme}`);
    await press(page, 'Warm: read one tyre');
    await page.getByText('Height and air temperature').tap();
    await look(`walk-reading-${scheme}`);
    await page.getByLabel('Reads now').fill('45');
    await go(page, 'Pressures');
    await look(`pressures-warm-${scheme}`);
    await openWalk(page);
    await press(page, 'Start, tyres warm');
    await press(page, 'Time it');
    await look(`walk-${scheme}`);
  });
}
