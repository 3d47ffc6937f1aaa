import { Offline } from 'tone/build/esm/core/context/Offline.js';
import { Sampler } from 'tone/build/esm/instrument/Sampler.js';
import { bench, describe } from 'vitest';
import { FIRST_LINEUP, loadSounds, renderOffline } from '../../src/audio/index.ts';
import { beats, bpm, frequency, PPQ, ticks, type Part } from '../../src/engine/index.ts';
import { loopOf, TRIO } from '../helpers/music.ts';

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
