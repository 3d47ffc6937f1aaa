import { findChromium } from '../../src/tools/programs.mjs';

/** Launch options for playwright: no sandbox (the tests may run as root), sound without a gesture. */
export const launchOptions = () => ({
  executablePath: findChromium() ?? 'chromium (none was found: install one or set CHROMIUM_PATH)',
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
