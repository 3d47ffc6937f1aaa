import { expect, it } from 'vitest';
import { readChart, unfold } from '../../../src/engine/chart/index.ts';
import { chartCases } from '../../helpers/chart-cases.ts';
import { drawChart } from '../../helpers/chart.ts';

const cases = chartCases().map((one) => ({ ...one, name: one.name.replaceAll('-', ' ') }));

it('has cases', () => {
  expect(cases.length).toBeGreaterThan(30);
});

it.each(cases)('$name', ({ typed, expected }) => {
  const chart = readChart(typed);
  expect(`${drawChart(chart, unfold(chart))}\n`).toBe(expected);
});
