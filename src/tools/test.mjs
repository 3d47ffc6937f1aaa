// `npm test`: installs what is missing, then runs the checks and all tests but the long ones.
import './node.mjs';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkNames, runChecks } from './checks.mjs';
import { installMissing } from './install.mjs';
import { needChromium } from './programs.mjs';
import { ROOT, run } from './run.mjs';

/** Tidiness, not correctness: `npm run check` runs these too. */
const ONLY_IN_CHECK = new Set(['unused', 'duplicates']);

/**
 * @typedef {object} Report what is read of vitest's JSON report
 * @property {number} numPassedTests
 * @property {number} numTotalTests
 * @property {readonly { status: string, assertionResults: readonly unknown[] }[]} testResults
 */

/**
 * Runs vitest. A test counts as passed only when it ran and passed; a test file that does not load
 * counts as one failure, and so does a run that ends badly without naming a test.
 */
async function runTests() {
  const folder = mkdtempSync(join(tmpdir(), 'vampwright-'));
  const file = join(folder, 'report.json');
  const vitest = `${ROOT}node_modules/vitest/vitest.mjs`;
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${file}`];
  const { code } = await run(process.execPath, [vitest, 'run', '--project=!soak', ...reporters]);
  try {
    /** @type {Report} */
    const report = JSON.parse(readFileSync(file, 'utf8'));
    const unread = report.testResults.filter(
      ({ status, assertionResults }) => status === 'failed' && assertionResults.length === 0,
    );
    const failed = report.numTotalTests - report.numPassedTests + unread.length;
    return { passed: report.numPassedTests, failed: failed || (code === 0 ? 0 : 1) };
  } catch (error) {
    console.error(`vitest left no report: ${String(error)}`);
    return { passed: 0, failed: 1 };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

await installMissing();
process.env['CHROMIUM_PATH'] = await needChromium();
const checks = await runChecks(checkNames().filter((name) => !ONLY_IN_CHECK.has(name)));
const tests = await runTests();
const failed = checks.failed + tests.failed;
console.log(`${checks.passed + tests.passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
