import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beats, startPerformance, ticks, type NoteEvent } from '../../src/engine/index.ts';
import { planOf } from '../helpers/plan.ts';
import { plainText, RUNS } from './typed.ts';

/** Something that happens to the band while it plays. */
const anyEvent = fc.record({
  /** Felt beats after the last event. */
  wait: fc.integer({ min: 0, max: 24 }),
  what: fc.oneof(
    fc.record({ touch: fc.constantFrom(1, 2, 4) }),
    fc.record({ touch: fc.constant(null) }),
    fc.constant('release' as const),
    fc.record({ text: plainText }),
  ),
});

/** Rounds are long; a set of these takes as long as many of the others. */
const SETS = Math.ceil(RUNS / 100);

describe('a set played with touches and edits at any moment', () => {
  it('has no note doubled, stuck or out of order, and is the same when played again', () => {
    fc.assert(
      fc.property(plainText, fc.array(anyEvent, { maxLength: 8 }), fc.integer(), (text, events, seed) => {
        const play = () => {
          const plan = planOf(text);
          const settings = { ...plan.settings, seed };
          let now = 0;
          let band = startPerformance({ ...plan, settings }, { countIn: 1, from: ticks(0) });
          for (const { wait, what } of events) {
            now += beats(wait);
            if (what === 'release') band = band.release(band.nextBeat(now));
            else if ('touch' in what) {
              const length = what.touch === null ? null : beats(what.touch);
              band = band.touch(band.nextBeat(now), length, 'altered');
            } else band = band.revise({ ...planOf(what.text), settings }, band.nextBar(now));
          }
          return band.notes(band.begin, ticks(now + beats(64)));
        };
        const notes = play();
        expect(play()).toEqual(notes);
        expectPlayable(notes);
      }),
      { numRuns: SETS },
    );
  });
});

function expectPlayable(notes: readonly NoteEvent[]) {
  const until = new Map<string, number>();
  let last = -Infinity;
  for (const note of notes) {
    expect(note.at).toBeGreaterThanOrEqual(last);
    last = note.at;
    expect(note.length).toBeGreaterThan(0);
    expect(note.length).toBeLessThanOrEqual(beats(64));
    expect(note.why).not.toBe('');
    if (note.part === 'drums' || note.part === 'click') continue;
    const key = `${note.part} ${note.pitch}`;
    expect(until.get(key) ?? -Infinity, `${key} at ${note.at} while it still sounds`).toBeLessThanOrEqual(
      note.at,
    );
    until.set(key, note.at + note.length);
  }
}
