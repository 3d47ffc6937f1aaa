// `node src/tools/icons.mjs`: draws the app's icons in every size from the one drawing. Run by hand, when
// the drawing changes.
import { readFileSync } from 'node:fs';
import { launchOptions } from './browser.mjs';
import { ROOT } from './run.mjs';

const folder = `${ROOT}src/public/`;
const drawing = readFileSync(`${folder}icon.svg`, 'utf8');
const ground = /fill="(#\w+)"/.exec(drawing)?.[1] ?? '#000';

/** Sides in pixels, and how much of it the drawing takes: devices cut the maskable one to a circle. */
const ICONS = [
  { name: 'icon-192', side: 192, share: 1 },
  { name: 'icon-512', side: 512, share: 1 },
  { name: 'icon-maskable-512', side: 512, share: 0.72 },
  { name: 'apple-touch-icon', side: 180, share: 0.86 },
];

const { chromium } = await import('playwright-core');
const browser = await chromium.launch(launchOptions());
const page = await browser.newPage();
for (const { name, side, share } of ICONS) {
  await page.setViewportSize({ width: side, height: side });
  const size = `width:${side * share}px;height:${side * share}px`;
  await page.setContent(
    `<body style="margin:0;height:100vh;display:grid;place-items:center;background:${ground}">` +
      drawing.replace('<svg ', `<svg style="${size}" `),
  );
  await page.screenshot({ path: `${folder}${name}.png` });
}
await browser.close();
