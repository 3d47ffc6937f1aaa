import { Voicing } from 'tonal';
import { bench, describe } from 'vitest';
import { candidates, leadVoicings } from '../../../src/engine/voicing/index.ts';
import { AABA, attacksOn, greedy } from './forms.ts';

/** Each round is another: nothing is answered from the last one. */
let round = 0;

describe('a 32-bar chorus with its attacks', () => {
  const attacks = attacksOn(AABA, [2, 3, 2, 3]);
  const symbols = attacks.map(({ chord }) => chord.text);

  bench('shortest path', () => {
    leadVoicings(attacks, { style: 'rootless', loop: false, seed: 1, round: round++ });
  });
  bench('shortest path round the loop', () => {
    leadVoicings(attacks, { style: 'rootless', loop: true, seed: 1, round: round++ });
  });
  bench('nearest voicing each time, over our candidates', () => {
    greedy(
      attacks.map(({ chord }) => chord),
      (chord) => candidates(chord, { style: 'rootless' }),
    );
  });
  bench('@tonaljs/voicing, nearest top note', () => {
    Voicing.sequence([...symbols], ['C3', 'C5']);
  });
});

describe('a 64-bar chart with two to three attacks a bar', () => {
  const attacks = attacksOn([...AABA, ...AABA], [2, 3]);
  for (const style of ['rootless', 'drop-2', 'drop-3', 'shell', 'fourths'] as const) {
    bench(`shortest path, ${style}`, () => {
      leadVoicings(attacks, { style, loop: false, seed: 1, round: round++ });
    });
  }
  bench('shortest path round the loop, drop-2', () => {
    leadVoicings(attacks, { style: 'drop-2', loop: true, seed: 1, round: round++ });
  });
});
