/**
 * What is read of a JSON report of vitest.
 * @typedef {object} Report
 * @property {number} numPassedTests
 * @property {number} numTotalTests
 * @property {readonly { status: string, assertionResults: readonly unknown[] }[]} testResults
 */

/**
 * Counts a test run. A test counts as passed only when it ran and passed; a test file that does not
 * load counts as one failure, and so does a run that ends badly without naming a test.
 * @param {Report} report
 * @param {number} code how vitest ended, 0 for well
 */
export function tally(report, code) {
  const unread = report.testResults.filter(
    ({ status, assertionResults }) => status === 'failed' && assertionResults.length === 0,
  );
  const failed = report.numTotalTests - report.numPassedTests + unread.length;
  return { passed: report.numPassedTests, failed: failed === 0 && code !== 0 ? 1 : failed };
}
