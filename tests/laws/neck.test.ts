import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { scaleForms, TUNINGS, type FormView, type NeckSetting } from '../../src/engine/neck/index.ts';
import { scaleList } from '../../src/engine/scales/index.ts';
import { everyPitch, everyPlace, placesOf, scale, width } from '../helpers/neck.ts';
import { anyRoot } from '../helpers/voicing.ts';

// Every scale, key and fret there is: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

const anyScale = fc
  .tuple(fc.constantFrom(...scaleList().map(({ id }) => id)), anyRoot)
  .map(([id, root]) => scale(id, root));

/** Any four to eight strings: each two to seven semitones above the one before. */
const anyStrings = fc
  .tuple(
    fc.integer({ min: 28, max: 40 }),
    fc.array(fc.integer({ min: 2, max: 7 }), { minLength: 3, maxLength: 7 }),
  )
  .map(([lowest, steps]) => steps.reduce((open, step) => [...open, open[open.length - 1]! + step], [lowest]));

const anyTuning = fc.oneof(fc.constantFrom(...TUNINGS.map(({ open }) => open)), anyStrings);
const anyNeck: fc.Arbitrary<NeckSetting> = fc
  .tuple(anyTuning, fc.integer({ min: 0, max: 7 }), fc.integer({ min: 12, max: 17 }))
  .map(([tuning, capo, over]) => ({ tuning, capo, lastFret: capo + over > 24 ? 24 : capo + over }));
const anyView = fc.constantFrom<FormView>('position', 'three-per-string', 'two-strings', 'one-string');

/** The steps between strings next to each other in pitch. */
const steps = (tuning: readonly number[]) => {
  const open = tuning.toSorted((a, b) => a - b);
  return open.slice(1).map((key, i) => key - open[i]!);
};

describe('on any neck, with any capo, in any view', () => {
  it('a form has each pitch of the scale between its ends just once, on strings and frets there are', () => {
    fc.assert(
      fc.property(anyScale, anyNeck, anyView, (choice, neck, view) => {
        for (const form of scaleForms(choice.notes, neck, { view })) {
          const pitches = form.notes.map(({ pitch }) => pitch);
          expect(pitches).toEqual(everyPitch(choice, pitches));
          for (const { string, fret, pitch, finger } of form.notes) {
            expect(neck.tuning[neck.tuning.length - string]! + fret).toBe(pitch);
            expect(fret).toBeGreaterThanOrEqual(neck.capo);
            expect(fret).toBeLessThanOrEqual(neck.lastFret);
            expect(finger === 0).toBe(fret === neck.capo);
          }
          expect(form.firstFret).toBe(Math.min(...form.notes.map(({ fret }) => fret)));
          expect(form.lastFret).toBe(Math.max(...form.notes.map(({ fret }) => fret)));
        }
      }),
      { numRuns: 150 },
    );
  });

  it('no form under one hand is wider than five frets and one, or than the strings are apart', () => {
    fc.assert(
      fc.property(anyScale, anyNeck, (choice, neck) => {
        const most = Math.max(6, ...steps(neck.tuning));
        for (const form of scaleForms(choice.notes, neck)) expect(width(form)).toBeLessThanOrEqual(most);
      }),
      { numRuns: 100 },
    );
  });

  it('the forms have every pitch of the scale between them, and every place on strings that are not close', () => {
    fc.assert(
      fc.property(anyScale, anyNeck, (choice, neck) => {
        const forms = scaleForms(choice.notes, neck);
        const { tuning, capo, lastFret } = neck;
        const reached = everyPitch(choice, [Math.min(...tuning) + capo, Math.max(...tuning) + lastFret]);
        const pitches = new Set<number>(forms.flatMap(({ notes }) => notes.map(({ pitch }) => pitch)));
        expect(reached.filter((pitch) => !pitches.has(pitch))).toEqual([]);
        if (steps(tuning).some((step) => step < 3)) return;
        expect(new Set(forms.flatMap(placesOf))).toEqual(everyPlace(choice, neck));
      }),
      { numRuns: 150 },
    );
  });
});
