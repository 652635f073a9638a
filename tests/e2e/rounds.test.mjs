// Check rounds, what is due, reminders, and the log.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { phone } from './harness.mjs';
import { enterRig, go, unfold } from './words.mjs';

const DAY_MS = 24 * 60 * 60_000;
const ROUND = '#/checks/round';

const press = (page, name) => page.getByRole('button', { name, exact: true }).tap();
const reads = (page) => page.getByLabel('Reads');
const title = (page, name) => page.getByRole('heading', { name, exact: true }).waitFor();
const goTo = (page, address) => page.evaluate((address) => (location.hash = address), address);
const saved = async (page, name) => {
  const download = page.waitForEvent('download');
  await page.getByRole('link', { name }).first().tap();
  const file = await download;
  return { name: file.suggestedFilename(), text: readFileSync(await file.path(), 'utf8') };
};

/** Reads every tyre of the rig, as `values` has them, ending before the nuts. */
async function readAll(page, values) {
  for (const [index, value] of values.entries()) {
    await reads(page).fill(String(value));
    await press(page, index === values.length - 1 ? 'On to the nuts' : 'Next tyre');
  }
}

test('a round: each reading is judged at once, then the nuts, kept as one and taken back', async (t) => {
  const { page, look } = await phone(t, { path: ROUND, clock: true });
  await look('round-start');
  let taps = 0;
  let characters = 0;
  const tap = async (name) => {
    taps += 1;
    await press(page, name);
  };
  const type = async (text) => {
    characters += text.length;
    await reads(page).fill(text);
  };
  await tap('Start, tyres cold');
  await title(page, 'Front, left');
  await page.getByText(/0 of 8 read. Should read \d+ psi cold, for sealed/).waitFor();
  const goal = Number((await page.locator('.walk .cold').innerText()).match(/read (\d+) psi/)[1]);
  // On a blank field a first '+' kept a step over the figure, which nobody had
  // read. One key says what it keeps; steps come with a reading.
  const more = page.getByRole('button', { name: 'A step more' });
  assert.equal(await more.count(), 0);
  await look('round-blank');
  await press(page, `Reads ${goal} psi`);
  await page.getByText('✓ As it should be.').waitFor();
  assert.equal(await reads(page).inputValue(), String(goal));
  assert.equal(await page.getByRole('button', { name: /^Reads / }).count(), 0);
  await more.tap();
  assert.equal(await reads(page).inputValue(), String(goal + 1));
  await reads(page).fill('');
  await page.getByText(/0 of 8 read/).waitFor();
  assert.equal(await more.count(), 0);

  // The words follow the figure: by one step, by a few, and below the load.
  const says = page.locator('.walk [role=status] p').first();
  await type(String(goal));
  await says.getByText('✓ As it should be.').waitFor();
  await type(String(goal - 1));
  await says.getByText(`! Low. Pump up to ${goal} psi.`).waitFor();
  await type(String(goal + 4));
  await says.getByText(`! High. Let down to ${goal} psi, tyre cold.`).waitFor();
  // 20 for 37 psi had the words of 32 for 37.
  await type('12');
  await says.getByText('! Far too low: a quarter or more under its figure. Don’t drive on it.').waitFor();
  await look('round-low');
  // What can't be used takes what was typed before it along: '44' ended as
  // '44o' and was kept as 44.
  await type('44o');
  assert.equal(await says.count(), 0);
  await page.getByText(/0 of 8 read/).waitFor();
  // By steps, with a thumb.
  await type(String(goal - 1));
  await page.getByRole('button', { name: 'A step more' }).tap();
  await says.getByText('✓ As it should be.').waitFor();
  assert.equal(await reads(page).inputValue(), String(goal));
  await page.getByRole('button', { name: 'A step less' }).tap();
  await says.getByText('! Low.').waitFor();
  await tap('Next tyre');
  await title(page, 'Rear, left');

  // What can't be used does not stand as the reading, and is not passed by. A
  // field that said so at once moved the key away from under the finger.
  await type('5x');
  await page.getByRole('button', { name: /Next tyre|Pass over/ }).tap();
  await page.getByText('This reading can’t be used.').waitFor();
  await title(page, 'Rear, left');
  await type('');
  await tap('Pass over');
  await title(page, 'Trailer, front axle, left');

  // A reload goes on at the same tyre.
  await page.reload();
  await title(page, 'Trailer, front axle, left');
  await page.getByText(/1 of 8 read/).waitFor();
  await page.getByRole('button', { name: 'Front, left, a little off: low' }).waitFor();

  // Another tyre by its mark, and round to the one passed over.
  await page.getByRole('button', { name: 'Trailer, rear axle, left' }).tap();
  await title(page, 'Trailer, rear axle, left');
  await page.getByRole('button', { name: 'Trailer, front axle, left' }).tap();
  // Come back to, a reading is typed anew: '40' became '4140'.
  await type('41');
  await page.getByRole('button', { name: 'Trailer, rear axle, left' }).tap();
  await page.getByRole('button', { name: 'Trailer, front axle, left' }).tap();
  await page.locator('#round-reading:focus').waitFor();
  await page.keyboard.type('50');
  assert.equal(await reads(page).inputValue(), '50');
  const goals = [];
  for (let left = 7; left > 0; left -= 1) {
    const line = await page.locator('.walk .cold').innerText();
    const [, wanted] = line.match(/read (\d+) psi/);
    goals.push(Number(wanted));
    await type(wanted);
    // The keyboard's own key goes on as well.
    if (left === 4) await reads(page).press('Enter');
    else await tap(left > 1 ? 'Next tyre' : 'On to the nuts');
  }
  await title(page, 'Tap each wheel once its nuts are checked');
  // With the hand on the wrench, its figure is wanted here.
  await page.getByText(/^Vehicle nuts: /).waitFor();
  await page.getByText(/^Trailer nuts: /).waitFor();
  await page.getByText('Tyres: 8 of 8 read. Nuts: 0 of 8 wheels checked.').waitFor();
  await page.getByText(/Front, left: \d+ psi, cold figure \d+ psi – not good: low/).waitFor();
  await page.getByRole('button', { name: 'Rear, left', exact: true }).tap();
  await page.getByText('Nuts: 1 of 8 wheels checked.').waitFor();
  await tap('All of them are checked');
  await page.getByText('Nuts: 8 of 8 wheels checked.').waitFor();
  await page.getByLabel('Odometer now').fill('83412');
  await page.getByLabel('Air around now').fill('21.5');
  await look('round-nuts');
  await tap('Save the round');
  await page.getByText(/Saved\. .*: 8 tyres cold, 1 of them not good, all nuts, 83.412 km, 21\.5 °C\./).waitFor();
  console.log(`a round of 8 tyres and all nuts, with slips: ${taps} taps, ${characters} characters`);

  // Taken back, it stands where it was; saved again, it is there once.
  await tap('Take it back');
  await page.getByText('Nuts: 8 of 8 wheels checked.').waitFor();
  await tap('Save the round');
  await tap('They are all at their figures now');
  const set = page.getByText('Kept as you say it: all tyres are set for sealed.');
  await set.waitFor();
  // A tap by mistake took both warnings away for good.
  await tap('Undo');
  await page.getByText('Put right what was found, and read it again.').waitFor();
  await tap('They are all at their figures now');
  await set.waitFor();
  await goTo(page, '#/checks/log');
  const rounds = page.locator('.log-list summary', { hasText: '8 tyres cold' });
  assert.equal(await rounds.count(), 1);
  await look('log');
  await rounds.first().tap();
  await page.getByText('Trailer, rear axle, right: ').first().waitFor();

  // The nuts' own log has it too.
  await go(page, 'Checks');
  await page.locator('.dues li', { hasText: 'Wheel nuts' }).getByText(/^Next on /).waitFor();

  // Deleted by a slip, it is back with a tap.
  await goTo(page, '#/checks/log');
  await rounds.first().tap();
  await press(page, 'Delete this round');
  await page.getByText('The round was deleted.').waitFor();
  await press(page, 'Bring it back');
  await rounds.first().waitFor();
});

// Every fault had the same mark, from a step low to a tyre about to burst.
for (const scheme of ['light', 'dark']) {
  test(`the marks of a round say how bad it is, by shape and word (${scheme})`, async (t) => {
    const { page, look } = await phone(t, { path: ROUND, scheme });
    const mark = (name) => page.getByRole('button', { name, exact: true });
    await press(page, 'Start, tyres cold');
    const shown = [];
    for (const [typed, name, sign] of [
      ['12', 'Front, left, stop: far too low', '✕ low'],
      ['49', 'Rear, left, a little off: low', '~ low'],
      ['57', 'Trailer, front axle, left, a little off: high', '~ high'],
      ['120', 'Trailer, rear axle, left, stop: over the most it may hold', '✕ high'],
      ['50', 'Trailer, rear axle, right, done', '✓'],
    ]) {
      await reads(page).fill(typed);
      await press(page, 'Next tyre');
      await mark(name).waitFor();
      assert.equal(await mark(name).innerText().then((text) => text.replace(/\s+/g, ' ')), sign);
      shown.push(await mark(name).evaluate((key) => {
        const { backgroundColor, borderWidth, borderStyle } = getComputedStyle(key);
        const sign = key.querySelector('span').getBoundingClientRect();
        const { left, right, top, bottom } = key.getBoundingClientRect();
        const inside = sign.left >= left && sign.right <= right && sign.top >= top && sign.bottom <= bottom;
        return { backgroundColor, borderWidth, borderStyle, inside };
      }));
    }
    assert.ok(shown.every((of) => of.inside), JSON.stringify(shown));
    const [stop, off] = shown;
    assert.notEqual(stop.backgroundColor, off.backgroundColor);
    assert.notEqual(off.borderWidth, shown[4].borderWidth);
    await look(`round-marks-${scheme}`);
    await page.evaluate(() => (document.documentElement.style.fontSize = '200%'));
    await look(`round-marks-200-${scheme}`);
  });
}

// 'Take it back' went with the view.
test('a kept round is taken back from the log as well, and kept again as it was', async (t) => {
  const { page, look } = await phone(t, { clock: true });
  await enterRig(page);
  for (const [reading, all] of [['12', false], ['50', true]]) {
    await goTo(page, ROUND);
    await press(page, 'Start, tyres cold');
    if (all) await page.getByRole('button', { name: 'Rear, left', exact: true }).tap();
    await reads(page).fill(reading);
    await press(page, 'To the nuts');
    if (all) await press(page, 'All of them are checked');
    await press(page, 'Save the round');
    await page.getByText(/^Saved\./).waitFor();
    await page.clock.fastForward(60_000);
  }
  const kept = () => page.evaluate(() => Object.entries(localStorage)
    .filter(([key]) => /\.(log\.\d+|checks|nuts)$/.test(key)).sort());
  await goTo(page, '#/checks/log');
  const rounds = page.locator('.log-list summary', { hasText: '1 tyre cold' });
  assert.equal(await rounds.count(), 2);
  const before = await kept();
  await rounds.first().tap();
  await rounds.last().tap();
  assert.equal(await page.getByRole('button', { name: 'Take it back' }).count(), 1);
  await press(page, 'Take it back');
  await page.getByText('The round is out of the log, and under way again.').waitFor();
  assert.equal(await rounds.count(), 1);
  // Another can't be taken back over it.
  assert.equal(await page.getByRole('button', { name: 'Take it back' }).count(), 0);
  await look('log-taken-back');
  await press(page, 'Keep it as it was');
  await page.getByText('The round is out of the log').waitFor({ state: 'detached' });
  assert.equal(await rounds.count(), 2);
  assert.deepEqual(await kept(), before);

  await page.locator('.log-list details details').first().evaluate((fold) => (fold.open = true));
  await press(page, 'Take it back');
  await page.getByRole('link', { name: 'Go on with it' }).tap();
  await page.getByText('Tyres: 1 of 8 read. Nuts: 8 of 8 wheels checked.').waitFor();
  // What the round before found is known again, and the nuts of this one are not.
  await go(page, 'Checks');
  await page.locator('.dues li', { hasText: 'Not good: front, left' }).waitFor();
  await page.locator('.dues li', { hasText: 'Wheel nuts' }).getByText('Not done yet').waitFor();
});

test('a warm round never lets air out', async (t) => {
  const { page } = await phone(t, { path: ROUND });
  await press(page, 'Start, tyres warm');
  await page.getByText(/Cold it should read \d+ psi, for sealed; warm it reads more/).waitFor();
  const [, goal] = (await page.locator('.walk .cold').innerText()).match(/read (\d+) psi/);
  // At its cold figure after a drive it had a tick, and was low when cold.
  await reads(page).fill(goal);
  await page.getByText(/this one reads less, and may be low when cold/).waitFor();
  await reads(page).fill(String(Math.ceil(Number(goal) * 1.11)));
  await page.getByText('✓ As a warm tyre should be. Let no air out.').waitFor();
  await reads(page).fill(String(Math.ceil(Number(goal) * 1.2)));
  await page.getByText(/! More than 15 % over its cold/).waitFor();
  await reads(page).fill(String(Number(goal) - 2));
  await page.getByText(`! Low. Pump up to ${goal} psi.`).waitFor();
  await reads(page).fill('110');
  await page.getByText('! Far more than warmth explains.').waitFor();
});

test('what is due: after a round, two weeks later, in one’s own days, and in the calendar', async (t) => {
  const { page, look } = await phone(t, { clock: true });
  await enterRig(page);
  await goTo(page, ROUND);
  await press(page, 'Start, tyres cold');
  const tyres = Number((await page.locator('.walk .cold').innerText()).match(/of (\d+) read/)[1]);
  await readAll(page, Array.from({ length: tyres }, () => 50));
  await press(page, 'All of them are checked');
  await press(page, 'Save the round');
  await page.getByText(/^Saved\./).waitFor();
  await go(page, 'Checks');
  await page.locator('.dues li', { hasText: 'Tyre pressures' }).getByText(/^Next on /).waitFor();
  await page.locator('.dues li', { hasText: 'Wheel nuts' }).getByText(/^Next on /).waitFor();

  // A check of one's own.
  await unfold(page, 'How often, and my own checks');
  await press(page, 'Add a check');
  await page.getByLabel('What', { exact: true }).fill('Plugs, lights; "all" of them');
  await page.getByLabel('Every (days)', { exact: true }).fill('7');
  const own = page.locator('.dues li', { hasText: 'Plugs, lights; "all" of them' });
  await own.getByText('Not done yet').waitFor();
  await own.getByRole('button', { name: 'Done today' }).tap();
  await page.getByText('done today.').waitFor();
  await own.getByText(/^Next on /).waitFor();
  await press(page, 'Not done');
  await own.getByText('Not done yet').waitFor();
  await own.getByRole('button', { name: 'Done today' }).tap();
  await page.getByLabel('Pressures every').fill('21');
  await look('checks-due');

  const { name, text } = await (async () => {
    await unfold(page, 'Reminders in the phone’s calendar');
    return saved(page, 'Save the reminders');
  })();
  assert.equal(name, 'tyreside-checks.ics');
  assert.equal(text.match(/BEGIN:VEVENT/g).length, 3);
  assert.match(text, /SUMMARY:Plugs\\, lights\\; "all" of them \(Dusty\)\r\n/);
  assert.match(text, /RRULE:FREQ=DAILY;INTERVAL=21\r\n/);
  const uids = text.match(/UID:.*/g);
  const again = await saved(page, 'Save the reminders');
  assert.deepEqual(again.text.match(/UID:.*/g), uids);

  // A week on, the own check is due; three weeks on, all of it.
  await go(page, 'Pressures');
  assert.equal(await page.locator('.due').count(), 0);
  await page.clock.fastForward(7 * DAY_MS);
  await page.reload();
  await page.locator('.due', { hasText: 'Due: Plugs, lights; "all" of them' }).waitFor();
  await page.clock.fastForward(14 * DAY_MS);
  await page.reload();
  await page.locator('.due', { hasText: 'Due: Tyre pressures, Plugs, lights' }).waitFor();
  await page.locator('.due', { hasText: 'Wheel nuts due: all wheels' }).waitFor();
  await look('first-screen-due');
  await page.locator('.due', { hasText: 'Due: Tyre' }).getByRole('link').tap();
  await page.getByText(/^Due since /).first().waitFor();

  // Own checks are found in the log, and a deleted one comes back.
  await goTo(page, '#/checks/log');
  await unfold(page, 'My own checks');
  await page.getByText(/: Plugs, lights/).first().waitFor();
  await go(page, 'Checks');
  await unfold(page, 'How often, and my own checks');
  await press(page, 'Delete this check');
  await page.getByText('The check was deleted.').waitFor();
  assert.equal(await own.count(), 0);
  await press(page, 'Bring it back');
  await own.waitFor();
});

test('a round left for days says so and can be begun anew; thrown away, it comes back', async (t) => {
  const { page } = await phone(t, { clock: true });
  await enterRig(page);
  await goTo(page, ROUND);
  await press(page, 'Start, tyres cold');
  await reads(page).fill('12');
  await press(page, 'Next tyre');
  await page.clock.fastForward(3 * DAY_MS);
  await page.reload();
  await page.getByText(/This round was begun on/).waitFor();
  await goTo(page, '#/pressures');
  await page.locator('.due', { hasText: 'Check round under way, 1 tyre not good' }).getByRole('link').tap();
  await press(page, 'Begin anew');
  await page.getByText('The round was thrown away.').waitFor();
  await press(page, 'Bring it back');
  await title(page, 'Rear, left');
});

test('the log of years: a plot of a tyre, and a table for other programs', async (t) => {
  const { page, look } = await phone(t, { clock: true });
  await enterRig(page);
  for (const reading of ['50', '49.5', '46']) {
    await goTo(page, ROUND);
    await press(page, 'Start, tyres cold');
    await reads(page).fill(reading);
    await press(page, 'To the nuts');
    await press(page, 'Save the round');
    await page.getByText(/^Saved\./).waitFor();
    await page.clock.fastForward(200 * DAY_MS);
    await page.reload();
  }
  await goTo(page, '#/checks/log');
  await page.getByText('Front, left: 3 readings, the newest 46 psi.').waitFor();
  assert.equal(await page.locator('figure circle').count(), 3);
  await look('log-plot');
  const keys = await page.evaluate(() => Object.keys(localStorage).filter((key) => key.includes('.log.')));
  assert.ok(keys.length >= 2, `${keys}`);
  const { name, text } = await saved(page, 'Save the log as a table');
  assert.equal(name, 'tyreside-log.csv');
  const rows = text.trimEnd().split('\r\n');
  assert.match(rows[0], /^date,time,what,where,reading \(psi\),cold figure \(psi\)/);
  assert.equal(rows.length, 4);
  assert.match(rows[2], /^\d{4}-\d\d-\d\d,\d\d:\d\d,pressure,vehicle_1_left,49\.5,\d+,cold,sealed,,$/);
  await page.getByRole('button', { name: 'Rear, left' }).tap();
  await page.getByText('Rear, left: not read in any round yet.').waitFor();
});

test('the age and the tread of a tyre', async (t) => {
  const { page, look } = await phone(t, { clock: true });
  await enterRig(page);
  await go(page, 'Checks');
  await unfold(page, 'Tyres: age and tread');
  await page.locator('details', { hasText: 'Tap a tyre.' }).getByRole('button', { name: 'Rear, right' }).tap();
  await page.getByLabel('Date code').fill('5419');
  await page.getByLabel('Tread').focus();
  await page.getByText('No year has a week 54').waitFor();
  await page.getByLabel('Date code').fill('2315');
  await page.getByText(/Week 23 of 2015: 1\d years .* Replace it, whatever its tread\./).waitFor();
  // Seven years old, it was on the list and on no first screen.
  const year = new Date().getUTCFullYear() - 2007;
  await page.getByLabel('Date code').fill(`01${String(year).padStart(2, '0')}`);
  await go(page, 'Pressures');
  await page.locator('.due', { hasText: 'Due: a fitter’s look at a tyre of 7 years: rear, right' }).waitFor();
  await go(page, 'Checks');
  await unfold(page, 'Tyres: age and tread');
  await page.locator('details', { hasText: 'Tap a tyre.' }).getByRole('button', { name: 'Rear, right' }).tap();
  await page.getByLabel('Date code').fill('2315');
  await page.getByLabel('Tread').fill('1.6');
  await page.getByText('Worn out: 1.6 mm or less. Replace it before driving on.').first().waitFor();
  await look('tyres');
  await press(page, 'The same date code on this whole axle');
  await page.getByRole('button', { name: 'Rear, left, look at it' }).waitFor();
  await go(page, 'Pressures');
  await page.locator('.due', { hasText: 'Due: Tyre: rear, ' }).waitFor();
});

test('what a round found stays due, an unread tyre is named, and a comma is asked about', async (t) => {
  const { page, look } = await phone(t, { clock: true });
  await enterRig(page);
  await goTo(page, ROUND);
  await press(page, 'Start, tyres cold');
  // No placard: the least that the load needs is no figure to let down to.
  await page.getByText(/The least for this load is 35 psi cold.*enter the placard’s/).waitFor();
  await reads(page).fill('41');
  await page.getByText(/No less than the load needs, 35 psi.*Let none out/).waitFor();
  await reads(page).fill('12');
  await page.getByText('! Far too low').waitFor();
  await press(page, 'To the nuts');
  await page.getByText(/Not read: Rear, left; /).waitFor();
  await page.getByRole('button', { name: 'Front, left', exact: true }).tap();

  await page.getByLabel('Odometer now').fill('86,500');
  await page.getByLabel('Air around now').focus();
  await page.getByText('Is the mark a decimal mark, or does it set thousands apart?').waitFor();
  await page.getByLabel('Odometer now').fill('86500');
  await press(page, 'Save the round');
  await page.getByText(/^Saved\..*Put right what was found/).waitFor();
  assert.equal(await page.getByRole('button', { name: 'They are all at their figures now' }).count(), 0);

  await go(page, 'Checks');
  await page.locator('.dues li', { hasText: 'Not good: front, left' }).getByText(/^Found on /).waitFor();
  await page.locator('.dues li', { hasText: 'Wheel nuts of 7 wheels' }).getByText('Not done yet').waitFor();
  await unfold(page, 'How often, and my own checks');
  await page.getByLabel('Odometer now').fill('84210');
  await page.getByText('Less than the 86').waitFor();
  await look('checks-found');
  await go(page, 'Pressures');
  await page.locator('.due', { hasText: 'Due: Not good: front, left' }).waitFor();
  // Another round that leaves it out does not forget it; one that reads it does.
  for (const [tyres, left] of [[['Rear, left', '50'], 1], [['Front, left', '50'], 0]]) {
    await goTo(page, ROUND);
    await press(page, 'Start, tyres cold');
    await page.getByRole('button', { name: new RegExp(`^${tyres[0]}`) }).tap();
    await title(page, tyres[0]);
    await reads(page).fill(tyres[1]);
    await press(page, 'To the nuts');
    await press(page, 'Save the round');
    await page.getByText(/^Saved\./).waitFor();
    await go(page, 'Pressures');
    await page.locator('.answers .number').first().waitFor();
    await page.waitForTimeout(300);
    assert.equal(await page.locator('.due', { hasText: 'Not good' }).count(), left);
  }
});
