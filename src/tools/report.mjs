/**
 * What is read of a JSON report of vitest.
 * @typedef {object} Report
 * @property {number} numPassedTests
 * @property {number} numTotalTests
 * @property {readonly { name?: string, status: string, assertionResults: readonly { status?: string }[] }[]} testResults
 */

/** The tests that need the schema of MusicXML, which stands outside the project: without it they say so and do not run. */
const NEED_THE_SCHEMA = /tests.export.musicxml-(schema|staff)\.test\.ts$/;

/**
 * Counts a test run. A test counts as passed only when it ran and passed; a test file that does not
 * load counts as one failure, and so does a run that ends badly without naming a test. Tests that wait for the schema of
 * MusicXML count as neither.
 * @param {Report} report
 * @param {number} code how vitest ended, 0 for well
 */
export function tally(report, code) {
  const unread = report.testResults.filter(
    ({ status, assertionResults }) => status === 'failed' && assertionResults.length === 0,
  );
  const waiting = report.testResults
    .filter(({ name }) => NEED_THE_SCHEMA.test(name ?? ''))
    .flatMap(({ assertionResults }) => assertionResults)
    .filter(({ status }) => status === 'pending' || status === 'skipped');
  const failed = report.numTotalTests - report.numPassedTests - waiting.length + unread.length;
  return { passed: report.numPassedTests, failed: failed === 0 && code !== 0 ? 1 : failed };
}
