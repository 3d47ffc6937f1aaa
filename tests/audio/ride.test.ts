import { describe, expect, it } from 'vitest';
import reference from '../../shared/reference/swing-ratio.json' with { type: 'json' };
import { renderOffline } from '../../src/audio/index.ts';
import {
  beats,
  bpm,
  startPerformance,
  ticks,
  velocity,
  type Mix,
  type NoteSource,
} from '../../src/engine/index.ts';
import { onsets } from '../helpers/listening.ts';
import { planOf, SETTINGS } from '../helpers/plan.ts';
import { impulses } from '../helpers/sounds.ts';

const RATE = 48000;
const BARS = 48;
const RIDES = [51, 53, 59];
const ALONE: Mix = {
  comp: { level: 0, mute: true },
  bass: { level: 0, mute: true },
  drums: { level: 0, mute: true },
  click: { level: 1, mute: false, pan: 0 },
};

/** The ride cymbal of a chorus at a tempo, each stroke as a full click past the room, so that its onset is one frame. */
function rideAt(tempo: number): NoteSource {
  const plan = planOf('| Dm7 | G7 | Cmaj7 | A7 |', { settings: { ...SETTINGS, tempo: bpm(tempo) } });
  const performance = startPerformance(plan, { countIn: 0, from: ticks(0) });
  return {
    notes: (from, to) =>
      performance
        .notes(from, to)
        .filter(({ part, pitch }) => part === 'drums' && RIDES.includes(pitch))
        .map((stroke) => ({ ...stroke, part: 'click', velocity: velocity(127) })),
  };
}

const middle = (values: readonly number[]) =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;

/** The long and the short part of the swung beat as they are heard, seconds: onsets of the rendered sound. */
async function heard(tempo: number) {
  const sound = await renderOffline(rideAt(tempo), {
    from: ticks(0),
    to: beats(4 * BARS),
    tempo: bpm(tempo),
    sampleRate: RATE,
    mix: ALONE,
    sounds: impulses(RATE),
  });
  const beat = 60 / tempo;
  const times = onsets(sound.getChannelData(0), 20, 1e-3).map((frame) => frame / RATE);
  // An off-beat stands alone between two beats that are struck.
  const pairs = times.flatMap((at, i) => {
    const [before, after] = [times[i - 1], times[i + 1]];
    if (before === undefined || after === undefined) return [];
    return Math.abs(after - before - beat) < 0.15 * beat ? [{ long: at - before, short: after - at }] : [];
  });
  return {
    pairs: pairs.length,
    long: middle(pairs.map((p) => p.long)),
    short: middle(pairs.map((p) => p.short)),
  };
}

describe('the ride cymbal as it sounds', () => {
  it('swings less the faster it goes, from 3.5 to even, its short note about 100 ms', async () => {
    const measured = [];
    for (const tempo of [80, 120, 160, 200, 240, 300]) measured.push({ tempo, ...(await heard(tempo)) });
    const ratios = measured.map(({ long, short }) => long / short);
    const said = measured.map(
      ({ tempo, short }, i) => `${tempo}: ${ratios[i]!.toFixed(2)}, ${short.toFixed(3)} s`,
    );
    for (const { pairs } of measured) expect(pairs, said.join('; ')).toBeGreaterThan(20);
    ratios.slice(1).forEach((ratio, i) => expect(ratio, said.join('; ')).toBeLessThan(ratios[i]! * 1.03));
    for (const [i, { tempo, short }] of measured.entries()) {
      const wanted = reference.ratios.find((row) => row.tempo === tempo)!.ratio;
      expect(Math.abs(ratios[i]! / wanted - 1), said.join('; ')).toBeLessThan(0.1);
      if (tempo >= 160 && tempo <= 240) {
        expect(Math.abs(short * 1000 - reference.shortNoteMs), said.join('; ')).toBeLessThan(10);
      }
    }
  });
});
