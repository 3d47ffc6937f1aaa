import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { guideTones } from '../../../src/engine/harmony/index.ts';
import { fretPlace, STANDARD_TUNING } from '../../../src/engine/units/index.ts';
import {
  gripsFor,
  gripsOf,
  LAST_FRET,
  leadGrips,
  tonesToHear,
  type Grip,
} from '../../../src/engine/voicing/index.ts';
import { barreOf, fingering, stretchesTooFar, UNPLAYABLE } from '../../../src/engine/voicing/hand.ts';
import { handsOver, travel } from '../../../src/engine/voicing/neck-path.ts';
import { anyRoot, anySeventh, chord, ROOTS, SEVENTHS } from '../../helpers/voicing.ts';

// All grips of many chords: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

/** Six places from the lowest string to the highest: a fret, or x for a silent string. */
const stopsOf = (frets: string) =>
  frets.split(' ').flatMap((fret, i) => (fret === 'x' ? [] : [{ string: 6 - i, fret: Number(fret) }]));

const drawn = (grip: Grip, of: 'fret' | 'finger') =>
  STANDARD_TUNING.map((_, i) => grip.notes.find(({ string }) => string === 6 - i)?.[of] ?? 'x').join(' ');

describe('grips every jazz guitarist knows', () => {
  it.each([
    ['Cmaj7', 'x 3 5 4 5 x', 'x 1 3 2 4 x', '1 5 7 3'],
    ['Cmaj9', 'x 3 2 4 3 x', 'x 2 1 4 3 x', '1 3 7 9'],
    ['Dm7', 'x 5 7 5 6 x', 'x 1 3 1 2 x', '1 5 b7 b3'],
    ['Dm9', 'x 5 3 5 5 x', 'x 2 1 3 4 x', '1 b3 b7 9'],
    ['G7', '3 x 3 4 3 x', '1 x 1 2 1 x', '1 b7 3 5'],
    ['G13', '3 x 3 4 5 x', '1 x 1 2 3 x', '1 b7 3 13'],
    ['Gmaj7', '3 x 4 4 3 x', '1 x 2 3 1 x', '1 7 3 5'],
    ['Bm7b5', 'x 2 3 2 3 x', 'x 1 2 1 3 x', '1 b5 b7 b3'],
    ['C6', 'x 3 2 2 3 x', 'x 2 1 1 3 x', '1 3 6 9'],
    ['C7#9', 'x 3 2 3 4 x', 'x 2 1 3 4 x', '1 3 b7 #9'],
    ['Bdim7', 'x 2 3 1 3 x', 'x 2 3 1 4 x', '1 b5 bb7 b3'],
    ['Fmaj7', 'x x 3 5 5 5', 'x x 1 2 3 4', '1 5 7 3'],
  ])('%s as %s', (symbol, frets, fingers, degrees) => {
    const grip = gripsFor(chord(symbol)).find((found) => drawn(found, 'fret') === frets);
    expect(grip?.voicing.degrees.join(' ')).toBe(degrees);
    expect(drawn(grip!, 'finger')).toBe(fingers);
  });
});

describe('a hand', () => {
  it('covers four frets anywhere and five from the sixth up, never six', () => {
    expect(stretchesTooFar(stopsOf('x 1 2 3 4 x'))).toBe(false);
    expect(stretchesTooFar(stopsOf('x 1 2 3 5 x'))).toBe(true);
    expect(stretchesTooFar(stopsOf('x 5 6 7 9 x'))).toBe(true);
    expect(stretchesTooFar(stopsOf('x 6 7 8 10 x'))).toBe(false);
    expect(stretchesTooFar(stopsOf('x 10 11 12 15 x'))).toBe(true);
  });

  it('finds the twelfth fret in the middle of the string', () => {
    expect(fretPlace(12)).toBeCloseTo(0.5, 12);
  });

  it('lays the index finger over the lowest fret, but not over a string that rings open', () => {
    expect(barreOf(stopsOf('x 3 5 3 4 x'))).toEqual({ fret: 3, from: 5, to: 3 });
    expect(barreOf(stopsOf('x 2 0 2 3 x'))).toBeNull();
    expect(barreOf(stopsOf('x 3 2 4 5 x'))).toBeNull();
  });

  it('refuses three notes that only three fingers beside each other could hold far from the first', () => {
    expect(fingering(stopsOf('x 6 9 10 10 x'))).toBeNull();
    expect(fingering(stopsOf('x 6 8 9 10 x'))).toEqual([1, 2, 3, 4]);
  });

  it('gives no finger to an open string', () => {
    expect(fingering(stopsOf('x 3 2 0 1 x'))).toEqual([3, 2, 0, 1]);
  });

  it('can stop one note a string and leave one string silent inside', () => {
    const broken = (frets: string) =>
      UNPLAYABLE.filter((rule) => rule(stopsOf(frets))).map(({ name }) => name);
    expect(broken('3 x 4 4 3 x')).toEqual([]);
    expect(broken('3 x x 4 3 3')).toEqual(['skipsTooMany']);
    expect(UNPLAYABLE.some((rule) => rule([...stopsOf('x 3 x x x x'), ...stopsOf('x 5 x x x x')]))).toBe(
      true,
    );
  });
});

describe('every grip', () => {
  it('sounds its voicing, guide tones and all, with fingers in order and frets in reach', () => {
    fc.assert(
      fc.property(anySeventh, (symbol) => {
        const read = chord(symbol);
        const grips = gripsFor(read);
        expect(grips.length).toBeGreaterThan(0);
        for (const { voicing, notes, barre, position } of grips) {
          const sounding = notes.map(({ string, fret }) => STANDARD_TUNING[6 - string]! + fret);
          expect(sounding).toEqual([...voicing.pitches]);
          expect(guideTones(read).every((degree) => voicing.degrees.includes(degree))).toBe(true);
          const byFret = [...notes].sort((a, b) => a.fret - b.fret || a.finger - b.finger);
          const fingers = byFret.map(({ finger }) => finger);
          expect([...fingers].sort()).toEqual(fingers);
          const shared = notes.filter(({ finger }) => finger === 1);
          expect(shared.length > 1).toBe(barre !== null);
          expect(shared.every(({ fret }) => fret === position)).toBe(true);
          expect(Math.max(...notes.map(({ fret }) => fret))).toBeLessThanOrEqual(LAST_FRET);
          expect(UNPLAYABLE.some((rule) => rule(notes))).toBe(false);
        }
      }),
      { numRuns: 25 },
    );
  });

  it('moves up the neck a fret with its chord', () => {
    const kind = fc.constantFrom(...SEVENTHS);
    fc.assert(
      fc.property(anyRoot, kind, (root, suffix) => {
        const next = ROOTS[(ROOTS.indexOf(root) + 1) % 12]!;
        const above = new Set(gripsFor(chord(next + suffix)).map((grip) => drawn(grip, 'fret')));
        const moved = gripsFor(chord(root + suffix))
          .filter(({ notes }) => notes.every(({ fret }) => fret < LAST_FRET))
          .map((grip) => stringsMoved(drawn(grip, 'fret')));
        expect(moved.filter((grip) => !above.has(grip))).toEqual([]);
      }),
      { numRuns: 25 },
    );
  });

  it('is found for the four notes that sound, wherever they lie on the neck', () => {
    const [voicing] = gripsFor(chord('Cmaj7')).map((grip) => grip.voicing);
    const places = gripsOf(voicing!);
    expect(places.length).toBeGreaterThan(0);
    expect(places.every((grip) => grip.voicing === voicing)).toBe(true);
    expect(places.map(({ effort }) => effort)).toEqual(
      places.map(({ effort }) => effort).sort((a, b) => a - b),
    );
  });

  it('follows another tuning, and refuses three strings', () => {
    const inFourths = [40, 45, 50, 55, 60, 65];
    const frets = gripsFor(chord('Cmaj7'), { tuning: inFourths }).map((grip) => drawn(grip, 'fret'));
    expect(frets).toContain('x 3 5 4 4 x');
    expect(() => gripsFor(chord('Cmaj7'), { tuning: [40, 45, 50] })).toThrow(/not 3/);
  });
});

const stringsMoved = (frets: string) =>
  frets
    .split(' ')
    .map((fret) => (fret === 'x' ? fret : String(Number(fret) + 1)))
    .join(' ');

describe('grips over a chorus', () => {
  const line = 'Dm7 Dm7 G7alt G7alt Cmaj7 Em7 A7alt A7alt Dm7 G7 C6 C7alt C7alt C7alt C7alt'
    .split(' ')
    .map((symbol, i) => ({ chord: chord(symbol), bar: i >> 1 }));

  it('come one for each attack, each of its chord', () => {
    const led = leadGrips(line, { loop: false, seed: 5 });
    expect(led).toHaveLength(line.length);
    led.forEach((grip, i) => {
      expect(gripsFor(line[i]!.chord).map((found) => drawn(found, 'fret'))).toContain(drawn(grip, 'fret'));
    });
    expect(led.map((grip) => drawn(grip, 'fret'))).toEqual(
      leadGrips(line, { loop: false, seed: 5 }).map((grip) => drawn(grip, 'fret')),
    );
  });

  it('take the way over the neck that costs the hand least, of all there are', () => {
    const [from] = gripsFor(chord('Am7'));
    const cost = (path: readonly Grip[]) =>
      path.reduce((sum, grip, i) => sum + grip.effort + travel(path[i - 1] ?? from!, grip), 0);
    let tried = 0;
    for (let seed = 0; seed < 20; seed++) {
      const lists = leadGrips(line.slice(0, 7), { loop: false, seed }).map(({ voicing }) => gripsOf(voicing));
      const all = lists.reduce<readonly (readonly Grip[])[]>(
        (paths, list) => paths.flatMap((path) => list.map((grip) => [...path, grip])),
        [[]],
      );
      tried += all.length;
      expect(cost(handsOver(lists, from!))).toBeCloseTo(Math.min(...all.map(cost)), 9);
    }
    expect(tried).toBeGreaterThan(1000);
  });

  it('count each fret of travel and each string newly taken up', () => {
    const at = (frets: string) => {
      const grips = gripsFor(chord('Cmaj7')).concat(gripsFor(chord('Dmaj7')));
      return grips.find((grip) => drawn(grip, 'fret') === frets)!;
    };
    expect(travel(at('x 3 5 4 5 x'), at('x 3 5 4 5 x'))).toBe(0);
    const up = travel(at('x 3 5 4 5 x'), at('x 5 7 6 7 x'));
    const across = travel(at('x 3 5 4 5 x'), at('x x 5 5 5 7'));
    expect(up).toBeGreaterThan(0);
    expect(across).toBeGreaterThan(up);
  });

  it('go on from the grip that sounds', () => {
    const high = gripsFor(chord('Am7')).find(({ position }) => position === 12)!;
    const low = gripsFor(chord('Am7')).find(({ position }) => position <= 2)!;
    const after = (from: Grip) => leadGrips(line.slice(0, 1), { loop: false, from })[0]!.position;
    expect(after(high)).toBeGreaterThan(after(low));
  });

  it('sound every altered tone of a long chord', () => {
    const vamp = Array.from({ length: 12 }, (_, i) => ({ chord: chord('Ab7alt'), bar: i >> 1 }));
    const led = leadGrips(vamp, { loop: true, seed: 2 });
    for (let i = 0; i + 4 <= led.length; i += 2) {
      const heard = led.slice(i, i + 4).flatMap(({ voicing }) => voicing.degrees);
      expect(heard).toEqual(expect.arrayContaining([...tonesToHear(chord('Ab7alt'))]));
    }
  });
});
