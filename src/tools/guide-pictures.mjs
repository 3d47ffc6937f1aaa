import { mkdirSync, writeFileSync } from 'node:fs';
import { ROOT } from './run.mjs';

/** @typedef {import('playwright-core').Page} Page */

const CHANGES = `| Dm7 | G7 | Cmaj7 | A7 |
| Dm7 | G7 | Em7 A7 | Dm7 G7 |`;
const DESK = { width: 1200, height: 760 };
const PHONE = { width: 420, height: 760 };
/** How well a picture is kept, 0 to 1: lines stay clean, and none is above 60 kB. */
const QUALITY = 0.72;

/** A key of the page's own, with the focus nowhere. */
async function sheet(/** @type {Page} */ page, /** @type {string} */ key) {
  await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
  await page.keyboard.press(key);
  await page
    .locator('#panel .body > *')
    .first()
    .waitFor({ state: 'attached', timeout: 3000 })
    .catch(() => {});
}
const beat = (/** @type {Page} */ page, /** @type {RegExp} */ name) =>
  page.getByRole('gridcell', { name }).first();

async function play(/** @type {Page} */ page) {
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText(/^Bar 2,/).waitFor();
}

/** What each picture shows: how to get there, on a screen of which size, by which light. */
const SCENES = {
  page: { size: DESK, light: 'light', go: play },
  altered: {
    size: PHONE,
    light: 'light',
    /** @param {Page} page */
    go: async (page) => {
      await play(page);
      await page.getByRole('button', { name: /^alter/i }).click();
      await page.waitForTimeout(700);
    },
  },
  loop: {
    size: DESK,
    light: 'light',
    /** @param {Page} page */
    go: async (page) => {
      await beat(page, /^bar 2, beat 3/).focus();
      await page.keyboard.press('Shift+ArrowRight');
      await page.keyboard.press('l');
      await sheet(page, 'p');
      await page.getByRole('spinbutton', { name: 'Landing' }).fill('4');
      await page.keyboard.press('Tab');
    },
  },
  treatment: {
    size: DESK,
    light: 'dark',
    /** @param {Page} page */
    go: async (page) => {
      await beat(page, /^bar 2, beat 3/).focus();
      await page.keyboard.press('Shift+ArrowRight');
      await page.keyboard.press('t');
      await page.keyboard.press('t');
    },
  },
  practice: { size: PHONE, light: 'light', go: (/** @type {Page} */ page) => sheet(page, 'p') },
  neck: {
    size: DESK,
    light: 'light',
    /** @param {Page} page */
    go: async (page) => {
      await page.getByRole('button', { name: 'One form' }).click();
      await sheet(page, 'v');
    },
  },
  stand: {
    size: DESK,
    light: 'dark',
    /** @param {Page} page */
    go: async (page) => {
      await sheet(page, 's');
      await play(page);
    },
  },
  drill: {
    size: DESK,
    light: 'light',
    /** @param {Page} page */
    go: async (page) => {
      await sheet(page, 'u');
      await page.locator('.system svg').first().waitFor();
      await page.getByRole('button', { name: 'Play with the band' }).click();
      await page.waitForTimeout(5000);
    },
  },
  step: {
    size: PHONE,
    light: 'light',
    /** @param {Page} page */
    go: async (page) => {
      await sheet(page, 'y');
      await page.getByRole('button', { name: /^Begin The altered sound/ }).click();
      await page.getByRole('timer').first().waitFor();
      await page.getByRole('button', { name: 'Close', exact: true }).first().click();
    },
  },
  handout: {
    size: DESK,
    light: 'light',
    /** @param {Page} page */
    go: async (page) => {
      await page.keyboard.press('Control+p');
      await page.getByRole('region', { name: /^Page 1/ }).waitFor();
      await page.waitForTimeout(1500);
    },
  },
  files: { size: PHONE, light: 'light', go: (/** @type {Page} */ page) => sheet(page, 'j') },
  keys: {
    size: PHONE,
    light: 'dark',
    /** @param {Page} page */
    go: async (page) => {
      await sheet(page, '?');
      await page.getByRole('heading', { name: 'Keys and pedals' }).scrollIntoViewIfNeeded();
    },
  },
};

/** A screenshot as WebP: the browser itself writes it. @param {Page} page @param {Buffer} png */
async function webp(page, png) {
  const address = `data:image/png;base64,${png.toString('base64')}`;
  const data = await page.evaluate(
    async ([from, quality]) => {
      const image = new Image();
      image.src = String(from);
      await image.decode();
      const canvas = document.createElement('canvas');
      Object.assign(canvas, { width: image.width, height: image.height });
      canvas.getContext('2d', { alpha: false })?.drawImage(image, 0, 0);
      return canvas.toDataURL('image/webp', Number(quality));
    },
    [address, QUALITY],
  );
  return Buffer.from(data.slice(data.indexOf(',') + 1), 'base64');
}

/**
 * Takes the pictures of the guide.
 * @param {import('playwright-core').Browser} browser
 * @param {string} address of the built app
 */
export async function guidePictures(browser, address) {
  const folder = `${ROOT}src/guide/pictures`;
  mkdirSync(folder, { recursive: true });
  const blank = await browser.newPage();
  for (const [name, { size, light, go }] of Object.entries(SCENES)) {
    const colorScheme = /** @type {'light' | 'dark'} */ (light);
    const context = await browser.newContext({ viewport: size, colorScheme, reducedMotion: 'reduce' });
    const page = await context.newPage();
    await page.goto(address, { waitUntil: 'networkidle' });
    await page.getByRole('button', { name: 'No tour' }).click();
    if (!(await page.getByLabel('Chart as text').isVisible())) await sheet(page, 'e');
    await page.getByLabel('Title').fill('Two, five, one');
    await page.getByLabel('Chart as text').fill(CHANGES);
    await page.keyboard.press('Escape');
    await page.waitForTimeout(300);
    await go(page);
    await page.waitForTimeout(400);
    const path = `${folder}/${name}.webp`;
    const data = await webp(blank, await page.screenshot());
    writeFileSync(path, data);
    console.log(path, `${Math.round(data.length / 1000)} kB`);
    await context.close();
  }
  await blank.close();
}
