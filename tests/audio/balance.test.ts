import { describe, expect, it } from 'vitest';
import { FIRST_LINEUP, renderOffline, type Instrument } from '../../src/audio/index.ts';
import {
  beats,
  bpm,
  FEELS,
  FIRST_MIX,
  levelOf,
  lineupOf,
  type Mix,
  type NoteEvent,
  type Part,
  startPerformance,
  ticks,
} from '../../src/engine/index.ts';
import { decibels, loudness, throughSmallSpeaker, truePeak } from '../helpers/listening.ts';
import { loopOf, note, TRIO } from '../helpers/music.ts';
import { planOf, SETTINGS } from '../helpers/plan.ts';

const OPTIONS = { from: ticks(0), to: beats(32), tempo: bpm(140), tail: 0 };

/** Two bars of brushes: a swirl on every beat, taps and pedal on two and four, a light bass drum. */
const BRUSHES = [0, 4].flatMap((bar) =>
  [0, 1, 2, 3].flatMap((beat) => [
    note('drums', 40, 58, bar + beat, 1),
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

/** Eight bars of a feel in its first mix, one part of it alone. */
async function heard(feel: string, part: 'comp' | 'bass' | 'drums') {
  const settings = { ...SETTINGS, feel, tempo: bpm(feel === 'ballad' ? 66 : 130) };
  const metre = { 'jazz-waltz': '3/4 ', 'five-four': '5/4 ' }[feel] ?? '';
  const text = `| ${metre}Dm7 | G7alt | Cmaj7 | A7alt | Dm7 | G7 | Cmaj7 | C6 |`;
  const plan = planOf(text, { settings });
  const source = startPerformance(plan, { countIn: 0, from: ticks(0) });
  const level = (which: Part) => ({ ...levelOf(FIRST_MIX, which), mute: which !== part });
  return renderOffline(source, {
    from: ticks(0),
    to: plan.written.length,
    tempo: settings.tempo,
    tail: 0,
    lineup: lineupOf(settings),
    mix: { comp: level('comp'), bass: level('bass'), drums: level('drums'), click: level('click') },
  });
}

describe('the first mix', () => {
  it('lets the bass be followed on the speakers of a laptop, and both ears hear everybody on headphones', async () => {
    for (const feel of ['swing', 'ballad', 'bossa']) {
      const [comp, bass, drums] = [
        await heard(feel, 'comp'),
        await heard(feel, 'bass'),
        await heard(feel, 'drums'),
      ];
      const below = loudness(comp) - loudness(bass);
      const belowOnLaptop = loudness(throughSmallSpeaker(comp)) - loudness(throughSmallSpeaker(bass));
      expect(Math.abs(below), feel).toBeLessThan(4);
      expect(belowOnLaptop, feel).toBeLessThan(11);
      for (const part of [comp, bass, drums]) {
        const power = (c: number) => part.getChannelData(c).reduce((sum, x) => sum + x * x, 0);
        expect(Math.abs(10 * Math.log10(power(0) / power(1))), feel).toBeLessThan(4);
      }
    }
  }, 60_000);

  it('has the kit behind the chords in every feel, and heard', async () => {
    const said: string[] = [];
    for (const feel of FEELS.keys()) {
      const behind = loudness(await heard(feel, 'comp')) - loudness(await heard(feel, 'drums'));
      if (!(behind > 2 && behind < 11)) said.push(`${feel} ${behind.toFixed(1)}`);
    }
    expect(said).toEqual([]);
  }, 60_000);
});
