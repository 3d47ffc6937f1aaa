import { Offline } from 'tone/build/esm/core/context/Offline.js';
import { Sampler } from 'tone/build/esm/instrument/Sampler.js';
import { bench, describe } from 'vitest';
import { FIRST_LINEUP, loadSounds, renderOffline } from '../../src/audio/index.ts';
import { beats, bpm, frequency, PPQ, startPerformance, ticks, type Part } from '../../src/engine/index.ts';
import { loopOf, TRIO } from '../helpers/music.ts';
import { planOf, SETTINGS } from '../helpers/plan.ts';

/** Length of the music, seconds. Tone slows down as the music grows: it makes every voice up front. */
const SECONDS = 32;
const TEMPO = bpm(150);
const TO = beats((SECONDS * 150) / 60);
const source = loopOf(TRIO, 8);
const list = source.notes(ticks(0), TO);

const bank = await loadSounds(48000, Object.values(FIRST_LINEUP));
const pick = {
  next: () => 0,
  below: () => 0,
  chance: () => false,
  pick: <T>(items: readonly T[]) => items[0]!,
};

/** The same recordings, as Tone's sampler wants them: by name of note. */
function recordings(part: Part): Record<number, AudioBuffer> {
  const keys = new Set(list.filter((note) => note.part === part).map((note) => note.pitch));
  return Object.fromEntries([...keys].map((key) => [key, bank.pick(FIRST_LINEUP[part]!, key, pick)!.buffer]));
}

describe(`${SECONDS} seconds of a trio, rendered`, () => {
  const options = { time: 0, iterations: 2, warmupIterations: 1, warmupTime: 0 };

  bench(
    'ours: just-in-time voices, room, limiter',
    async () => {
      await renderOffline(source, { from: ticks(0), to: TO, tempo: TEMPO, tail: 0 });
    },
    options,
  );

  bench(
    'Tone.Offline with samplers, without room or limiter',
    async () => {
      await Offline(
        () => {
          for (const part of ['comp', 'bass', 'drums'] as const) {
            const sampler = new Sampler({ urls: recordings(part) }).toDestination();
            for (const note of list) {
              if (note.part !== part) continue;
              const at = (note.at / PPQ) * (60 / TEMPO);
              const length = (note.length / PPQ) * (60 / TEMPO);
              sampler.triggerAttackRelease(frequency(note.pitch), length, at, note.velocity / 127);
            }
          }
        },
        SECONDS,
        2,
        48000,
      );
    },
    options,
  );
});

/** As the page saves it: a band that is arranged chorus by chorus. */
describe('five minutes of the band, rendered', () => {
  const BLUES = 'F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | Am7b5 D7alt | Gm7 | C7alt | F7 D7 | Gm7 C7';
  const plan = planOf(BLUES, { settings: { ...SETTINGS, tempo: TEMPO } });
  const to = beats((300 * TEMPO) / 60);

  bench(
    'arranged, with room and limiter: how often this goes into 300 seconds is how much faster it is than it sounds',
    async () => {
      const band = startPerformance(plan, { countIn: 0, from: ticks(0) });
      await renderOffline(band, { from: ticks(0), to, tempo: TEMPO, tail: 0 });
    },
    { time: 0, iterations: 3, warmupIterations: 1, warmupTime: 0 },
  );
});
