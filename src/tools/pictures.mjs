// `npm run pictures -- folder`: the built app on three screens in both colour schemes, as it opens and
// while it plays. Without a folder it takes the pictures that the README shows.
import './node.mjs';
import { mkdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { SCHEMES, SIZES, launchOptions } from './browser.mjs';
import { installMissing } from './install.mjs';
import { needChromium } from './programs.mjs';
import { ROOT } from './run.mjs';
import { build, serve } from './site.mjs';

const [asked] = process.argv.slice(2);
const folder = asked === undefined ? `${ROOT}.pictures` : resolve(asked);
const sizes = asked === undefined ? { desktop: SIZES.desktop } : SIZES;

/** How long the band has played when the picture is taken, in milliseconds: into the second bar. */
const INTO_THE_MUSIC = 4500;

await installMissing();
await needChromium();
await build(`${ROOT}dist`);
mkdirSync(folder, { recursive: true });
const { chromium } = await import('playwright-core');
const { address, close } = await serve(`${ROOT}dist`);
const browser = await chromium.launch(launchOptions());
try {
  for (const [size, viewport] of Object.entries(sizes)) {
    for (const colorScheme of SCHEMES) {
      const context = await browser.newContext({ viewport, colorScheme });
      const page = await context.newPage();
      const take = async (/** @type {string} */ moment) => {
        const path = `${folder}/${moment}-${size}-${colorScheme}.png`;
        await page.screenshot({ path });
        console.log(path);
      };
      await page.goto(address, { waitUntil: 'networkidle' });
      if (asked !== undefined) await take('opened');
      await page.getByRole('button', { name: /^play/i }).first().click();
      await page.waitForTimeout(INTO_THE_MUSIC);
      await take('playing');
      await context.close();
    }
  }
} finally {
  await browser.close();
  await close();
}
