import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const FOLDER = join(import.meta.dirname, '../engine/chart/cases');
const RULE = '\n----\n';

/** The golden cases of charts: a typed chart and what it must become. */
export function chartCases(): readonly { name: string; typed: string; expected: string }[] {
  return readdirSync(FOLDER)
    .sort()
    .map((file) => {
      const [typed, expected] = readFileSync(join(FOLDER, file), 'utf8').split(RULE);
      if (typed === undefined || expected === undefined)
        throw new Error(`${file}: a case is a chart, a rule line and the bars`);
      return { name: file.replace(/\.txt$/, ''), typed, expected };
    });
}
