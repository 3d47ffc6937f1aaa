import { Scale } from 'tonal';
import { describe, expect, it } from 'vitest';
import spelled from '../../../shared/reference/altered-spelling.json' with { type: 'json' };
import sets from '../../../shared/reference/pitch-class-sets.json' with { type: 'json' };
import { pitchClass, type Degree } from '../../../src/engine/harmony/index.ts';
import { scaleById, scaleList, type ScaleChoice } from '../../../src/engine/scales/index.ts';
import { read } from '../../helpers/symbols.ts';

const ROOTS = [...'CDEFGAB'].flatMap((letter) => ['', 'b', '#'].map((sign) => letter + sign));
const ids = scaleList().map(({ id }) => id);

/** A scale that must be in the table. */
function scale(id: string, root: string): ScaleChoice {
  const found = scaleById(id, root);
  if (!found) throw new RangeError(`no scale ${id}`);
  return found;
}

const pcs = (choice: ScaleChoice): readonly number[] =>
  choice.notes.map(({ pc }) => pc).sort((a, b) => a - b);
const above = (choice: ScaleChoice): readonly number[] =>
  choice.notes.map(({ pc }) => (pc - pitchClass(choice.root) + 12) % 12).sort((a, b) => a - b);

/** Ours and the name tonal's dictionary has for the same notes. */
const TONAL: Readonly<Record<string, string>> = {
  major: 'major',
  dorian: 'dorian',
  phrygian: 'phrygian',
  lydian: 'lydian',
  mixolydian: 'mixolydian',
  aeolian: 'aeolian',
  locrian: 'locrian',
  'melodic-minor': 'melodic minor',
  'dorian-flat-two': 'dorian b2',
  'lydian-augmented': 'lydian augmented',
  'lydian-dominant': 'lydian dominant',
  'mixolydian-flat-six': 'mixolydian b6',
  'locrian-natural-two': 'locrian #2',
  altered: 'altered',
  'harmonic-minor': 'harmonic minor',
  'locrian-natural-six': 'locrian 6',
  'major-sharp-five': 'major augmented',
  'dorian-sharp-four': 'dorian #4',
  'phrygian-dominant': 'phrygian dominant',
  'lydian-sharp-two': 'lydian #9',
  ultralocrian: 'ultralocrian',
  'harmonic-major': 'harmonic major',
  'melodic-minor-sharp-four': 'lydian diminished',
  'whole-tone': 'whole tone',
  'half-whole-diminished': 'half-whole diminished',
  'whole-half-diminished': 'diminished',
  'bebop-dominant': 'bebop',
  'bebop-major': 'bebop major',
  'bebop-minor': 'bebop minor',
  blues: 'minor blues',
  'major-blues': 'major blues',
  'major-pentatonic': 'major pentatonic',
  'minor-pentatonic': 'minor pentatonic',
};

describe('a scale of the table', () => {
  it.each(Object.entries(TONAL))('%s has the notes of tonal’s %s, on every root', (id, name) => {
    for (const root of ROOTS) {
      const theirs = Scale.get(`${root} ${name}`)
        .notes.map(pitchClass)
        .sort((a, b) => a - b);
      expect(theirs.length).toBeGreaterThan(4);
      expect(pcs(scale(id, root)), root).toEqual(theirs);
    }
  });

  it('has the letter of each degree, and a plain name without double accidentals beside it', () => {
    for (const id of ids) {
      for (const root of ROOTS) {
        for (const { degree, name, plain, pc } of scale(id, root).notes) {
          const steps = Number(degree.replace(/[b#]/g, '')) - 1;
          expect(name[0], `${degree} of ${root} ${id}`).toBe(
            'CDEFGAB'[('CDEFGAB'.indexOf(root[0]!) + steps) % 7],
          );
          expect(plain).toMatch(/^[A-G][b#]?$/);
          expect([pitchClass(name), pitchClass(plain)]).toEqual([pc, pc]);
        }
      }
    }
  });

  it('goes up from its root without a note twice', () => {
    for (const { id } of scaleList().filter(({ id }) => !id.includes('-on-'))) {
      const steps = scale(id, 'C').notes.map(({ pc }) => pc);
      expect(steps[0]).toBe(0);
      expect(steps, id).toEqual([...new Set(steps)].sort((a, b) => a - b));
    }
  });

  it('is the mode of its parent that it says', () => {
    const modes = ids.map((id) => scale(id, 'C')).filter(({ parent }) => parent !== null);
    expect(modes).toHaveLength(24);
    const byName = new Map(scaleList().map(({ id, name }) => [name, id]));
    for (const mode of modes) {
      const [tonic, ...name] = mode.parent!.name.split(' ');
      const parent = scale(byName.get(name.join(' '))!, tonic!);
      expect(pcs(parent), mode.name).toEqual(pcs(mode));
      expect(parent.notes[mode.parent!.degree - 1]!.pc, mode.name).toBe(0);
    }
  });
});

describe('the altered scale', () => {
  it.each(spelled.rows)('on $root is spelled by its degrees', ({ root, functional }) => {
    const altered = scale('altered', root);
    expect(altered.notes.map(({ name }) => name)).toEqual(functional);
    expect(altered.notes.map(({ degree }) => degree)).toEqual(spelled.formulas.functional.split(' '));
    expect(altered.name).toBe(`${root} altered`);
  });

  it.each(spelled.rows)(
    'on $root is the seventh mode of $parentMelodicMinor melodic minor',
    ({ root, parentMelodicMinor }) => {
      const { parent } = scale('altered', root);
      expect(parent?.degree).toBe(7);
      const tonic = parent!.name.replace(' melodic minor', '');
      expect(pitchClass(tonic)).toBe(pitchClass(parentMelodicMinor));
      expect(tonic).toMatch(/^[A-G][b#]?$/);
    },
  );

  it('has every tone and tension of the altered chord and nothing else', () => {
    const altered = scaleById('altered', 'G', read('G7alt'))!;
    expect(altered.notes.map(({ degree, role }) => `${degree} ${role}`).join(', ')).toBe(
      '1 root, b9 tension, #9 tension, 3 guide, b5 fifth, #5 fifth, b7 guide',
    );
  });
});

/** Interval vector: how often each interval from 1 to 6 semitones lies between two notes. */
function intervalVector(set: readonly number[]): string {
  const counts = [0, 0, 0, 0, 0, 0];
  for (const [index, one] of set.entries()) {
    for (const other of set.slice(index + 1)) {
      const distance = Math.abs(one - other);
      counts[Math.min(distance, 12 - distance) - 1]!++;
    }
  }
  return counts.join('');
}

/** The set of the table of set classes each scale is. */
const CLASS_OF: Readonly<Record<string, string>> = {
  major: 'major/diatonic',
  'melodic-minor': 'melodic minor asc',
  altered: 'altered (7th mode mel. min.)',
  'lydian-dominant': 'lydian dominant (4th mode)',
  'harmonic-minor': 'harmonic minor',
  'harmonic-major': 'harmonic major',
  'whole-tone': 'whole tone',
  'half-whole-diminished': 'octatonic HW',
  'whole-half-diminished': 'octatonic WH',
  'phrygian-dominant': 'phrygian dominant',
  'bebop-dominant': 'bebop dominant',
  'minor-pentatonic': 'minor pentatonic',
  blues: 'blues hexatonic',
};

/** The chord of each set that is one. */
const CHORD_OF: Readonly<Record<string, string>> = {
  dom7: 'C7',
  min7: 'Cm7',
  maj7: 'Cmaj7',
  m7b5: 'Cm7b5',
  dim7: 'Cdim7',
  mMaj7: 'CmM7',
  'maj7#5': 'Cmaj7#5',
  '7b5': 'C7b5',
  '7#5': 'C7#5',
  '7sus4': 'C7sus4',
  '6': 'C6',
  m6: 'Cm6',
};

describe('a set class', () => {
  const find = (name: string) => sets.sets.find((set) => set.name === name)!;

  it.each(Object.entries(CLASS_OF))('of the scale %s is that of %s', (id, name) => {
    const { pcs: expected, intervalVector: vector } = find(name);
    expect(above(scale(id, 'Eb'))).toEqual(expected);
    expect(intervalVector(above(scale(id, 'Eb')))).toBe(vector);
  });

  it.each(Object.entries(CHORD_OF))('of the chord %s is that of %s', (name, symbol) => {
    const chord = read(symbol);
    const found = chord.degrees.map((degree) => scaleDegree(degree)).sort((a, b) => a - b);
    expect(found).toEqual(find(name).pcs);
    expect(intervalVector(found)).toBe(find(name).intervalVector);
  });

  it('the altered scale and the lydian dominant a tritone away are the same notes', () => {
    expect(pcs(scale('altered', 'C'))).toEqual(pcs(scale('lydian-dominant', 'Gb')));
  });
});

const STEPS: Readonly<Record<string, number>> = { 1: 0, 2: 2, 3: 4, 4: 5, 5: 7, 6: 9, 7: 11 };
const scaleDegree = (degree: Degree): number => {
  const alter = degree.split('#').length - degree.split('b').length;
  return STEPS[degree.replace(/[b#]/g, '')]! + alter;
};

describe('a pentatonic laid over a chord', () => {
  it('is five notes of a scale of the chord, and named from its own root', () => {
    const overlays = ids.filter((id) => id.includes('-on-'));
    expect(overlays).toHaveLength(8);
    const shapes = new Set([pcs(scale('minor-pentatonic', 'A')).join()]);
    for (const id of overlays) {
      const notes = pcs(scale(id, 'C'));
      const rotated = Array.from({ length: 12 }, (_, by) =>
        notes
          .map((pc) => (pc + by) % 12)
          .sort((a, b) => a - b)
          .join(),
      );
      expect(
        rotated.some((shape) => shapes.has(shape)),
        id,
      ).toBe(true);
    }
    expect(scale('minor-pentatonic-on-#9', 'G').name).toBe('Bb minor pentatonic over G');
    expect(
      scale('minor-pentatonic-on-#9', 'G')
        .notes.map(({ degree }) => degree)
        .join(' '),
    ).toBe('#9 b5 #5 b7 b9');
  });
});

describe('a scale picked by hand', () => {
  it('is any of the table, on any root', () => {
    expect(scaleById('lydian', 'F')).toMatchObject({
      id: 'lydian',
      root: 'F',
      name: 'F lydian',
      reason: 'Picked by hand.',
    });
  });

  it('tells the parts of its notes from the chord where there is one, else from itself', () => {
    const roles = (choice: ScaleChoice | null): string => choice!.notes.map(({ role }) => role).join(' ');
    expect(roles(scaleById('mixolydian', 'G', read('G7')))).toBe(
      'root tension guide avoid fifth tension guide',
    );
    expect(roles(scaleById('mixolydian', 'G'))).toBe('root scale guide scale fifth scale guide');
  });

  it.each(['', 'lochrian', 'valueOf', '__proto__', 'toString'])('is none under the name %j', (id) => {
    expect(scaleById(id, 'C')).toBeNull();
  });

  it('needs a root that is a note', () => {
    expect(() => scaleById('lydian', 'H')).toThrow(RangeError);
  });
});
