import { launchOptions } from '../../src/tools/browser.mjs';

export { launchOptions };

/** The browser the tests drive. */
export const chromiumPath = (): string => launchOptions().executablePath;
