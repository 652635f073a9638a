// Wheel nuts: the mark to set, the tightening, and the checks that follow.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { phone } from './harness.mjs';
import { card, field, go, pick } from './words.mjs';

const open = (t, options) => phone(t, { path: '#/nuts', ...options });

/** The largest thing on the page: number and unit. */
const figure = async (page) => {
  const shown = page.locator('.torque .figure');
  return [await shown.locator('.number').innerText(), await shown.locator('.unit').innerText()].join(' ');
};

const nut = (page, number) => page.getByRole('button', { name: new RegExp(`^Nut ${number},`) });

/** No mark, and why; a mark that may miss alarms, one that is missing doesn't. */
const nothingToSet = (page, why) => page.locator('.torque .why-none', { hasText: why }).waitFor();
const doubted = (page, why) => page.locator('.torque .doubt', { hasText: why }).waitFor();
const alarmed = (page, why) => page.locator('.torque .warning', { hasText: why }).waitFor();

/** A wheel on the drawing of the rig; its name goes on with how it stands. */
const wheel = (page, name) => page.getByRole('group', { name: 'The rig from above' }).getByRole('button', { name });

/** The torque and the wrench of a half. */
async function toFigure(page, half) {
  await pick(page, 'Set the wrench');
  if (half) await pick(page, half);
}

/** A rig with nothing entered, on the wheel-nuts view. */
async function ownRig(page) {
  await page.getByRole('button', { name: 'Enter my rig' }).tap();
  await page.getByRole('link', { name: 'Wheel nuts' }).tap();
}

async function enterWrench(page, { lowest = '40', highest = '210', step = '2', accuracy = 'ISO 6789-1, set and clicks' } = {}) {
  await field(page, 'Lowest mark').fill(lowest);
  await field(page, 'Highest mark').fill(highest);
  await field(page, 'Step').fill(step);
  await field(page, 'Accuracy').selectOption(accuracy);
}

test('a stated torque is converted in two taps and one number', async (t) => {
  const { page, look } = await open(t);
  await ownRig(page);
  await page.getByRole('heading', { name: 'Which unit is it in?' }).waitFor();
  await look('nuts-empty');

  await page.locator('label', { hasText: 'ft·lbf' }).first().tap();
  await page.getByText('No figure yet').waitFor();
  await field(page, 'Torque stated').tap();
  await page.keyboard.type('105');

  // 105 ft·lbf on a caravan's nuts: common practice, no source.
  assert.equal(await figure(page), '142.4 N·m');
  await page.locator('dd', { hasText: '1260 lbf·in' }).waitFor();
  await page.locator('dd', { hasText: '14.52 kgf·m' }).waitFor();
  const [size, others] = await page.evaluate(() => {
    const px = (element) => parseFloat(getComputedStyle(element).fontSize);
    const number = document.querySelector('.torque .number');
    const all = [...document.querySelectorAll('main *')].filter((element) => element !== number);
    return [px(number), Math.max(...all.map(px))];
  });
  assert.ok(size > 1.5 * others, `the answer is ${size} px, the next largest ${others} px`);
});

/** Everything that the page has kept. */
const kept = (page) => page.evaluate(() => JSON.stringify(Object.entries(localStorage).sort()));

test("a friend's sticker is converted in three taps and two characters, and touches no rig", async (t) => {
  const { page, look } = await open(t);
  const before = await kept(page);
  let taps = 0;
  const tap = async (target) => {
    await target.tap();
    taps += 1;
  };
  await tap(page.getByRole('link', { name: 'Convert a figure' }));
  await look('convert-empty');
  await page.getByText('Pick the unit that the sticker states.').waitFor();
  await tap(page.locator('label', { hasText: 'ft·lbf' }));
  await tap(field(page, 'The figure'));
  await page.keyboard.type('85');
  // 85 ft·lbf is 115 N·m on a sheet of axle makers' values (banburytrailers.co.uk).
  const rows = page.locator('.in-unit');
  assert.deepEqual(await rows.allInnerTexts().then((all) => all.map((row) => row.replace(/\s+/g, ' ').trim())), [
    '115.2 N·m',
    '1020 lbf·in',
    '11.75 kgf·m',
  ]);
  console.log(`convert 85 ft·lbf: ${taps} taps, 2 characters`);
  assert.ok(taps <= 3);
  assert.match(new URL(page.url()).hash, /^#\/convert$/);
  assert.equal(await page.locator('.converted .warning, .error:not(:empty)').count(), 0, 'no alarm without a tolerance');
  await page.getByText('come first: this only turns their figure').waitFor();
  await look('convert-torque');

  await pick(page, '±');
  await page.getByText('Type the tolerance too').waitFor();
  await field(page, 'To either side').fill('5');
  await rows.first().getByText('allowed 108.5 to 122.0 N·m').waitFor();

  await pick(page, 'Pressure');
  assert.equal(await rows.count(), 0, 'no number counts before its unit');
  await pick(page.getByRole('group', { name: 'Which unit is it in?' }), 'psi');
  await field(page, 'The figure').fill('36');
  await pick(page, 'None');
  await rows.first().getByText('248', { exact: true }).waitFor();
  await look('convert-pressure');
  await field(page, 'The figure').fill('240');
  await page.getByText('Too high for a tyre.').waitFor();
  assert.equal(await rows.count(), 0);
  await look('convert-wrong');

  assert.equal(await kept(page), before, 'nothing of it is kept');
  await page.getByRole('link', { name: 'Wheel nuts' }).first().tap();
  assert.equal(await kept(page), before);
});

for (const scheme of ['light', 'dark']) {
  test(`a converted figure is legible at 360 px (${scheme})`, async (t) => {
    const { page, look } = await phone(t, { path: '#/convert', scheme });
    await pick(page, 'N·m');
    await field(page, 'The figure').fill('125');
    await pick(page, 'Range');
    await page.getByRole('textbox', { name: 'To (N·m)' }).fill('140');
    await page.locator('.in-unit').nth(2).waitFor();
    await look(`convert-range-${scheme}`);
  });
}

// N·m stood there preset: '105' off a ft·lbf sticker gave a mark of 104 N·m.
test('no number counts before its unit, and then as typed', async (t) => {
  const { page, look } = await open(t);
  await ownRig(page);
  await enterWrench(page);
  const torque = field(page, 'Torque stated');
  await torque.fill('105');
  await torque.blur();
  await page.getByText('Pick its unit first: then it counts.').waitFor();
  assert.equal(await page.locator('.torque .figure').count(), 0);
  assert.equal(await torque.getAttribute('aria-invalid'), 'false');
  await look('nuts-unit-first');
  await pick(page, 'Tighten');
  await wheel(page, 'Front, left').tap();
  await page.getByText("The makers' torque for these nuts comes first").waitFor();
  await page.getByRole('button', { name: 'Set the wrench' }).tap();
  await page.reload();
  await page.locator('#start').waitFor({ state: 'detached' });
  assert.equal(await torque.inputValue(), '105');
  await pick(page.getByRole('group', { name: "Makers' torque" }), 'ft·lbf');
  assert.equal(await figure(page), '142 N·m');
});

test('another unit keeps what was typed', async (t) => {
  const { page } = await open(t);
  await ownRig(page);
  const torque = field(page, 'Torque stated');
  await pick(page.getByRole('group', { name: "Makers' torque" }), 'N·m');
  await torque.fill('1260');
  await torque.blur();
  await page.getByText('Too high. Allowed: 1 to 1000 N·m.').waitFor();
  await pick(page.getByRole('group', { name: "Makers' torque" }), 'lbf·in');
  assert.equal(await torque.inputValue(), '1260');
  assert.equal(await figure(page), '142.4 N·m');
  // A torque in the wrench's unit stands as it is.
  await torque.fill('125');
  await pick(page.getByRole('group', { name: "Makers' torque" }), 'N·m');
  assert.equal(await figure(page), '125.0 N·m');
});

test('the mark follows the tolerance and the wrench, and says what it may give', async (t) => {
  const { page, look } = await open(t);
  await ownRig(page);
  await pick(page.getByRole('group', { name: "Makers' torque" }), 'ft·lbf');
  await field(page, 'Torque stated').fill('15');
  await doubted(page, 'A digit left out?');
  await field(page, 'Torque stated').fill('105');
  await enterWrench(page);
  assert.equal(await figure(page), '142 N·m');
  assert.equal(await page.locator('.torque .doubt').count(), 0);
  // The common case: plain words, no red cross.
  await page.locator('.torque .plainly', { hasText: 'No tolerance is stated' }).waitFor();
  assert.equal(await page.locator('.torque .warning').count(), 0);
  await look('nuts-no-tolerance');

  await pick(page, '± %');
  await field(page, 'To either side').fill('8');
  assert.equal(await figure(page), '142 N·m');
  await page.getByText("Inside the makers' range.").waitFor();
  await page.getByText('may give 136.3 to 148.0 N·m; allowed 131.0 to 153.7 N·m').waitFor();
  await look('nuts-inside');

  await field(page, 'To either side').fill('2');
  await alarmed(page, 'may miss');
  await page.getByText('Up to 3.2 N·m too little or 2.8 N·m too much').waitFor();
  await look('nuts-outside');

  await pick(page, 'Range');
  await field(page, 'From').fill('97');
  await field(page, 'To').fill('113');
  await page.getByText("Inside the makers' range.").waitFor();
  await pick(page, '− / +');
  await nothingToSetIsNoFigure(page);
  await field(page, 'Below').fill('0');
  await field(page, 'Above').fill('15');
  assert.equal(await figure(page), '152 N·m');

  // What can't be done is refused, with the reason.
  await field(page, 'Highest mark').fill('100');
  await nothingToSet(page, 'Beyond this wrench');
  await field(page, 'Highest mark').fill('101');
  await nothingToSet(page, 'no whole number of steps');
  await field(page, 'Highest mark').fill('900');
  await doubted(page, 'below 20 % of the highest');
});

const nothingToSetIsNoFigure = async (page) => {
  await page.getByText('No figure yet').waitFor();
  assert.equal(await page.locator('.torque .figure').count(), 0);
};

test('an unusable entry takes the figure away and keeps what was typed', async (t) => {
  const { page, look } = await open(t);
  await toFigure(page);
  assert.equal(await figure(page), '124 N·m');
  const torque = field(page, 'Torque stated');
  await torque.fill('12o');
  await page.getByText('It is marked below').waitFor();
  assert.equal(await page.locator('.torque .figure').count(), 0);
  await torque.blur();
  await look('nuts-unusable');
  await pick(page, 'Tighten');
  await page.locator('.axle-name', { hasText: 'Front' }).getByText('No mark').waitFor();
  await wheel(page, 'Front, left').tap();
  await page.getByText('No figure to tighten to').waitFor();
  assert.equal(await page.locator('.nut').count(), 0);

  // No pressure hangs on it.
  await page.getByRole('link', { name: 'Pressures' }).tap();
  await page.locator('.axle .number').nth(2).waitFor();
  await page.getByRole('link', { name: 'Wheel nuts' }).tap();
  await toFigure(page);
  assert.equal(await torque.inputValue(), '12o');
  await torque.fill('1500');
  await torque.blur();
  await page.getByText('Too high. Allowed: 1 to 1000 N·m.').waitFor();
  await torque.fill('125');
  assert.equal(await figure(page), '124 N·m');
});

test('an extension changes the mark by its arm', async (t) => {
  const { page, look } = await open(t);
  await toFigure(page);
  await field(page, 'Torque stated').fill('120');
  assert.equal(await figure(page), '120 N·m');
  await field(page, "Extension or crow's-foot").check();
  await page.getByText("Enter the extension's lengths and angle").waitFor();
  await field(page, 'Drive to middle of grip').fill('450');
  await field(page, 'Drive to middle of nut').fill('50');
  await field(page, 'Angle').fill('0');
  // 120 · 450/(450 + 50)
  assert.equal(await figure(page), '108 N·m');
  await page.getByText('Mark on the wrench, extension on').waitFor();
  await look('nuts-extension');
  await page.getByRole('button', { name: 'Tighten a wheel' }).tap();
  await wheel(page, 'Rear, right').tap();
  await page.getByText('With the extension on the wrench.').waitFor();
  await pick(page, 'Set the wrench');
  await field(page, 'Angle').fill('90');
  assert.equal(await figure(page), '120 N·m');
  await field(page, 'Drive to middle of nut').fill('400');
  await field(page, 'Angle').fill('180');
  await nothingToSet(page, 'a small slip of the hand');
});

test('clamp load says what oil would do, and asks for thread and strength first', async (t) => {
  const { page, look } = await open(t);
  await toFigure(page);
  await page.getByText('Clamp load, and what oil would do').tap();
  await page.getByText('never a reason to change').waitFor();
  await page.locator('dt', { hasText: 'With oil' }).waitFor();
  // 125/(0.20 · 0.012) N and 125/(0.15 · 0.012) N.
  await page.locator('dd', { hasText: 'About 52 kN (36 to 68)' }).waitFor();
  await page.locator('dd', { hasText: 'About 69 kN (49 to 90)' }).waitFor();
  await look('nuts-clamp');
  await field(page, 'Stud thread').selectOption('Choose…');
  await page.getByText('choose the thread and the strength').waitFor();
});

test('a six-stud wheel is ticked through with a reload in the middle', async (t) => {
  const { page, look } = await open(t);
  await page.locator('.axle-name', { hasText: 'Rear' }).getByText('124 N·m').waitFor();
  await look('nuts-which');
  await wheel(page, 'Rear, right').tap();
  await page.getByRole('heading', { name: 'Rear, right' }).waitFor();
  await look('nuts-six');
  for (const number of [1, 2, 3]) await nut(page, number).tap();
  await nut(page, 5).tap();
  await page.getByText('Out of order: nut 4 was next').waitFor();
  await page.getByRole('button', { name: 'Undo' }).tap();
  await nut(page, 4).and(page.getByRole('button', { name: /next/ })).waitFor();
  await page.getByText('Stage 1 of 2', { exact: true }).waitFor();
  // The largest mark of no more than half of 124 N·m.
  assert.equal(await page.locator('.at-hub .number').innerText(), '62');

  await page.reload();
  await page.locator('#start').waitFor({ state: 'detached' });
  for (const number of [1, 2, 3]) await nut(page, number).and(page.getByRole('button', { name: /done/ })).waitFor();
  for (const number of [4, 5, 6]) await nut(page, number).tap();

  await page.getByText('lower the wheel to the ground now').waitFor();
  await page.getByText('Stage 2 of 2', { exact: true }).waitFor();
  assert.equal(await page.locator('.at-hub .number').innerText(), '124');
  await nut(page, 1).tap();
  await nut(page, 1).tap();
  await page.getByText('Nut 1 is done in this stage').waitFor();
  await look('nuts-last-stage');
  for (const number of [2, 3, 4, 5, 6]) await nut(page, number).tap();

  await page.getByRole('heading', { name: 'Every nut is pulled' }).waitFor();
  await field(page, 'Odometer now').fill('84210');
  await look('nuts-finished');
  await page.getByRole('button', { name: 'Write to the log' }).tap();
  await page.getByText('Rear, right: written to the log.').waitFor();
  await wheel(page, 'Rear, right, done').waitFor();

  await pick(page, 'Re-check');
  await page.getByText('Re-check between 84\u202f260 km and 84\u202f310 km.').waitFor();
  await field(page, 'Odometer now').fill('84265');
  await page.getByText('Re-check now').waitFor();
  await page.getByText('refitted: Rear, right. 84\u202f210 km. 125.0 N·m').waitFor();
  await look('nuts-checks');
  await wheel(page, 'Rear, right, due').tap();
  await page.getByText('Next check by').waitFor();
  await wheel(page, 'Rear, right, done').waitFor();

  await page.reload();
  await page.locator('#start').waitFor({ state: 'detached' });
  await pick(page, 'Re-check');
  await page.getByText('Next check by').waitFor();
  await page.getByText('checked: Rear, right. 84\u202f265 km').waitFor();
});

test('a check of all wheels is one round on the drawing', async (t) => {
  const { page, look } = await open(t);
  await pick(page, 'Re-check');
  const names = await page.locator('.tyre-mark').evaluateAll((all) => all.map((mark) => mark.getAttribute('aria-label')));
  assert.equal(names.length, 8);
  let taps = 0;
  for (const name of names) {
    await wheel(page, name).tap();
    taps += 1;
    await wheel(page, `${name}, done`).waitFor();
  }
  console.log(`nut check of ${names.length} wheels: ${taps} taps, 0 characters`);
  // A round is one line of the log.
  const lines = page.getByRole('region', { name: 'Log' }).getByRole('listitem');
  assert.equal(await lines.count(), 1);
  await look('nuts-round');

  // A wheel tapped by mistake is taken back.
  await wheel(page, 'Trailer, rear axle, right, done').tap();
  await page.getByText('Trailer, rear axle, right: not checked.').waitFor();
  await page.getByText('Not in the log yet.').waitFor();

  // The newest line removed can be brought back, and stays after a reload.
  const written = await lines.first().innerText();
  await page.getByRole('button', { name: 'Remove the newest line' }).tap();
  await wheel(page, 'Front, left').waitFor();
  await page.getByRole('button', { name: 'Bring it back' }).tap();
  await page.reload();
  await page.locator('#start').waitFor({ state: 'detached' });
  await pick(page, 'Re-check');
  assert.equal(await lines.first().innerText(), written);

  // All at once, in one tap, taken back by the next: it once stood for good
  // unless its line was found in the log.
  await page.getByRole('button', { name: 'All of them are checked' }).tap();
  await page.getByText('All wheels: written down as checked.').waitFor();
  await page.getByRole('button', { name: 'Undo: not checked' }).tap();
  console.log('nut check of all wheels: 1 tap, and 1 to take it back');
  await page.getByText('All wheels: taken back.').waitFor();
  assert.equal(await lines.count(), 1);
  assert.equal(await page.getByRole('button', { name: 'Undo: not checked' }).count(), 0);
  await page.getByRole('button', { name: 'All of them are checked' }).tap();
  await wheel(page, 'Trailer, rear axle, right, done').tap();
  await page.getByText('Remove that line of the log').waitFor();
});

test('two tyres on one hub are one wheel', async (t) => {
  const { page, look } = await open(t);
  await go(page, 'Rig');
  await card(page, 1).locator('details').evaluateAll((all) => all.forEach((fold) => (fold.open = true)));
  await card(page, 1).getByLabel('Pairs: four tyres across').check();
  await go(page, 'Wheel nuts');
  assert.equal(await page.locator('.tyre-mark').count(), 8);
  await look('nuts-dual');
  await wheel(page, 'Rear, left').tap();
  await page.getByRole('heading', { name: 'Rear, left' }).waitFor();
});

test('two weeks later the nuts are due', async (t) => {
  const { page } = await open(t, { clock: true });
  await pick(page, 'Re-check');
  await page.getByRole('button', { name: 'All of them are checked' }).tap();
  await page.getByText('Next check by').waitFor();
  await page.clock.fastForward(14 * 24 * 3600 * 1000);
  await page.reload();
  await page.locator('#start').waitFor({ state: 'detached' });
  await pick(page, 'Re-check');
  await page.getByText('Due: two weeks were up').waitFor();
});

test('ticks hold for the figure they were made with, and a start over can be undone', async (t) => {
  const { page } = await open(t);
  await wheel(page, 'Front, left').tap();
  await nut(page, 1).tap();
  await nut(page, 2).tap();
  await pick(page, 'Set the wrench');
  await field(page, 'Torque stated').fill('110');
  await pick(page, 'Tighten');
  await page.getByText('This wheel was begun with another figure').waitFor();
  assert.equal(await page.locator('.nut').count(), 0);
  await page.getByRole('button', { name: 'Start again' }).tap();
  await nut(page, 1).and(page.getByRole('button', { name: /next/ })).waitFor();
  await nut(page, 1).tap();
  await page.getByRole('button', { name: 'Start again' }).tap();
  await nut(page, 1).and(page.getByRole('button', { name: /next/ })).waitFor();
  await page.getByRole('button', { name: 'Undo' }).tap();
  await nut(page, 1).and(page.getByRole('button', { name: /done/ })).waitFor();

  // The trailer's wheel is another one, and the one under way keeps its place.
  await page.getByRole('button', { name: 'Another wheel' }).tap();
  await wheel(page, 'Front, left, this one now').waitFor();
  await wheel(page, 'Trailer, front axle, left').tap();
  await nut(page, 1).and(page.getByRole('button', { name: /next/ })).waitFor();
  await page.getByRole('button', { name: 'Another wheel' }).tap();
  await wheel(page, 'Front, left, this one now').tap();
  await nut(page, 1).and(page.getByRole('button', { name: /done/ })).waitFor();

  // Left for another of the same nuts, it can be gone back to.
  await page.getByRole('button', { name: 'Another wheel' }).tap();
  await wheel(page, 'Front, right').tap();
  await nut(page, 1).and(page.getByRole('button', { name: /next/ })).waitFor();
  await page.getByRole('button', { name: 'Undo' }).tap();
  await page.getByRole('heading', { name: 'Front, left' }).waitFor();
  await nut(page, 1).and(page.getByRole('button', { name: /done/ })).waitFor();
});

for (const scheme of ['light', 'dark']) {
  test(`ten studs are legible and within a glove's reach at 360 px (${scheme})`, async (t) => {
    const { page, look } = await open(t, { scheme });
    await look(`nuts-which-${scheme}`);
    await toFigure(page);
    await look(`nuts-figure-${scheme}`);
    await page.getByRole('button', { name: 'Tighten a wheel' }).tap();
    await wheel(page, 'Front, left').tap();
    for (const studs of ['4', '5', '6', '8', '10']) {
      await pick(page, studs);
      const nuts = await page.locator('.nut').evaluateAll((all) =>
        all.map((nut) => {
          const { left, right, top, bottom, width } = nut.getBoundingClientRect();
          return { x: (left + right) / 2, y: (top + bottom) / 2, left, right, width, font: parseFloat(getComputedStyle(nut).fontSize) };
        }),
      );
      assert.equal(nuts.length, Number(studs));
      const hub = await page.locator('.at-hub').evaluate((hub) => {
        const range = document.createRange();
        range.selectNodeContents(hub);
        const { left, right, top, bottom } = range.getBoundingClientRect();
        return { left, right, top, bottom };
      });
      for (const [index, nut] of nuts.entries()) {
        assert.ok(nut.width >= 64 && nut.font >= 24, `${nut.width} px, ${nut.font} px`);
        assert.ok(nut.left >= 0 && nut.right <= 360, 'beyond the screen');
        for (const other of nuts.slice(index + 1)) {
          assert.ok(Math.hypot(nut.x - other.x, nut.y - other.y) >= nut.width + 8, `${studs} studs: nuts too close`);
        }
        const x = Math.max(hub.left, Math.min(hub.right, nut.x));
        const y = Math.max(hub.top, Math.min(hub.bottom, nut.y));
        assert.ok(Math.hypot(nut.x - x, nut.y - y) >= nut.width / 2, `${studs} studs: a nut covers the hub's words`);
      }
    }
    for (const number of [1, 2, 3]) await nut(page, number).tap();
    await look(`nuts-ten-${scheme}`);
    await pick(page, 'Re-check');
    await look(`nuts-checks-${scheme}`);
  });
}

// Half of the wheel stood under the edge, and the nut to pull next with it.
test('on its side the wheel, the nut to pull and what takes it back are one screen', async (t) => {
  const { page } = await open(t);
  await page.setViewportSize({ width: 740, height: 360 });
  for (const studs of ['6', '10']) {
    await wheel(page, 'Rear, left').tap();
    await pick(page, studs);
    await nut(page, 1).tap();
    await page.locator('.tighten').evaluate((part) => part.scrollIntoView({ block: 'start' }));
    const bar = await page.getByRole('navigation', { name: 'Views' }).boundingBox();
    const parts = [page.locator('.at-hub'), page.getByRole('button', { name: 'Undo', exact: true }), ...(await page.locator('.nut').all())];
    for (const part of parts) {
      const { y, height } = await part.boundingBox();
      assert.ok(y >= 0 && y + height <= bar.y, `${studs} studs, ${await part.innerText()}: ${y} to ${y + height} of ${bar.y}`);
    }
    const nuts = await page.locator('.nut').evaluateAll((all) => all.map((nut) => nut.getBoundingClientRect()).map(({ x, y, width }) => ({ x, y, width })));
    for (const [n, a] of nuts.entries()) {
      assert.ok(Math.round(a.width) >= 48, `${a.width} px`);
      for (const b of nuts.slice(n + 1)) assert.ok(Math.hypot(a.x - b.x, a.y - b.y) >= a.width, `${studs} studs: two nuts on each other`);
    }
    await page.getByRole('button', { name: 'Start again' }).tap();
    await page.getByRole('button', { name: 'Another wheel' }).tap();
  }
});

// Without an accuracy the figure stood there as if the wrench could be trusted.
test('that the wrench’s accuracy was not given is said beside the figure', async (t) => {
  const { page } = await open(t);
  await pick(page, 'Set the wrench');
  await page.getByText('Wrench: scale and accuracy').tap();
  await field(page, 'Accuracy').selectOption('Choose…');
  const figure = page.locator('.answers.torque');
  await figure.getByText('How accurate the wrench is was not given').waitFor();
  await pick(page, 'Tighten');
  await wheel(page, 'Rear, left').tap();
  await page.locator('.tighten').getByText('How accurate the wrench is was not given').waitFor();
  await pick(page, 'Set the wrench');
  await field(page, 'Accuracy').selectOption('Maker\'s, % of the reading');
  await figure.getByText('By how many per cent the wrench may be off was left blank').waitFor();
  await field(page, 'May be off by').fill('3');
  await figure.getByText('It may give').waitFor();
});
