// The README's pictures, made anew by `make pictures`: the demo rig on a phone.

import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { phone } from './harness.mjs';
import { pick } from './words.mjs';

const FOLDER = fileURLToPath(new URL('./pictures', import.meta.url));

/** WebP at one pixel for one of the style's: a few kilobytes, and still legible. */
async function picture({ page, context }, name) {
  await page.evaluate(() => {
    document.activeElement?.blur();
    scrollTo(0, 0);
  });
  const { width, height } = page.viewportSize();
  const session = await context.newCDPSession(page);
  const { data } = await session.send('Page.captureScreenshot', {
    format: 'webp',
    quality: 45,
    clip: { x: 0, y: 0, width, height, scale: 1 / 2 },
  });
  const picture = Buffer.from(data, 'base64');
  mkdirSync(FOLDER, { recursive: true });
  writeFileSync(join(FOLDER, `${name}.webp`), picture);
  console.log(`${name}.webp: ${picture.length} bytes`);
}

test('the first screen', async (t) => {
  const seen = await phone(t);
  await pick(seen.page, 'Dirt');
  await picture(seen, 'pressures');
});

test('the walk', async (t) => {
  const seen = await phone(t);
  const { page } = seen;
  await pick(page, 'Dirt');
  await page.getByRole('link', { name: 'Let down for dirt' }).tap();
  await page.getByRole('button', { name: 'Cold: start' }).tap();
  await page.getByRole('button', { name: 'Tyre done', exact: true }).tap();
  await page.locator('.in-hand .number').waitFor();
  await picture(seen, 'walk');
});

test('the wheel', async (t) => {
  const seen = await phone(t, { path: '#/nuts' });
  const { page } = seen;
  await page.getByRole('group', { name: 'The rig from above' }).getByRole('button', { name: 'Rear, left' }).tap();
  await page.locator('.nut').first().tap();
  await picture(seen, 'wheel');
});
