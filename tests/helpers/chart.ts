import type { Bar, Chart, Form, Problem, Slot } from '../../src/engine/chart/index.ts';
import { metreName, toQuarters } from '../../src/engine/units/index.ts';

/**
 * A chart drawn for a test to read, one line for each written bar:
 *
 *     3 |: [A] 1. 3/4 = Dm7 2, (G7) 1 :| 2x Fine
 *
 * the bar's number, what stands at its head, after the equals sign each chord with its quarter notes,
 * then what stands at its end. `?` is a gap, `%` and `%%` in front of the chords a simile mark. A line
 * `form` gives the bars in the order they are played, and lines with `!` the problems.
 */
export function drawChart(chart: Chart, form: Form): string {
  const lines = chart.bars.map(drawBar);
  if (chart.bars.length > 0) lines.push(`form ${form.bars.map(({ bar }) => bar.index + 1).join(' ')}`);
  return [...lines, ...[...chart.problems, ...form.problems].map(drawProblem)].join('\n');
}

function drawBar(bar: Bar): string {
  const head = [
    `${bar.index + 1}`,
    bar.repeatStart && '|:',
    bar.mark !== null && `[${bar.mark}]`,
    bar.ending !== null && `${bar.endingStart ? '' : '…'}${bar.ending.join()}.`,
    bar.newMetre && metreName(bar.metre),
    bar.note !== null && `"${bar.note}"`,
  ];
  const end = [bar.repeatEnd > 0 && `:| ${bar.repeatEnd}x`, bar.doubleEnd && '||', ...bar.signs];
  const chords = '%'.repeat(bar.simile) + (bar.simile > 0 ? ' ' : '') + bar.slots.map(drawSlot).join(', ');
  return [...head, '=', chords, ...end].filter(Boolean).join(' ');
}

function drawSlot({ chord, silence, optional, length }: Slot): string {
  const text = chord?.text ?? (silence === 'no-chord' ? 'N.C.' : '?');
  return `${optional ? `(${text})` : text} ${Math.round(toQuarters(length) * 1000) / 1000}`;
}

/** An unreadable symbol is only named: what is said about it is harmony's. */
function drawProblem({ severity, line, column, message, remedy }: Problem): string {
  const symbol = /^“.*”(?=: )/u.exec(message)?.[0];
  return `! ${severity} ${line}:${column} ${symbol ?? `${message} → ${remedy}`}`;
}
