import { bench, describe } from 'vitest';
import { readChart, unfold } from '../../../src/engine/chart/index.ts';
import { touch, treat, writtenChanges } from '../../../src/engine/treatment/index.ts';
import { beats } from '../../../src/engine/units/index.ts';
import { changesOf } from '../../helpers/changes.ts';
import { placed, rule } from '../../helpers/treated.ts';

const TEXT = '| Dm7 | G7 | Cmaj7 | A7 | Em7 A7 | Dm7 G7 | C6 / A7 / | D7 G7 |\n'.repeat(8);

/** Each round is another: chance is drawn anew. */
let round = 0;

describe('a live touch in a chart of 64 bars under 32 placed treatments and two rules', () => {
  const changes = changesOf(TEXT);
  const layers = {
    placed: Array.from({ length: 32 }, (_, index) => placed('altered', index * 2 + 1, 0, 2)),
    rules: [
      rule('altered', 'secondary', { when: { type: 'chance', chance: 0.5 } }),
      rule('suspended-first', 'falling-fifth'),
    ],
  };
  const treated = treat(changes, layers, { round: 1, seed: 1 });
  const tap = { at: beats(17), length: beats(4), kind: 'altered' } as const;
  bench('treat and touch', () => void touch(treat(changes, layers, { round: round++, seed: 1 }), tap));
  bench('touch alone', () => void touch(treated, tap));
  bench('reading the chart, for comparison', () => void writtenChanges(unfold(readChart(TEXT))));
});
