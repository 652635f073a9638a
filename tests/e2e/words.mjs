// What a person does on the page, in its own words.

/** An axle's line on the drawing of the pressures view. */
export const axle = (page, name) =>
  page.locator('.axle').filter({ has: page.getByRole('heading', { name: new RegExp(`^${name}\\b`) }) });

/** The number that a person reads off an axle's line. */
export const number = (page, name) => axle(page, name).locator('.number').innerText();

/** What is said right below the numbers. */
export const beside = (page) => page.locator('.beside');

/** Opens what stands behind an axle's number, or closes it. */
export const openWhy = (page, name) => axle(page, name).getByRole('button', { name: new RegExp(`^${name}\\b`) }).tap();

/** Taps the unit beside a number until it is the one wanted. */
export async function unit(page, mark) {
  const key = page.locator('.unit-key').first();
  for (let tap = 0; tap < 3 && (await key.innerText()) !== mark; tap += 1) await key.tap();
}

export const pick = (page, key) => page.getByRole('radio', { name: key, exact: true }).check();

export const go = (page, view) => page.getByRole('navigation', { name: 'Views' }).getByRole('link', { name: view }).tap();

/** The entry of an axle on the rig view, by its place in the list. */
export const card = (page, index) => page.locator('main section.axle-entry').nth(index);

/** Opens a fold by its summary, where it is closed. A view is drawn a moment after its address. */
export async function unfold(within, summary) {
  await within.locator('details > summary', { hasText: summary }).first().waitFor();
  const closed = within.locator('details:not([open]) > summary', { hasText: summary });
  if (await closed.count()) await closed.first().tap();
}

/** The field of an axle's own sealed-road pressure, which is folded away. */
export async function ownPressure(page, index) {
  await unfold(card(page, index), 'More');
  return field(card(page, index), 'Your sealed-road pressure');
}

export const field = (within, label) => within.getByLabel(label);

/** A rig of one's own: three axles typed in, as a first visitor would. */
export async function enterRig(page) {
  await page.getByRole('button', { name: 'Enter my rig' }).tap();
  await page.getByRole('button', { name: 'With a trailer, 2 axles' }).tap();
  const enter = async (index, tyre, load) => {
    await field(card(page, index), 'Tyre, as its sidewall says').fill(tyre);
    await field(card(page, index), 'Mass on the axle').fill(load);
  };
  await unfold(page, 'Rigs');
  await field(page, 'Name').fill('Dusty');
  await enter(0, 'LT265/75R16 123/120Q E', '1270');
  await enter(1, '265/75r16 lt 123/120q lr e', '1640');
  await enter(2, 'LT235/85R16 120/116Q E', '2,6 t');
}
