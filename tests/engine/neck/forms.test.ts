import { Note } from 'tonal';
import { describe, expect, it, vi } from 'vitest';
import { GUITAR, nearestForm, scaleForms, TUNINGS, type ScaleForm } from '../../../src/engine/neck/index.ts';
import { scaleById, scaleList } from '../../../src/engine/scales/index.ts';
import { everyPitch, everyPlace, GUITAR_STRINGS, placesOf, scale, width } from '../../helpers/neck.ts';
import { ROOTS } from '../../helpers/voicing.ts';

// Every scale, key and fret there is: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

const SEVEN = scaleList().filter(({ degrees }) => degrees.length === 7);
const NECK = { ...GUITAR, lastFret: 15 };

/** The whole form and not what an end of the neck leaves of it. */
const isWhole = ({ label }: ScaleForm) => !label.includes(',');

describe('the forms of every seven-note scale in every key on a guitar in standard tuning', () => {
  it('are of many scales', () => {
    expect(SEVEN.length).toBe(28);
  });

  it('are five, each pitch once, together every note to fret 15, none wider than five frets and one', () => {
    for (const { id } of SEVEN) {
      for (const root of ROOTS) {
        const choice = scale(id, root);
        const forms = scaleForms(choice.notes, NECK);
        const named = `${root} ${id}`;
        expect([...new Set(forms.map(({ number }) => number))].sort(), named).toEqual([1, 2, 3, 4, 5]);
        for (const form of forms) {
          const where = `${named}, ${form.label}, position ${form.position}`;
          const pitches = form.notes.map(({ pitch }) => pitch);
          expect(pitches, where).toEqual(everyPitch(choice, pitches));
          expect(width(form), where).toBeLessThanOrEqual(5 + 1);
          expect(new Set(form.notes.map(({ string }) => string)).size, where).toBe(6);
          for (const { string, fret, pitch, name } of form.notes) {
            expect(GUITAR_STRINGS[6 - string]! + fret, where).toBe(pitch);
            expect(Note.chroma(name), where).toBe(pitch % 12);
          }
        }
        expect(new Set(forms.flatMap(placesOf)), named).toEqual(everyPlace(choice, NECK));
      }
    }
  });

  it('give every note a finger the hand has there', () => {
    for (const { id } of SEVEN) {
      for (const root of ROOTS) {
        for (const form of scaleForms(scale(id, root).notes, NECK)) {
          const where = `${root} ${id}, ${form.label}`;
          for (const [i, { string, fret, finger }] of form.notes.entries()) {
            expect(finger === 0, where).toBe(fret === 0);
            const before = form.notes[i - 1];
            if (finger > 0 && before?.string === string && before.fret > 0) {
              expect(finger, where).toBeGreaterThan(before.finger);
            }
            // A finger to a fret from the index finger's on, and one fret to either side.
            if (finger > 0)
              expect(Math.abs(fret - form.position - (finger - 1)), where).toBeLessThanOrEqual(1);
          }
        }
      }
    }
  });

  it('keep their shape when the key moves up a fret, and repeat at the twelfth', () => {
    const neck = { ...GUITAR, lastFret: 24 };
    for (const { id } of SEVEN) {
      const [low, high] = ['F', 'F#'].map((root) =>
        scaleForms(scale(id, root).notes, neck)
          .filter(isWhole)
          .filter(({ lastFret }) => lastFret < 24),
      );
      const shape = (form: ScaleForm, by: number) =>
        `${form.number} ${form.notes.map(({ string, fret }) => `${string}:${fret + by}`).join(' ')}`;
      const moved = new Set(low!.map((form) => shape(form, 1)));
      const kept = high!.filter(({ firstFret }) => firstFret > 0);
      expect(kept.filter((form) => !moved.has(shape(form, 0)))).toEqual([]);
      const octave = new Set(low!.filter(({ lastFret }) => lastFret < 12).map((form) => shape(form, 12)));
      expect(low!.filter((form) => octave.has(shape(form, 0)))).toHaveLength(octave.size);
    }
  });
});

describe('scales of other sizes', () => {
  it('are covered too, and a symmetrical scale has one form that repeats', () => {
    for (const { id } of scaleList()) {
      for (const root of ROOTS) {
        const choice = scale(id, root);
        const forms = scaleForms(choice.notes, NECK);
        expect(new Set(forms.flatMap(placesOf)), `${root} ${id}`).toEqual(everyPlace(choice, NECK));
        const symmetrical =
          id === 'whole-tone' || id.includes('whole-diminished') || id.includes('half-diminished');
        expect(new Set(forms.map(({ number }) => number)).size, id).toBe(symmetrical ? 1 : 5);
      }
    }
  });
});

describe('away from the ends of the neck', () => {
  it('the forms themselves have every note, in every tuning', () => {
    for (const { id: tuning, open } of TUNINGS) {
      const neck = { tuning: open, capo: 0, lastFret: 24 };
      for (const { id } of scaleList()) {
        const choice = scale(id, 'G');
        const had = new Set(scaleForms(choice.notes, neck).filter(isWhole).flatMap(placesOf));
        const middle = [...everyPlace(choice, neck)].filter((place) => {
          const fret = Number(place.split(':')[1]);
          return fret >= 6 && fret < 18;
        });
        expect(
          middle.filter((place) => !had.has(place)),
          `${tuning}, ${id}`,
        ).toEqual([]);
      }
    }
  });
});

describe('other views', () => {
  it('lay three notes on each string, from every note of the scale', () => {
    for (const { id } of SEVEN) {
      const choice = scale(id, 'C');
      const forms = scaleForms(choice.notes, { ...GUITAR, lastFret: 19 }, { view: 'three-per-string' });
      expect(new Set(forms.map(({ number }) => number)), id).toEqual(new Set([1, 2, 3, 4, 5, 6, 7]));
      for (const { notes, number } of forms) {
        const pitches = notes.map(({ pitch }) => pitch);
        expect(pitches, id).toEqual(everyPitch(choice, pitches));
        expect(notes[0]!.pc).toBe(choice.notes[number - 1]!.pc);
        for (let string = 1; string <= 6; string++)
          expect(notes.filter((note) => note.string === string)).toHaveLength(3);
      }
    }
  });

  it('go along one string, or over two', () => {
    const choice = scale('altered', 'G');
    const [along] = scaleForms(choice.notes, NECK, { view: 'one-string', string: 3 });
    expect(placesOf(along!)).toEqual([...everyPlace(choice, NECK)].filter((place) => place.startsWith('3:')));
    for (const string of [2, 6]) {
      const pair = string === 6 ? ['6', '5'] : ['2', '3'];
      const forms = scaleForms(choice.notes, NECK, { view: 'two-strings', string });
      const wanted = [...everyPlace(choice, NECK)].filter((place) => pair.includes(place[0]!));
      expect(new Set(forms.flatMap(placesOf))).toEqual(new Set(wanted));
    }
  });
});

describe('a form that is kept', () => {
  it('is followed by the one nearest to it, the lower of two', () => {
    const forms = scaleForms(scale('major', 'C').notes, NECK);
    const [first, second] = forms as [ScaleForm, ScaleForm];
    expect(nearestForm(forms, first)).toBe(first);
    const between = {
      firstFret: first.firstFret + second.firstFret,
      lastFret: first.lastFret + second.lastFret,
    };
    expect(nearestForm(forms, { firstFret: between.firstFret / 2, lastFret: between.lastFret / 2 })).toBe(
      first,
    );
    expect(nearestForm([], first)).toBeNull();
  });
});

describe('what a neck cannot be', () => {
  it.each([
    ['a neck has strings', { tuning: [], capo: 0, lastFret: 12 }],
    ['not 13', { tuning: [40], capo: 13, lastFret: 12 }],
    ['not 2.5', { tuning: [40], capo: 2.5, lastFret: 12 }],
    ['not 130', { tuning: [118], capo: 0, lastFret: 12 }],
  ])('is said: %s', (message, neck) => {
    expect(() => scaleForms(scaleById('major', 'C')!.notes, neck)).toThrow(message);
  });

  it('and a scale has notes, a string a number', () => {
    expect(() => scaleForms([], NECK)).toThrow('a scale has notes');
    expect(() => scaleForms(scale('major', 'C').notes, NECK, { view: 'one-string', string: 7 })).toThrow(
      'not 7',
    );
  });
});
