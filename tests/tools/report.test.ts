import { describe, expect, it } from 'vitest';
import { tally } from '../../src/tools/report.mjs';

const file = (status: string, tests: number) => ({
  status,
  assertionResults: Array<{ status?: string }>(tests).fill({}),
});

describe('the count at the end of a test run', () => {
  it('is what passed and what failed', () => {
    const report = {
      numPassedTests: 7,
      numTotalTests: 9,
      testResults: [file('passed', 4), file('failed', 5)],
    };
    expect(tally(report, 1)).toEqual({ passed: 7, failed: 2 });
  });

  it('takes a test that did not run for a failure', () => {
    expect(tally({ numPassedTests: 3, numTotalTests: 4, testResults: [file('passed', 4)] }, 0).failed).toBe(
      1,
    );
  });

  it('lets only those tests wait that need the schema from outside', () => {
    const waits = { status: 'passed', assertionResults: [{ status: 'pending' }] };
    const count = (name: string) =>
      tally({ numPassedTests: 3, numTotalTests: 4, testResults: [{ ...waits, name }] }, 0).failed;
    expect(count('/x/tests/export/musicxml-schema.test.ts')).toBe(0);
    expect(count('/x/tests/export/midi.test.ts')).toBe(1);
  });

  it('takes a file that does not load for a failure', () => {
    const report = {
      numPassedTests: 3,
      numTotalTests: 3,
      testResults: [file('passed', 3), file('failed', 0)],
    };
    expect(tally(report, 1)).toEqual({ passed: 3, failed: 1 });
  });

  it('never shows a clean sheet for a run that ended badly', () => {
    expect(tally({ numPassedTests: 3, numTotalTests: 3, testResults: [file('passed', 3)] }, 1).failed).toBe(
      1,
    );
  });
});
