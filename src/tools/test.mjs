// `npm test`: installs what is missing, then runs the checks and all tests but the long ones.
import './node.mjs';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkNames, runChecks } from './checks.mjs';
import { installMissing } from './install.mjs';
import { needChromium, needFfmpeg } from './programs.mjs';
import { tally } from './report.mjs';
import { ROOT, run } from './run.mjs';

/** Run by `npm run check`: two are tidiness, the layers are among the tests here. */
const ONLY_IN_CHECK = new Set(['unused', 'duplicates', 'layers']);

/** Runs vitest and counts its tests. */
async function runTests() {
  const folder = mkdtempSync(join(tmpdir(), 'vampwright-'));
  const file = join(folder, 'report.json');
  const vitest = `${ROOT}node_modules/vitest/vitest.mjs`;
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${file}`];
  const { code } = await run(process.execPath, [vitest, 'run', '--project=!soak*', ...reporters]);
  try {
    return tally(JSON.parse(readFileSync(file, 'utf8')), code);
  } catch (error) {
    console.error(`vitest left no report: ${String(error)}`);
    return { passed: 0, failed: 1 };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

await installMissing();
process.env['CHROMIUM_PATH'] = await needChromium();
await needFfmpeg();
const checks = await runChecks(checkNames().filter((name) => !ONLY_IN_CHECK.has(name)));
const tests = await runTests();
const failed = checks.failed + tests.failed;
console.log(`${checks.passed + tests.passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
