import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { run } from './run.mjs';

const BROWSERS = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

const BROWSER_PLACES = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
];

const ADVICE = `No Chromium or Chrome was found, and the tests play the app in one. Install it:
  Debian      apt-get install chromium
  Ubuntu      snap install chromium
  Fedora      dnf install chromium
  macOS       brew install --cask google-chrome
  Windows     winget install Google.Chrome
or, where it stands in an unusual place, say where: CHROMIUM_PATH=/path/to/chromium npm test`;

/** @param {string} path */
function isProgram(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** @param {readonly string[]} names */
function onPath(names) {
  const folders = (process.env['PATH'] ?? '').split(delimiter);
  return names.flatMap((name) => folders.map((folder) => join(folder, name))).find(isProgram);
}

/**
 * The browser that the tests and the pictures drive: `CHROMIUM_PATH` where it is set, else the first
 * Chromium or Chrome found.
 * @returns {string | undefined} its path; undefined when there is none
 */
export function findChromium() {
  const asked = process.env['CHROMIUM_PATH'];
  if (asked) return isProgram(asked) ? asked : undefined;
  return onPath(BROWSERS) ?? BROWSER_PLACES.find(isProgram);
}

/**
 * The browser's path; where there is none it is installed by apt, if this system has it and lets us.
 * Ends the process, saying what to install, when there is still none.
 */
export async function needChromium() {
  if (!findChromium() && !process.env['CHROMIUM_PATH']) await aptInstall('chromium', 'fonts-liberation');
  const path = findChromium();
  if (path) return path;
  const asked = process.env['CHROMIUM_PATH'];
  console.error(asked ? `CHROMIUM_PATH is ${asked}, but no program stands there.\n\n${ADVICE}` : ADVICE);
  process.exit(1);
}

/**
 * Where programs stand, those that are missing installed by apt where it is there and lets us.
 * @param {Readonly<Record<string, string>>} packages the Debian package of each program, by its name
 * @returns {Promise<readonly string[]>} their paths
 * @throws {Error} saying what to install when one is still missing
 */
export async function needPrograms(packages) {
  const missing = Object.entries(packages).filter(([program]) => !onPath([program]));
  if (missing.length > 0) await aptInstall(...new Set(missing.map(([, name]) => name)));
  return Object.entries(packages).map(([program, name]) => {
    const path = onPath([program]);
    if (!path)
      throw new Error(`${program} was not found. Install it, e.g. on Debian: apt-get install ${name}`);
    return path;
  });
}

const FFMPEG_ADVICE = `No ffmpeg was found, and the tests measure the app's sound files with it. Install it:
  Debian, Ubuntu   apt-get install ffmpeg
  Fedora           dnf install ffmpeg-free
  macOS            brew install ffmpeg
  Windows          winget install Gyan.FFmpeg`;

/** The path of ffmpeg; undefined when there is none. */
export const findFfmpeg = () => onPath(['ffmpeg', 'ffmpeg.exe']);

/** As {@link needChromium}, for ffmpeg. */
export async function needFfmpeg() {
  if (!findFfmpeg()) await aptInstall('ffmpeg');
  const path = findFfmpeg();
  if (path) return path;
  console.error(FFMPEG_ADVICE);
  process.exit(1);
}

/** @param {...string} names Debian packages */
async function aptInstall(...names) {
  if (!onPath(['apt-get'])) return;
  const isRoot = process.getuid?.() === 0;
  if (!isRoot && (await run('sudo', ['-n', 'true'], { quiet: true })).code !== 0) return;
  console.log(`Installing ${names.join(' and ')} with apt-get …`);
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  for (const args of [['update'], ['install', '-y', '--no-install-recommends', ...names]]) {
    const command = ['apt-get', '-qq', ...args];
    const { code, output } = isRoot
      ? await run('apt-get', command.slice(1), { quiet: true, env })
      : await run('sudo', ['-n', 'DEBIAN_FRONTEND=noninteractive', ...command], { quiet: true });
    if (code !== 0) console.error(`${command.join(' ')} failed:\n${output}`);
  }
}
