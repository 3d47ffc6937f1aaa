// `npm run pictures -- folder`: the built app on three screens in both colour schemes, as it opens and
// while it plays. Without a folder it takes the pictures that the README and the guide show.
import './node.mjs';
import { mkdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { SCHEMES, SIZES, launchOptions } from './browser.mjs';
import { guidePictures } from './guide-pictures.mjs';
import { installMissing } from './install.mjs';
import { needChromium } from './programs.mjs';
import { ROOT } from './run.mjs';
import { build, serve } from './site.mjs';

const [asked] = process.argv.slice(2);
const forReadme = asked === undefined;
const folder = forReadme ? `${ROOT}.pictures` : resolve(asked);
const sizes = forReadme ? { desktop: SIZES.desktop } : SIZES;

/** The changes in the README's picture; the dominant of bar 2 is altered while it is taken. */
const CHANGES = `| Dm7 | G7 | Cmaj7 | A7 |
| Dm7 | G7 | Em7 A7 | Dm7 G7 |`;

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
      if (forReadme) {
        await page.getByRole('button', { name: 'No tour' }).click();
        await page.getByLabel('Title').fill('Two, five, one');
        await page.getByLabel('Chart as text').fill(CHANGES);
      } else await take('opened');
      await page.getByRole('button', { name: /^play/i }).click();
      await page.getByText(/^Bar 2,/).waitFor();
      if (forReadme) await page.getByRole('button', { name: /^alter/i }).click();
      await page.waitForTimeout(1000);
      await take('playing');
      await context.close();
    }
  }
  if (forReadme) await guidePictures(browser, address);
} finally {
  await browser.close();
  await close();
}
