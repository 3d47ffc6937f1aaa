import { describe, expect, it } from 'vitest';
import { FIRST_LINEUP, renderOffline, type Instrument } from '../../src/audio/index.ts';
import { beats, bpm, FIRST_MIX, ticks, type Mix, type NoteEvent, type Part } from '../../src/engine/index.ts';
import { decibels, loudness, truePeak } from '../helpers/listening.ts';
import { loopOf, note, TRIO } from '../helpers/music.ts';

const OPTIONS = { from: ticks(0), to: beats(32), tempo: bpm(140), tail: 0 };

/** Two bars of brushes: a swirl on every beat, taps and pedal on two and four, a light bass drum. */
const BRUSHES = [0, 4].flatMap((bar) =>
  [0, 1, 2, 3].flatMap((beat) => [
    note('drums', 40, 70, bar + beat, 1),
    note('drums', 36, 34, bar + beat, 0.3),
    ...(beat % 2 === 1
      ? [note('drums', 38, 80, bar + beat, 0.3), note('drums', 44, 70, bar + beat, 0.3)]
      : []),
  ]),
);
const CLICKS = [0, 1, 2, 3, 4, 5, 6, 7].map((at) => note('click', at % 4 === 0 ? 34 : 33, 90, at, 0.2));

function alone(part: Part): Mix {
  const level = (which: Part) => ({ level: 1, mute: which !== part, pan: 0 });
  return {
    comp: level('comp'),
    bass: level('bass'),
    drums: level('drums'),
    click: level('click'),
    lead: level('lead'),
  };
}

describe('the balance of the band', () => {
  it.each<[Instrument, Part, readonly NoteEvent[], number]>([
    ['bass', 'bass', TRIO, -17],
    ['electric-piano', 'comp', TRIO, -17],
    ['piano', 'comp', TRIO, -17],
    ['guitar', 'comp', TRIO, -17],
    ['sticks', 'drums', TRIO, -23],
    ['brushes', 'drums', BRUSHES, -23],
    ['click', 'click', CLICKS, -20],
  ])('has the %s as loud as its kind is meant to be', async (instrument, part, list, wanted) => {
    const lineup = { ...FIRST_LINEUP, [part]: instrument };
    const sound = await renderOffline(loopOf(list, 8), { ...OPTIONS, lineup, mix: alone(part) });
    expect(Math.abs(loudness(sound) - wanted)).toBeLessThan(1);
  });

  it('is about -18 LUFS at first, with a few decibels to go before the limiter', async () => {
    const sound = await renderOffline(loopOf(TRIO, 8), { ...OPTIONS, mix: FIRST_MIX });
    expect(Math.abs(loudness(sound) + 18)).toBeLessThan(1.5);
    expect(decibels(truePeak(sound))).toBeLessThan(-3);
  });
});
