import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { readChart, unfold } from '../../../src/engine/chart/index.ts';
import { drawChart } from '../../helpers/chart.ts';

const FOLDER = join(import.meta.dirname, 'cases');
const RULE = '\n----\n';

const cases = readdirSync(FOLDER)
  .sort()
  .map((file) => {
    const [typed, expected] = readFileSync(join(FOLDER, file), 'utf8').split(RULE);
    return { name: file.replace(/\.txt$/, '').replaceAll('-', ' '), typed, expected };
  });

it('has cases', () => {
  expect(cases.length).toBeGreaterThan(30);
});

it.each(cases)('$name', ({ typed, expected }) => {
  if (typed === undefined || expected === undefined)
    throw new Error('a case is a chart, a rule line and the bars');
  const chart = readChart(typed);
  expect(`${drawChart(chart, unfold(chart))}\n`).toBe(expected);
});
