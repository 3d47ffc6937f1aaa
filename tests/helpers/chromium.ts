import { existsSync } from 'node:fs';

const PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
];

/** The browser the tests drive: `CHROMIUM_PATH` where it is set, else the first one found. */
export function chromiumPath(): string {
  const path = process.env['CHROMIUM_PATH'] ?? PLACES.find((place) => existsSync(place));
  if (path === undefined) {
    throw new Error(`no Chromium found in ${PLACES.join(', ')}; install one or set CHROMIUM_PATH`);
  }
  return path;
}

/** Launch options for playwright: no sandbox (the tests may run as root), sound without a gesture. */
export const launchOptions = () => ({
  executablePath: chromiumPath(),
  args: [
    '--no-sandbox',
    '--autoplay-policy=no-user-gesture-required',
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    '--no-first-run',
  ],
});
