// Keeping rigs: adding, copying, deleting, and storage that fails.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { phone } from './harness.mjs';
import { axle, card, enterRig, field, go, number, openWhy, pick, unfold } from './words.mjs';

async function remove(page, index) {
  await unfold(card(page, index), 'More');
  await card(page, index).getByRole('button', { name: 'Remove this axle' }).tap();
}

for (const scheme of ['light', 'dark']) {
  test(`the rig view is accessible, opened out (${scheme})`, async (t) => {
    const { page, look } = await phone(t, { scheme, path: '#/rig' });
    await page.evaluate(() => document.querySelectorAll('details').forEach((d) => (d.open = true)));
    await look(`rig-open-${scheme}`);
  });
}

test('rigs are added, copied, chosen, deleted, and brought back', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await page.getByRole('button', { name: 'Copy' }).tap();
  assert.equal(await field(page, 'Name').inputValue(), 'Dusty copy');
  await field(page, 'Name').fill('Light');
  await field(card(page, 0), 'Mass on the axle').fill('1100');
  await page.getByLabel('Rig', { exact: true }).selectOption({ label: 'Dusty' });
  assert.equal(await field(card(page, 0), 'Mass on the axle').inputValue(), '1270');
  await page.getByLabel('Rig', { exact: true }).selectOption({ label: 'Light' });
  assert.equal(await field(card(page, 0), 'Mass on the axle').inputValue(), '1100');

  await page.getByRole('button', { name: 'Delete', exact: true }).tap();
  await page.getByText('“Light” was deleted.').waitFor();
  await page.getByRole('button', { name: 'Undo' }).tap();
  assert.equal(await field(page, 'Name').inputValue(), 'Light');
  await page.reload();
  assert.equal(await field(page, 'Name').inputValue(), 'Light');
  assert.equal(await field(card(page, 0), 'Mass on the axle').inputValue(), '1100');
});

// What was asked for stood in a field folded away, and nothing led to it.
test('a wheel maximum that is asked for is a tap away', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  const rear = card(page, 1);
  await field(rear, 'Tyre, as its sidewall says').fill('225/75R16CP 118/116R');
  await unfold(rear, 'More');
  await field(rear, 'Maximum load moulded').fill('1320');
  await field(rear, 'Pressure moulded at maximum load').fill('69');
  await field(rear, 'Placard pressure').fill('80');
  await rear.getByText('enter the wheel or valve maximum too').waitFor();
  await rear.locator('details[id$=-more]').evaluate((fold) => (fold.open = false));
  await rear.getByRole('button', { name: 'Enter it' }).tap();
  const asked = field(rear, 'Wheel or valve maximum');
  await page.waitForFunction(() => document.activeElement?.id === 'axle-1-wheel-maximum');
  assert.ok(await asked.isVisible());
  await asked.fill('85');
  await rear.getByText('enter the wheel or valve maximum too').waitFor({ state: 'detached' });
});

test('what one tab keeps, another tab shows and does not undo', async (t) => {
  const { page, another } = await phone(t);
  await enterRig(page);
  const other = await another('#/rig');
  await field(card(page, 0), 'Mass on the axle').fill('1111');
  await other.waitForFunction(() => document.getElementById('axle-0-weighed').value === '1111');
  await unfold(other, 'Rigs');
  await field(other, 'Name').fill('Both');
  await page.reload();
  assert.equal(await field(page, 'Name').inputValue(), 'Both');
  assert.equal(await field(card(page, 0), 'Mass on the axle').inputValue(), '1111');
});

test('deleting the only rig of one’s own leaves the demo', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await page.reload();
  await page.getByRole('button', { name: 'Delete', exact: true }).tap();
  await page.getByText('This is the invented demo rig.').waitFor();
  await page.reload();
  await page.getByText('This is the invented demo rig.').waitFor();
});

test('a copy of the invented rig is still called invented', async (t) => {
  const { page } = await phone(t, { path: '#/rig' });
  await unfold(page, 'Rigs');
  await page.getByRole('button', { name: 'Copy' }).tap();
  await page.getByText('This is the invented demo rig.').waitFor();
  await page.getByRole('button', { name: 'Enter my rig' }).tap();
  await page.getByRole('button', { name: 'Vehicle alone' }).tap();
  assert.equal(await field(page, 'Name').inputValue(), 'My rig');
  assert.equal(await field(card(page, 0), 'Tyre, as its sidewall says').inputValue(), '');
});

// An out-of-range 1640 was backspaced to "16", which left 164 kg stored; a tap
// on another unit then showed its pressure as the current one.
test('an unusable entry stays unusable through units, reloads and other tabs', async (t) => {
  const { page, another } = await phone(t);
  await enterRig(page);
  const mass = field(card(page, 1), 'Mass on the axle');
  for (const text of ['164', '16']) await mass.fill(text);
  await field(card(page, 0), 'Placard pressure').fill('900');
  const gone = async () => {
    await go(page, 'Pressures');
    for (const name of ['Front', 'Rear']) {
      assert.equal(await axle(page, name).locator('.number').count(), 0, name);
    }
    await go(page, 'Rig');
    assert.equal(await mass.inputValue(), '16');
  };
  await gone();
  await unfold(page, 'Settings');
  await pick(page, 'kPa');
  await gone();
  // Meant as psi, and still that; as kPa it would have been accepted.
  assert.equal(await field(card(page, 0), 'Placard pressure').inputValue(), '900 psi');
  await another('#/rig');
  await gone();
  await page.reload();
  await gone();
  await mass.fill('1640');
  await field(card(page, 0), 'Placard pressure').fill('');
  await go(page, 'Pressures');
  for (const name of ['Front', 'Rear']) assert.match(await number(page, name), /^\d+$/);
});

// Undo put the whole rig back as it was, and a mass corrected since the removal
// went with it.
test('a removed axle comes back only until something else is changed', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await remove(page, 2);
  await page.getByText('The axle was removed.').waitFor();
  await field(card(page, 0), 'Mass on the axle').fill('1390');
  await page.getByText('The axle was removed.').waitFor({ state: 'detached' });
  assert.equal(await page.getByRole('button', { name: 'Undo' }).count(), 0);
  assert.equal(await field(card(page, 0), 'Mass on the axle').inputValue(), '1390');
});

test('the way to an entry that can’t be used leads to its field', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await unfold(card(page, 1), 'More');
  await field(card(page, 1), 'Wheel or valve maximum').fill('5');
  await go(page, 'Pressures');
  await page.getByRole('button', { name: 'Fix the entry' }).tap();
  await page.waitForFunction(() => document.activeElement.id === 'axle-1-wheel-maximum');
});

test('the keyboard’s place is kept, and is never under the foot keys', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await page.getByRole('button', { name: 'Copy' }).tap();
  await page.waitForFunction(() => document.activeElement.id === 'rig-name');
  await page.getByRole('button', { name: 'Add an axle' }).tap();
  await page.waitForFunction(() => document.activeElement.id === 'axle-3-tyre');
  await remove(page, 3);
  await page.waitForFunction(() => document.activeElement.id === 'undo');
  await page.getByRole('button', { name: 'Undo' }).tap();
  assert.equal(await page.locator('main section.axle-entry').count(), 4);

  await page.locator('.entry-line').first().focus();
  const top = (await page.getByRole('navigation', { name: 'Views' }).boundingBox()).y;
  for (let stop = 0; stop < 80; stop += 1) {
    await page.keyboard.press('Tab');
    const box = await page.evaluate(() => {
      const active = document.activeElement;
      const { bottom, y } = active.getBoundingClientRect();
      return active.closest('nav') ? null : { bottom, y, html: active.outerHTML.slice(0, 80) };
    });
    if (!box) break;
    assert.ok(box.y < top, `${box.html} at ${box.y} is under the foot keys at ${top}`);
  }
});

test('axles come and go, and an edited band is used', async (t) => {
  const { page } = await phone(t, { path: '#/rig' });
  await unfold(page, 'Rigs');
  await page.getByRole('button', { name: 'Add an axle' }).tap();
  assert.equal(await page.locator('main section.axle-entry').count(), 4);
  await remove(page, 3);
  assert.equal(await page.locator('main section.axle-entry').count(), 3);

  await unfold(page, 'Settings');
  await unfold(page, 'Surface bands');
  const dirt = page.getByRole('group', { name: 'Dirt road' });
  await dirt.getByLabel('Low').fill('80');
  await page.getByText("The band's low end is above its high end.").waitFor();
  await dirt.getByLabel('High').fill('90');
  await go(page, 'Pressures');
  await pick(page, 'Dirt');
  // The middle of 80 to 90 % of 50 psi, rounded up.
  assert.equal(await number(page, 'Trailer'), '43');
  await go(page, 'Rig');
  await page.getByRole('button', { name: 'Back to common practice' }).tap();
  await go(page, 'Pressures');
  assert.equal(await number(page, 'Trailer'), '33');
});

test('blocked storage is said once, and the page works', async (t) => {
  const { page, context, look } = await phone(t, { started: false });
  await context.addInitScript(() => {
    Object.defineProperty(window, 'localStorage', {
      get() {
        throw new DOMException('blocked', 'SecurityError');
      },
    });
  });
  await page.reload();
  await page.getByRole('alert').getByText('This browser keeps nothing for this page.').waitFor();
  await look('blocked');
  await page.getByRole('button', { name: 'I understand' }).tap();
  await enterRig(page);
  await go(page, 'Pressures');
  await pick(page, 'Dirt');
  assert.match(await number(page, 'Front'), /^\d+$/);
  assert.equal(await page.getByRole('alert').count(), 0);
});

test('full storage is said once, and the page works', async (t) => {
  const { page, context } = await phone(t, { started: false });
  await context.addInitScript(() => {
    Storage.prototype.setItem = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
  });
  await page.reload();
  await pick(page, 'Dirt');
  await page.getByRole('alert').getByText('There is no room left').waitFor();
  await page.getByRole('button', { name: 'I understand' }).tap();
  await pick(page, 'Mud');
  assert.equal(await page.getByRole('alert').count(), 0);
  assert.match(await number(page, 'Front'), /^\d+$/);
});

test('a corrupted record is kept whole, can be downloaded, and only its owner deletes it', async (t) => {
  const { page, look } = await phone(t);
  await enterRig(page);
  const key = await page.evaluate(() => Object.keys(localStorage).find((k) => k.startsWith('tyreside.rig.')));
  const broken = await page.evaluate((k) => {
    const cut = localStorage.getItem(k).slice(0, 100);
    localStorage.setItem(k, cut);
    return cut;
  }, key);
  await page.goto('about:blank');
  await page.goBack();
  await page.locator('#app h1', { hasText: 'Demo rig' }).waitFor();
  await go(page, 'Rig');
  await page.getByRole('heading', { name: 'Saved, but unreadable' }).waitFor();
  await look('unreadable');
  await page.getByRole('button', { name: 'Enter my rig' }).tap();
  await field(page, 'Name').fill('Another');
  assert.equal(await page.evaluate((k) => localStorage.getItem(k), key), broken);

  const download = page.waitForEvent('download');
  await page.getByRole('link', { name: 'save it to a file' }).tap();
  assert.equal(readFileSync(await (await download).path(), 'utf8'), broken);

  await page.getByRole('button', { name: 'delete for good' }).tap();
  assert.equal(await page.evaluate((k) => localStorage.getItem(k), key), null);
  await page.reload();
  await page.locator('#app h1', { hasText: 'Another' }).waitFor();
  assert.equal(await page.getByRole('heading', { name: 'Saved, but unreadable' }).count(), 0);
});

test('a passenger tyre on the trailer counts for less', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await field(card(page, 2), 'Tyre, as its sidewall says').fill('P235/75R15 109T XL');
  await field(card(page, 2), 'Mass on the axle').fill('2400');
  await go(page, 'Pressures');
  await openWhy(page, 'Trailer');
  await page.getByText('divided by 1.10').waitFor();
});

// Masses were shown in kilograms alone, and '1,720' was answered with 'Too low'.
test('masses follow the unit of the rig, and a mark between thousands is none of decimals', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  const mass = field(card(page, 1), 'Mass on the axle');
  await mass.fill('1,640');
  await card(page, 1).getByText('That is 902 kg on the most loaded tyre.').waitFor();
  const before = async () => {
    await go(page, 'Pressures');
    const shown = await number(page, 'Rear');
    await go(page, 'Rig');
    return shown;
  };
  const inKilograms = await before();
  await field(card(page, 0), 'Mass on the axle').fill('12');
  await unfold(page, 'Settings');
  await pick(page, 'lb');
  // What could not be used stays what it was meant to be.
  assert.equal(await field(card(page, 0), 'Mass on the axle').inputValue(), '12 kg');
  assert.equal(await mass.inputValue(), '3615.58');
  await card(page, 1).getByText('That is 1989 lb on the most loaded tyre.').waitFor();
  assert.equal(await before(), inKilograms);
  await mass.fill('3,790');
  await card(page, 1).getByText('That is 2085 lb on the most loaded tyre.').waitFor();
  await page.reload();
  assert.equal(await mass.inputValue(), '3790');
  await mass.fill('1640 kg');
  await page.getByText('Allowed: 89 to 88184 lb.').first().waitFor();
  assert.equal(await before(), inKilograms);
});

// An own rig once took 5.6 screens, 16 taps and 95 characters: axles to add and
// remove, the same tyre typed twice, every field in the way of the next.
test('a rig of one’s own takes few taps, few characters and few screens', async (t) => {
  const { page, look } = await phone(t);
  let [taps, typed] = [0, 0];
  const tap = async (target) => {
    taps += 1;
    await target.tap();
  };
  const type = async (id, text) => {
    await page.waitForFunction((of) => document.activeElement.id === of, id);
    typed += text.length;
    await page.keyboard.type(text);
  };
  await tap(page.getByRole('button', { name: 'Enter my rig' }));
  await look('rig-kind');
  await tap(page.getByRole('button', { name: 'With a trailer, 2 axles' }));
  await type('axle-0-tyre', 'LT265/75R16 123/120Q E');
  await tap(field(card(page, 0), 'Mass on the axle'));
  await type('axle-0-weighed', '1310');
  await tap(field(card(page, 0), 'Placard pressure'));
  await type('axle-0-placard', '36');
  await tap(card(page, 1).getByRole('button', { name: 'Same tyre as the front' }));
  await type('axle-1-weighed', '1720');
  await tap(field(card(page, 1), 'Placard pressure'));
  await type('axle-1-placard', '42');
  await look('rig-halfway');
  await tap(field(card(page, 2), 'Tyre, as its sidewall says'));
  await type('axle-2-tyre', 'LT235/85R16 120/116Q E');
  await tap(field(card(page, 2), 'Mass on the axle'));
  await type('axle-2-weighed', '2600');
  await tap(field(card(page, 2), 'Placard pressure'));
  await type('axle-2-placard', '50');
  const screens = (await page.evaluate(() => document.documentElement.scrollHeight)) / 740;
  await look('rig-entered');
  await tap(page.getByRole('link', { name: 'Show the pressures' }));
  for (const name of ['Front', 'Rear', 'Trailer']) assert.match(await number(page, name), /^\d+$/);
  t.diagnostic(`${taps} taps, ${typed} characters, ${screens.toFixed(2)} screens of 740 px`);
  assert.ok(taps <= 12, `${taps} taps`);
  assert.ok(typed <= 70, `${typed} characters`);
  assert.ok(screens <= 3, `${screens} screens`);
});

// 1,640 typed 1,460 gave a figure a tenth too low in silence: with nothing else
// known of the masses, nothing asked for it, and there was no place to say it.
test('masses that nothing holds are asked for their total, which shows digits swapped', async (t) => {
  const { page, look } = await phone(t);
  const ask = page.getByRole('complementary', { name: 'The masses’ total' });
  const doubt = page.getByText('Check the masses.');
  const total = field(page, 'Total on the ticket');
  await page.locator('.axle .number').first().waitFor();
  assert.equal(await ask.count(), 0, 'the invented rig is asked');
  await enterRig(page);
  await unfold(page, 'Total of all axles');
  await page.getByText('The axles add up to 5510 kg.').waitFor();
  await field(card(page, 1), 'Mass on the axle').fill('1460');
  await page.getByText('The axles add up to 5330 kg.').waitFor();
  await go(page, 'Pressures');
  const low = await number(page, 'Rear');
  await look('pressures-ask');
  await ask.getByRole('button', { name: 'Add the total' }).tap();
  await page.waitForFunction(() => document.activeElement.id === 'rig-total');
  await page.keyboard.type('5520');
  await page.getByText('The axles add up to 5330 kg, their total says 5520 kg. Are two digits swapped? Rear at 1640 kg would fit.').waitFor();
  await look('rig-total');
  await go(page, 'Pressures');
  await doubt.waitFor();
  assert.equal(await number(page, 'Rear'), low);
  assert.equal(await ask.count(), 0);
  await look('pressures-total');
  await page.reload();
  await page.locator('li').filter({ has: doubt }).getByRole('button', { name: 'Open its entry' }).tap();
  await page.waitForFunction(() => document.activeElement.id === 'axle-1-weighed');
  await field(card(page, 1), 'Mass on the axle').fill('1640');
  await page.getByText('The axles add up to 5510 kg, as their total says.').waitFor();
  await go(page, 'Pressures');
  assert.notEqual(await number(page, 'Rear'), low);
  await page.getByRole('button', { name: 'They are set so' }).waitFor();
  assert.equal(await doubt.count(), 0);
  assert.equal(await ask.count(), 0);

  // Beside a plate's limit 'as their total says' stood below any total.
  await go(page, 'Rig');
  await pick(card(page, 2), 'Plate rating');
  await field(card(page, 2), 'Axle limit or GTM').fill('2600');
  await page.getByText('Not checked. The total leaves 2610 kg for Trailer, entered as a plate’s limit').waitFor();
  await go(page, 'Pressures');
  await ask.getByText('beside an axle entered by its plate the total shows no digit misread').waitFor();
  await go(page, 'Rig');
  await pick(card(page, 2), 'Axle weighed');

  // A total that can't be read holds nothing, and is no weights that can't.
  await go(page, 'Rig');
  await total.fill('55 20 0 kg kg');
  await go(page, 'Pressures');
  await ask.waitFor();
  await go(page, 'Weights');
  assert.equal(await page.locator('details[open]', { hasText: 'Measures and plates' }).count(), 0);
});

// 'Set for dirt' stood above figures that had gone up since.
test('tyres that were set before the load grew are said to be short of it', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await go(page, 'Pressures');
  await pick(page, 'Dirt');
  await page.getByRole('button', { name: 'They are set so' }).tap();
  const line = page.getByRole('region', { name: 'What the rig is set to' });
  await line.getByText(/^Set for dirt since [^,]*$/).waitFor();
  await go(page, 'Rig');
  await field(card(page, 0), 'Mass on the axle').fill('1200');
  await go(page, 'Pressures');
  await line.getByText(/^Set for dirt since [^,]*$/).waitFor();
  await go(page, 'Rig');
  await field(card(page, 0), 'Mass on the axle').fill('1450');
  await go(page, 'Pressures');
  await line.getByText('to lower figures than now').waitFor();
});

// A question that comes again each time is no quiet one.
test('masses said to be read right are asked for again only when one changes', async (t) => {
  const { page } = await phone(t);
  const ask = page.getByRole('complementary', { name: 'The masses’ total' });
  await enterRig(page);
  await go(page, 'Pressures');
  await ask.getByRole('button', { name: 'They are read right' }).tap();
  await ask.waitFor({ state: 'detached' });
  await page.waitForFunction(() => document.activeElement.id === 'views');
  await page.reload();
  await page.getByRole('button', { name: 'They are set so' }).waitFor();
  await page.waitForTimeout(500);
  assert.equal(await ask.count(), 0);
  await go(page, 'Rig');
  await unfold(page, 'Settings');
  await pick(page, 'lb');
  await go(page, 'Pressures');
  await page.getByRole('button', { name: 'They are set so' }).waitFor();
  assert.equal(await ask.count(), 0, 'another unit is another mass');
  await go(page, 'Rig');
  await field(card(page, 2), 'Mass on the axle').fill('5,750 lb');
  await go(page, 'Pressures');
  await ask.waitFor();
  // In pounds, two digits swapped.
  await ask.getByRole('button', { name: 'Add the total' }).tap();
  await page.waitForFunction(() => document.activeElement.id === 'rig-total');
  await page.keyboard.type('12340');
  await page.getByText('Total on the ticket (lb)').waitFor();
  await page.getByText('their total says 12\u202f340 lb.').waitFor();
});

test('the sidewall lights each mark up as it is read, and points at the next', async (t) => {
  const { page } = await phone(t, { path: '#/rig' });
  await page.getByRole('button', { name: 'Enter my rig' }).tap();
  await page.getByRole('button', { name: 'Vehicle alone' }).tap();
  const tyre = field(card(page, 0), 'Tyre, as its sidewall says');
  for (const [text, read, next] of [
    ['LT265/75', 0, 'size'],
    ['LT265/75R16', 1, 'load index'],
    ['LT265/75R16 123/120Q', 2, 'load range'],
    ['LT265/75R16 123/120Q E', 3, ''],
    ['195R14C 106/104Q', 2, 'maximum load'],
  ]) {
    await tyre.fill(text);
    await page.waitForFunction((count) => document.querySelectorAll('.sidewall .read').length === count, read);
    const marks = await card(page, 0).locator('.marks').textContent();
    assert.equal((marks.match(/✓/g) ?? []).length, read, marks);
    assert.match(marks, next ? new RegExp(`▸ ${next}`) : /^[^▸]*$/);
  }
  // What the designation can't say is asked for right below it.
  await field(card(page, 0), 'Pressure moulded at maximum load').fill('65');
  await page.waitForFunction(() => document.querySelectorAll('.sidewall .read').length === 3);
  // Half a size is no mistake while it is typed.
  await tyre.fill('LT265/7');
  assert.equal(await tyre.getAttribute('aria-invalid'), 'false');
  await tyre.blur();
  await card(page, 0).locator('[id$=-tyre][aria-invalid=true]').waitFor();
});

test('a stopped entry says what it lacks, and the page comes back to it', async (t) => {
  const { page, look } = await phone(t, { path: '#/rig' });
  await page.getByRole('button', { name: 'Enter my rig' }).tap();
  await page.getByRole('button', { name: 'With a trailer, 1 axle' }).tap();
  await field(card(page, 0), 'Tyre, as its sidewall says').fill('LT265/75R16 123/120Q E');
  await field(card(page, 0), 'Mass on the axle').fill('1310');
  await card(page, 1).getByRole('button', { name: 'Same tyre as the front' }).tap();
  await page.getByText('Still to enter. Rear: its mass; Trailer: what its tyre says.').waitFor();
  await page.reload();
  await page.waitForFunction(() => document.activeElement.id === 'axle-1-weighed');
  await go(page, 'Pressures');
  await go(page, 'Rig');
  await page.waitForFunction(() => document.activeElement.id === 'axle-1-weighed');
  await page.keyboard.type('1720');
  await look('rig-stopped');
  const line = (name) => page.locator('.entry-line').filter({ hasText: name });
  assert.equal(await line('Rear').innerText(), 'Rear\n1720 kg');
  assert.match(await line('Trailer').innerText(), /tyre\?/);
  await line('Trailer').tap();
  await page.waitForFunction(() => document.activeElement.id === 'axle-2-tyre');
  await line('Front').tap();
  await page.waitForFunction(() => document.activeElement.id === 'axle-0-heading');
  await page.getByRole('button', { name: 'Go on' }).tap();
  await page.waitForFunction(() => document.activeElement.id === 'axle-2-tyre');
});

test('a finding stands in the entry that it is about', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await field(card(page, 1), 'Placard pressure').fill('90');
  await card(page, 1).getByText("The placard's 90 psi is above").waitFor();
  assert.match(await page.locator('.entry-line').nth(1).innerText(), /look at it/);
  await field(card(page, 1), 'Placard pressure').fill('');
  await field(card(page, 1), 'Mass on the axle').fill('3000');
  await card(page, 1).locator('.warning', { hasText: 'Overloaded by 200 kg' }).waitFor();
  assert.match(await page.locator('.entry-line').nth(1).innerText(), /too heavy/);
});

// The demo of the first visit stood first in the list and became current.
test('deleting one of two own rigs leaves the other current', async (t) => {
  const { page } = await phone(t);
  await enterRig(page);
  await page.getByRole('button', { name: 'Copy' }).tap();
  await field(page, 'Name').fill('Light');
  await page.getByRole('button', { name: 'Delete', exact: true }).tap();
  await page.locator('#app h1', { hasText: 'Dusty' }).waitFor();
  assert.equal(await field(card(page, 0), 'Mass on the axle').inputValue(), '1270');
  await page.reload();
  await page.locator('#app h1', { hasText: 'Dusty' }).waitFor();
});

test('folds stay open over a reload', async (t) => {
  const { page } = await phone(t, { path: '#/rig' });
  await unfold(page, 'Settings');
  await unfold(card(page, 1), 'More');
  await page.reload();
  // The view comes after the page.
  await page.getByRole('radio', { name: 'Practice', exact: true }).waitFor();
  assert.ok(await field(card(page, 1), 'Your sealed-road pressure').isVisible());
  assert.ok(!(await field(card(page, 0), 'Your sealed-road pressure').isVisible()));
});

test('twice the text fits the phone', async (t) => {
  const { page, look } = await phone(t);
  await enterRig(page);
  await unfold(card(page, 0), 'More');
  await unfold(page, 'Settings');
  await page.evaluate(() => {
    document.documentElement.style.fontSize = '200%';
  });
  await look('rig-200');
});

test('a band may be typed as pressures, which then hold for every axle', async (t) => {
  const { page, look } = await phone(t, { path: '#/rig' });
  await unfold(page, 'Settings');
  await unfold(page, 'Surface bands');
  const dirt = page.getByRole('group', { name: 'Dirt road' });
  await pick(dirt, 'psi');
  await dirt.getByLabel('Low').fill('30');
  await dirt.getByText('Enter both. Until then 60 to 70 % counts.').waitFor();
  await dirt.getByLabel('High').fill('34');
  await dirt.getByText('For every axle').waitFor();
  await look('rig-band');
  await go(page, 'Pressures');
  await pick(page, 'Dirt');
  assert.equal(await number(page, 'Trailer'), '32');
  await page.reload();
  await go(page, 'Rig');
  assert.equal(await dirt.getByLabel('High').inputValue(), '34');
  await dirt.getByLabel('High').fill('20');
  await dirt.getByText("The band's low end is above its high end.").waitFor();
  await pick(dirt, 'Percent');
  await go(page, 'Pressures');
  assert.equal(await number(page, 'Trailer'), '33');
});
