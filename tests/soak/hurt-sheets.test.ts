import { describe, expect, it } from 'vitest';
import { readHurtSheets } from '../helpers/hurt-sheets.ts';

const COUNT = Number(process.env['SOAK_RUNS'] ?? 100_000);

describe(`lead sheets hurt on the way, ${COUNT} of them`, () => {
  it('are opened as far as they can be, or refused with a reason', () => {
    const tally = readHurtSheets(COUNT, 3);
    console.info('sheets', tally);
    expect(tally.opened + tally.refused).toBe(COUNT);
  }, 3_600_000);
});
