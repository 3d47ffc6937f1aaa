import { findChromium } from './programs.mjs';

/** Sizes the page is looked at in: on a desk, on a tablet, on a phone in a music stand. */
export const SIZES = Object.freeze({
  desktop: { width: 1440, height: 900 },
  tablet: { width: 820, height: 1180 },
  phone: { width: 360, height: 740 },
});

/** @type {readonly ('light' | 'dark')[]} */
export const SCHEMES = ['light', 'dark'];

/**
 * Of the last list of this kind on its command line Chromium takes notice, and of no other: so playwright's own
 * stands here first. Then come the two pages that Chromium loads behind the address bar of every window, which
 * take longer than the app's own.
 */
const FEATURES_OFF = [
  'AimEnabled',
  'AvoidCorsURLLoaderRestartOnRedirect',
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'HttpsFirstBalancedModeAutoEnable',
  'HttpsUpgrades',
  'LensOverlay',
  'MediaRouter',
  'NetworkTimeServiceQuerying',
  'OptimizationHints',
  'PaintHolding',
  'PreconnectToSearch',
  'ThirdPartyStoragePartitioning',
  'WebUIOmniboxAimPopup',
  'WebUIOmniboxPopup',
];

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
    `--disable-features=${FEATURES_OFF.join(',')}`,
  ],
});
