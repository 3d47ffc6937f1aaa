import { describe, expect, it } from 'vitest';
import { renderOffline } from '../../../src/audio/index.ts';
import { beats, bpm, randomFor, ticks, type HeardNote } from '../../../src/engine/index.ts';
import { Follower } from '../../../src/audio/take/follower.ts';
import { note, sourceOf } from '../../helpers/music.ts';
import { phrase, pluck } from '../../helpers/plucks.ts';

/** What is heard in a sound that comes in blocks of a recorder's size. */
function hear(sound: Float32Array, rate: number): HeardNote[] {
  const follower = new Follower(rate);
  const found: HeardNote[] = [];
  for (let i = 0; i < sound.length; i += 2048) found.push(...follower.push(sound.subarray(i, i + 2048)));
  return [...found, ...follower.end()];
}

const [E2, E6] = [40, 88];

/** How many of the notes that were played stand in what was heard, and what became of the others. */
function score(
  played: readonly { readonly at: number; readonly key: number }[],
  heard: readonly HeardNote[],
  within = 0.02,
) {
  const wrong: string[] = [];
  let octaves = 0;
  for (const { at, key } of played) {
    const note = heard.find((one) => Math.abs(one.at - at) < within);
    if (note?.pitch === key) continue;
    wrong.push(`${key} at ${at} heard as ${note === undefined ? 'nothing' : note.pitch}`);
    if (note?.pitch != null && Math.abs(note.pitch - key) % 12 === 0) octaves++;
  }
  return { right: played.length - wrong.length, octaves, wrong };
}

const RATE = 48000;
const chordOf = (keys: readonly number[]) => {
  const strings = keys.map((key, i) => pluck(key, 1.2, RATE, { seed: i + 1, level: 0.25 }));
  return strings[0]!.map((_, i) => strings.reduce((sum, string) => sum + string[i]!, 0));
};

describe('notes are followed', () => {
  it.each([44100, 48000])('on plucked strings from E2 to E6 at %i Hz, at least 99 in 100', (rate) => {
    let [right, all, octaves] = [0, 0, 0];
    const wrong: string[] = [];
    for (const bright of [0.15, 0.5, 1]) {
      for (const seed of [1, 2, 3]) {
        const played = Array.from({ length: E6 - E2 + 1 }, (_, i) => ({
          at: 0.2 + i * 0.25,
          key: E2 + ((i * 17 + seed * 5) % (E6 - E2 + 1)),
        }));
        const sounds = played.map(({ at, key }, i) => ({
          at,
          sound: pluck(key, 0.4, rate, { bright, seed, level: 0.1 + 0.1 * (i % 5) }),
        }));
        const heard = hear(phrase(sounds, 0.5 + played.length * 0.25, rate), rate);
        expect(heard.length, 'no note too many').toBeLessThanOrEqual(played.length + 1);
        const scored = score(played, heard);
        right += scored.right;
        octaves += scored.octaves;
        all += played.length;
        wrong.push(...scored.wrong.map((one) => `${one} (brightness ${bright}, seed ${seed})`));
      }
    }
    console.log(`plucked strings, ${rate} Hz: ${right} of ${all}, ${octaves} octave errors`, wrong);
    expect(right / all).toBeGreaterThanOrEqual(0.99);
  });

  it('on the jazz guitar of the band, loud and soft', async () => {
    const played = Array.from({ length: 37 }, (_, i) => ({ at: 0.5 + i * 0.5, key: 40 + ((i * 11) % 37) }));
    const rendered = await renderOffline(
      sourceOf(played.map(({ at, key }, i) => note('comp', key, i % 2 ? 110 : 60, at * 2, 0.9))),
      {
        from: ticks(0),
        to: beats(2 * 19.5),
        tempo: bpm(120),
        lineup: { comp: 'guitar', bass: 'bass', drums: 'sticks', click: 'click' },
      },
    );
    const heard = hear(rendered.getChannelData(0), rendered.sampleRate);
    // A soft note struck while a loud one still rings is placed where it comes through.
    const { right, octaves, wrong } = score(played, heard, 0.03);
    console.log(`the band's guitar: ${right} of ${played.length}, ${octaves} octave errors`, wrong);
    expect(right / played.length).toBeGreaterThanOrEqual(0.97);
    expect(heard.length).toBeLessThanOrEqual(played.length + 1);
  });

  it('over noise 30 dB below, and there are none in the noise alone', () => {
    const random = randomFor(1, 'noise');
    const noisy = (sound: Float32Array, level: number) =>
      sound.map((x) => x + level * (2 * random.next() - 1));
    const played = Array.from({ length: 12 }, (_, i) => ({ at: 0.5 + i * 0.2, key: 50 + i * 2 }));
    const sounds = played.map(({ at, key }, i) => ({
      at,
      sound: pluck(key, 0.5, RATE, { seed: i, level: 0.1 }),
    }));
    expect(score(played, hear(noisy(phrase(sounds, 3.2, RATE), 0.003), RATE)).wrong).toEqual([]);
    expect(hear(noisy(new Float32Array(3 * RATE), 0.01), RATE)).toEqual([]);
  });

  it('struck again and again on one string', () => {
    const played = Array.from({ length: 12 }, (_, i) => ({ at: 0.2 + i * 0.11, key: 57 }));
    const sounds = played.map(({ at, key }, i) => ({ at, sound: pluck(key, 0.5, RATE, { seed: i }) }));
    const heard = hear(phrase(sounds, 2, RATE), RATE);
    expect(heard).toHaveLength(12);
    expect(score(played, heard).wrong).toEqual([]);
  });

  it('in tune to a few cents, and so is a string that is not', () => {
    for (const off of [0, 0.2, -0.3]) {
      const [note] = hear(phrase([{ at: 0.2, sound: pluck(64 + off, 0.6, RATE) }], 1, RATE), RATE);
      expect(note!.pitch).toBe(64);
      expect(Math.abs(note!.cents - 100 * off)).toBeLessThan(4);
    }
  });

  it('as one that dies away, however long it rings', () => {
    for (const key of [40, 52, 64, 76]) {
      const heard = hear(phrase([{ at: 0.2, sound: pluck(key, 4, RATE) }], 4.5, RATE), RATE);
      expect(heard.map(({ pitch }) => pitch)).toEqual([key]);
    }
  });

  it('as two where a string is bent from one to the other', () => {
    const bent = new Float32Array(2 * RATE);
    let turns = 0;
    bent.forEach((_, i) => {
      const t = i / RATE - 0.2;
      turns += (440 * 2 ** ((57 + 2 * Math.min(1, Math.max(0, (t - 0.4) / 0.3)) - 69) / 12)) / RATE;
      bent[i] = t < 0 ? 0 : 0.3 * Math.exp(-t) * (2 * (turns % 1) - 1) * Math.min(1, t * 400);
    });
    expect(hear(bent, RATE).map(({ pitch }) => pitch)).toEqual([57, 59]);
  });
});

describe('chords', () => {
  it.each([
    [[52, 58, 62, 65]],
    [[48, 52, 55]],
    [[57, 60, 64, 67]],
    [[40, 47]],
    [[55, 62]],
    [[45, 50]],
    [[60, 64]],
    [[64, 68]],
    [[60, 63]],
  ])('such as %j are said not to be followed', (keys) => {
    const heard = hear(phrase([{ at: 0.2, sound: chordOf(keys) }], 1.6, RATE), RATE);
    expect(heard.length).toBeGreaterThan(0);
    expect(heard.map(({ pitch }) => pitch)).toEqual(heard.map(() => null));
  });
});
