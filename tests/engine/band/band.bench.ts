import { bench, describe } from 'vitest';
import { comp, drum, readChord, walk } from '../../../src/engine/index.ts';
import { leadVoicings } from '../../../src/engine/voicing/index.ts';
import { changesOf, FORMS, planOf } from './plans.ts';

/** Each round is another: nothing is answered from the last one. */
let round = 0;

describe('a round of 64 bars', () => {
  const form = FORMS['thirty-two bars']!;
  const changes = changesOf(`${form} | ${form}`);
  const plan = () => planOf(changes, {}, { round: round++ });

  bench('all parts', () => {
    for (const player of [comp, walk, drum]) player(plan());
  });
  bench('comping', () => {
    comp(plan());
  });
  bench('walking bass', () => {
    walk(plan());
  });
  bench('drums', () => {
    drum(plan());
  });
  bench('beside it: two voicings a bar, led by themselves', () => {
    const attacks = changes.spans.map((span) => ({ chord: span.chord! }));
    leadVoicings(attacks, { style: 'rootless', from: null, loop: false, seed: 1, round: round++ });
  });
  bench('beside it: 10,000 chord symbols read', () => {
    for (let i = 0; i < 10_000; i++) readChord('C7(#9,b13)');
  });
});
