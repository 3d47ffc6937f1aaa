import { describe, expect, it } from 'vitest';
import {
  beats,
  CHORD_INSTRUMENTS,
  FEELS,
  lineupOf,
  startPerformance,
  ticks,
} from '../../../src/engine/index.ts';
import { planOf, SETTINGS } from '../../helpers/plan.ts';

describe('who plays', () => {
  it('is the kit that the feel asks for', () => {
    expect(lineupOf({ feel: 'ballad' }).drums).toBe('brushes');
    for (const [feel, { kit }] of FEELS) expect(lineupOf({ feel }).drums).toBe(kit);
  });

  it('is the chord instrument the player has chosen, else the electric piano', () => {
    expect(lineupOf({ feel: 'swing' }).comp).toBe('electric-piano');
    for (const chords of CHORD_INSTRUMENTS) expect(lineupOf({ feel: 'swing', chords }).comp).toBe(chords);
  });

  it('is said by the performance, and changes when the plan does', () => {
    const swing = startPerformance(planOf('C7alt'), { countIn: 0, from: ticks(0) });
    expect(swing.lineup).toEqual({
      comp: 'electric-piano',
      bass: 'bass',
      drums: 'sticks',
      click: 'click',
    });
    const settings = { ...SETTINGS, feel: 'ballad', chords: 'piano' } as const;
    const ballad = swing.revise(planOf('C7alt', { settings }), beats(4));
    expect(ballad.lineup).toMatchObject({ comp: 'piano', drums: 'brushes' });
  });
});
