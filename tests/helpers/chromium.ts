export { launchOptions } from '../../src/tools/browser.mjs';
