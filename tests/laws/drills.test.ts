import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  barLength,
  beatLength,
  buildDrill,
  CELLS,
  chordPitchClasses,
  DRILL_KINDS,
  GUITAR,
  midi,
  pitchClass,
  PPQ,
  readText,
  roleOf,
  scaleById,
  scaleList,
  sheetOf,
  suggestScales,
  type Passage,
  transposedFor,
  type ScaleChoice,
  type Drill,
  type DrillKind,
  type DrillSettings,
  type Metre,
  type SheetSign,
} from '../../src/engine/index.ts';
import { chordCalled } from '../helpers/drills.ts';

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
/** Where a free hand goes: from the lowest open string to the twelfth fret of the highest. */
const LOW = Math.min(...GUITAR.tuning);
const HIGH = Math.max(...GUITAR.tuning) + 12;
/** A chord to each scale it is usual over, as `shared/reference/chord-scales.json` has them. */
const SCALES = [
  ['7alt', 'altered'],
  ['maj7', 'major'],
  ['m7', 'dorian'],
  ['7', 'mixolydian'],
  ['m7b5', 'locrian-natural-two'],
  ['7', 'half-whole-diminished'],
  ['7', 'whole-tone'],
  ['mMaj7', 'melodic-minor'],
  ['6', 'major-pentatonic'],
] as const;

const metre = fc.constantFrom<Metre>(
  ...[
    { count: 4, unit: 4 } as const,
    { count: 3, unit: 4 } as const,
    { count: 5, unit: 4 } as const,
    { count: 6, unit: 8 } as const,
    { count: 12, unit: 8 } as const,
    { count: 7, unit: 8 } as const,
    { count: 2, unit: 2 } as const,
  ],
);
const chord = fc.record({
  root: fc.constantFrom(...ROOTS),
  scale: fc.constantFrom(...SCALES),
  metre,
});
const overAChord = Object.entries(DRILL_KINDS).filter(([, { over }]) => over.includes('chord'));
const overChanges = Object.entries(DRILL_KINDS).filter(([, { over }]) => over.includes('changes'));

const settings = (kinds: typeof overAChord): fc.Arbitrary<DrillSettings> =>
  fc.record({
    kind: fc.constantFrom(...(kinds.map(([kind]) => kind) as DrillKind[])),
    rhythm: fc.constantFrom('quarter', 'eighth', 'triplet', 'sixteenth'),
    direction: fc.constantFrom('up', 'down', 'up-down', 'turns'),
    accents: fc.constantFrom('none', 'groups', 'beats', 'off-beats', 'threes'),
    startBeat: fc.integer({ min: 1, max: 4 }),
    hand: fc.oneof(
      fc.constant({ type: 'free' as const }),
      fc.record({ type: fc.constant('form' as const), number: fc.integer({ min: 1, max: 5 }) }),
      fc.record({ type: fc.constant('position' as const), fret: fc.integer({ min: 1, max: 10 }) }),
    ),
    range: fc.option(
      fc
        .tuple(fc.integer({ min: 40, max: 58 }), fc.integer({ min: 8, max: 26 }))
        .map(([low, size]) => ({ low: midi(low), high: midi(low + size) })),
    ),
    cell: fc.constantFrom(...Object.keys(CELLS)),
    line: fc.constantFrom('third', 'seventh'),
    seed: fc.nat(1000),
  });

const placeOf = ({
  root,
  scale: [suffix, id],
  metre: in_,
}: {
  root: string;
  scale: (typeof SCALES)[number];
  metre: Metre;
}) => {
  const read = chordCalled(root + suffix);
  return { chord: read, scale: scaleById(id, root, read)!, next: null, metre: in_ };
};

const drilled = fc.record({ settings: settings(overAChord), chord }).map(({ settings: set, chord: on }) => {
  const place = placeOf(on);
  return { place, drill: buildDrill(set, { over: 'chord', place }, GUITAR) };
});

const symbol = fc.constantFrom(
  ...[
    'Dm7',
    'G7alt',
    'G7',
    'Cmaj7',
    'F6',
    'Bm7b5',
    'E7b9',
    'Am7',
    'A7#5',
    'C/E',
    'Bbdim7',
    'N.C.',
    'F#m7',
    'Db7',
  ],
);
const chart = fc
  .record({
    metre: fc.constantFrom('4/4', '3/4', '5/4', '6/8'),
    bars: fc.array(fc.array(symbol, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 8 }),
  })
  .map(({ metre: written, bars }) => `${written} ${bars.map((chords) => chords.join(' ')).join(' | ')}`);
/** The scale suggested first for a chord, whatever stands around it. */
const known = new Map<string, ScaleChoice | null>();
function passageOf(text: string): Passage {
  const { written } = readText(text);
  const scales = written.spans.map(({ chord: sounding }) => {
    if (sounding === null) return null;
    if (!known.has(sounding.text))
      known.set(sounding.text, suggestScales(sounding, { treatment: null, next: null })[0] ?? null);
    return known.get(sounding.text)!;
  });
  return { changes: written, scales };
}

const through = fc
  .record({ settings: settings(overChanges), chart })
  .map(({ settings: set, chart: text }) => {
    const passage = passageOf(text);
    return { passage, drill: buildDrill(set, { over: 'changes', passage }, GUITAR) };
  });
const anyDrill = fc.oneof(
  drilled.map(({ drill }) => drill),
  through.map(({ drill }) => drill),
);

const SOUNDS = transposedFor('concert');

/** The signs that belong together under one number. */
function groupsBy(signs: readonly SheetSign[], what: 'beam' | 'triplet'): readonly SheetSign[][] {
  const groups = new Map<number, SheetSign[]>();
  for (const sign of signs) {
    const number = sign[what];
    if (number !== null) groups.set(number, [...(groups.get(number) ?? []), sign]);
  }
  return [...groups.values()];
}

const chordAt = ({ changes }: Drill, at: number) =>
  changes.spans.find(({ start, length }) => at >= start && at < start + length)?.chord ?? null;

describe('a drill', () => {
  it('has its notes one after the other, within its bars, within its range, on the neck where it can be', () => {
    fc.assert(
      fc.property(anyDrill, (drill) => {
        let end = 0;
        for (const note of drill.notes) {
          expect(note.at).toBeGreaterThanOrEqual(end);
          expect(note.length).toBeGreaterThan(0);
          end = note.at + note.length;
          if (note.stop !== null)
            expect(GUITAR.tuning[6 - note.stop.string]! + note.stop.fret).toBe(note.pitch);
          const { range, kind } = drill.settings;
          const outside = kind === 'approach' || kind === 'enclosure' ? 1 : 0;
          if (range !== null && note.degree !== null) {
            expect(note.pitch).toBeGreaterThanOrEqual(range.low);
            expect(note.pitch).toBeLessThanOrEqual(range.high + outside * 3);
          }
        }
        expect(end).toBeLessThanOrEqual(drill.changes.length);
        expect(drill.notes.length === 0).toBe(drill.problem !== null);
      }),
      { numRuns: 400 },
    );
  });

  it('fills bars of its metre with changes that cover them', () => {
    fc.assert(
      fc.property(drilled, ({ drill, place }) => {
        const bar = barLength(place.metre);
        expect(drill.changes.length).toBe(drill.changes.bars.length * bar);
        expect(drill.changes.spans.reduce((sum, span) => sum + span.length, 0)).toBe(drill.changes.length);
      }),
      { numRuns: 300 },
    );
  });

  it('names every note by its pitch, and its degree over the chord that sounds', () => {
    fc.assert(
      fc.property(anyDrill, (drill) => {
        for (const { at, pitch, name, plain, degree } of drill.notes) {
          expect(pitchClass(name)).toBe(pitch % 12);
          expect(pitchClass(plain)).toBe(pitch % 12);
          expect(plain.length).toBeLessThanOrEqual(2);
          const sounding = chordAt(drill, at);
          const letters = 'CDEFGAB';
          if (degree === null || sounding === null) continue;
          const steps = (Number(degree.replace(/[b#]/g, '')) - 1) % 7;
          expect(name[0]).toBe(letters[(letters.indexOf(sounding.root[0]!) + steps) % 7]);
        }
      }),
      { numRuns: 400 },
    );
  });

  it('is the same drill each time it is made', () => {
    fc.assert(
      fc.property(settings(overChanges), chart, (set, text) => {
        const make = () => {
          return buildDrill(set, { over: 'changes', passage: passageOf(text) }, GUITAR);
        };
        expect(make()).toEqual(make());
      }),
      { numRuns: 100 },
    );
  });
});

describe('a drill on a scale', () => {
  const SHAPES = ['thirds', 'fourths', 'sixths', 'triads', 'sevenths', 'cells', 'root-run'];
  const onScale = drilled.filter(
    ({ drill }) => SHAPES.includes(drill.settings.kind) && drill.notes.length > 0,
  );

  it('has notes of that scale alone, and comes home to the root', () => {
    fc.assert(
      fc.property(onScale, ({ drill, place }) => {
        const pcs = place.scale.notes.map(({ pc }) => pc);
        for (const { pitch } of drill.notes) expect(pcs).toContain(pitch % 12);
        expect(drill.notes.at(-1)!.pitch % 12).toBe(pitchClass(place.chord.root));
      }),
      { numRuns: 300 },
    );
  });

  it('leaps by the steps of its shape and no others', () => {
    const LEAPS: Readonly<Record<string, readonly number[]>> = {
      thirds: [2],
      fourths: [3],
      sixths: [5],
      triads: [2],
      sevenths: [2],
    };
    fc.assert(
      fc.property(onScale, ({ drill, place }) => {
        const leaps = LEAPS[drill.settings.kind];
        if (leaps === undefined) return;
        const size = drill.settings.kind === 'triads' ? 3 : drill.settings.kind === 'sevenths' ? 4 : 2;
        const pcs = place.scale.notes.map(({ pc }) => pc);
        const rank = (pitch: number) =>
          Array.from({ length: pitch }, (_, i) => i).filter((p) => pcs.includes(p % 12)).length;
        // The last note is the way home.
        const ranks = drill.notes.slice(0, -1).map(({ pitch }) => rank(pitch));
        for (let i = 0; i + 1 < ranks.length; i++) {
          if (i % size === size - 1) continue;
          expect(leaps).toContain(Math.abs(ranks[i + 1]! - ranks[i]!));
        }
      }),
      { numRuns: 300 },
    );
  });

  it('that runs from the root repeats and holds only roots', () => {
    const runs = onScale.filter(({ drill }) => drill.settings.kind === 'root-run');
    fc.assert(
      fc.property(runs, ({ drill, place }) => {
        const root = pitchClass(place.chord.root);
        const { notes } = drill;
        const others = notes.filter(({ pitch }) => pitch % 12 !== root);
        const short = Math.min(...(others.length > 0 ? others : notes).map(({ length }) => length));
        for (const [i, note] of notes.entries()) {
          if (others.includes(note)) {
            expect(note.length).toBe(short);
            expect(notes[i + 1]?.pitch).not.toBe(note.pitch);
          } else if (i < notes.length - 1 && notes[i - 1]?.pitch !== note.pitch) {
            if (others.length > 0) expect(note.length).toBeGreaterThan(short);
            expect(notes[i + 1]!.pitch).toBe(note.pitch);
          }
        }
        // From the lowest root up by steps to the top, down to the lowest note, home.
        const line = notes.map(({ pitch }): number => pitch).filter((pitch, i, all) => pitch !== all[i - 1]);
        const top = line.indexOf(Math.max(...line));
        const low = line.lastIndexOf(Math.min(...line));
        expect(line[0]! % 12).toBe(root);
        expect(line.slice(0, top + 1)).toEqual(line.slice(0, top + 1).toSorted((a, b) => a - b));
        expect(line.slice(top, low + 1)).toEqual(line.slice(top, low + 1).toSorted((a, b) => b - a));
        expect(line.at(-1)).toBe(line[0]);
      }),
      { numRuns: 300 },
    );
  });
});

describe('a drill through changes', () => {
  it('has over each chord only notes of its scale, or of the chord', () => {
    const lines = through.filter(({ drill }) =>
      ['through', 'chord-tones', 'phrases'].includes(drill.settings.kind),
    );
    fc.assert(
      fc.property(lines, ({ drill, passage }) => {
        for (const { at, pitch } of drill.notes) {
          const span = drill.changes.spans.findIndex(
            ({ start, length }) => at >= start && at < start + length,
          );
          const { chord: sounding } = drill.changes.spans[span]!;
          const allowed =
            drill.settings.kind === 'chord-tones'
              ? chordPitchClasses(sounding!)
              : [...passage.scales[span]!.notes.map(({ pc }) => pc), ...chordPitchClasses(sounding!)];
          expect(allowed).toContain(pitch % 12);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('without stopping goes on to the next note of what fits then, in one direction or the other', () => {
    const lines = through.filter(({ drill }) => drill.settings.kind === 'through' && drill.notes.length > 2);
    fc.assert(
      fc.property(lines, ({ drill, passage }) => {
        // The last note is where it comes to rest.
        for (const [i, note] of drill.notes.slice(0, -1).entries()) {
          const before = drill.notes[i - 1];
          if (before === undefined || note.at > before.at + before.length) continue;
          const span = drill.changes.spans.findLastIndex(({ start }) => start <= note.at);
          const pcs = passage.scales[span]!.notes.map(({ pc }) => pc);
          const [low, high] = [Math.min(before.pitch, note.pitch), Math.max(before.pitch, note.pitch)];
          for (let p = low + 1; p < high; p++) expect(pcs).not.toContain(p % 12);
        }
        const last = drill.notes.at(-1)!;
        expect(['root', 'guide', 'fifth']).toContain(roleOf(chordAt(drill, last.at)!, last.degree!));
      }),
      { numRuns: 300 },
    );
  });

  it('of guide tones has one on the beat each chord begins on', () => {
    const lines = through.filter(({ drill }) => drill.settings.kind === 'guide-tones');
    fc.assert(
      fc.property(lines, ({ drill }) => {
        const starts = drill.changes.spans.map(({ start }) => start);
        for (const [i, { at, pitch, degree, why }] of drill.notes.entries()) {
          if (i > 0) expect(starts).toContain(at);
          expect(['root', 'guide', 'fifth', 'tension']).toContain(roleOf(chordAt(drill, at)!, degree!));
          const move = i === 0 ? 0 : pitch - drill.notes[i - 1]!.pitch;
          if (i > 0) {
            const word = move === 0 ? 'stays' : `${move < 0 ? 'down' : 'up'} ${Math.abs(move)}`;
            expect(why).toBe(`${word}: the ${degree}`);
          }
          // A longer way only where the same note on the nearer side is off the neck.
          if (drill.settings.range === null && drill.settings.hand.type === 'free' && Math.abs(move) > 6) {
            const near = pitch - Math.sign(move) * 12;
            expect(near < LOW || near > HIGH).toBe(true);
          }
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe('lines that resolve', () => {
  it('step by at most a whole tone into a resting note of the next chord, plain then altered', () => {
    const lines = drilled.filter(
      ({ drill }) => ['plain-altered', 'phrases'].includes(drill.settings.kind) && drill.notes.length > 0,
    );
    fc.assert(
      fc.property(lines, ({ drill }) => {
        for (const [i, { at, pitch, degree }] of drill.notes.entries()) {
          const sounding = chordAt(drill, at)!;
          const isGoal = sounding !== drill.changes.spans[0]!.chord && !sounding.altered;
          const known = sounding.altered ? 'altered' : 'mixolydian';
          if (isGoal) {
            expect(Math.abs(pitch - drill.notes[i - 1]!.pitch)).toBeLessThanOrEqual(2);
            expect(['root', 'guide', 'fifth']).toContain(roleOf(sounding, degree!));
          } else {
            const pcs = scaleById(known, sounding.root)!.notes.map(({ pc }) => pc);
            expect(pcs).toContain(pitch % 12);
          }
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe('the sheet of a drill', () => {
  it('has bars that sum to their metre, of signs that last what they show', () => {
    fc.assert(
      fc.property(anyDrill, fc.constantFrom('plain' as const, 'degree' as const), (drill, spelling) => {
        for (const bar of sheetOf(drill, { spelling, written: SOUNDS })) {
          let at: number = bar.start;
          for (const sign of bar.signs) {
            expect(sign.at).toBe(at);
            at += sign.length;
            if (sign.wholeBar) continue;
            const shown =
              ((4 * PPQ) / sign.value) * (sign.dotted ? 1.5 : 1) * (sign.triplet === null ? 1 : 2 / 3);
            expect(sign.length).toBe(shown);
          }
          expect(at).toBe(bar.start + bar.length);
        }
      }),
      { numRuns: 400 },
    );
  });

  it('read back with its accidentals and ties gives the notes of the drill', () => {
    const ALTERS = { bb: -2, b: -1, n: 0, '#': 1, '##': 2 } as const;
    const NATURALS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
    fc.assert(
      fc.property(anyDrill, fc.constantFrom('plain' as const, 'degree' as const), (drill, spelling) => {
        const read: { pitch: number; at: number; length: number }[] = [];
        for (const bar of sheetOf(drill, { spelling, written: SOUNDS })) {
          const said = new Map<string, number>();
          for (const { at, length, note } of bar.signs) {
            if (note === null) continue;
            const line = note.place.letter + note.place.octave;
            if (note.tiedFrom) {
              read.at(-1)!.length += length;
              continue;
            }
            if (note.accidental !== null) said.set(line, ALTERS[note.accidental]);
            const pitch = 12 * (note.place.octave + 1) + NATURALS[note.place.letter]! + (said.get(line) ?? 0);
            read.push({ pitch, at, length });
          }
        }
        expect(read).toEqual(drill.notes.map(({ pitch, at, length }) => ({ pitch, at, length })));
      }),
      { numRuns: 400 },
    );
  });

  it('keeps the beat in sight: beams and triplets stay within it, or in four within half a bar', () => {
    fc.assert(
      fc.property(anyDrill, (drill) => {
        for (const [i, bar] of sheetOf(drill, { spelling: 'plain', written: SOUNDS }).entries()) {
          const beat = Math.max(PPQ, beatLength(bar.metre));
          const downbeat = bar.start - drill.changes.bars[i]!.skipped;
          const size = bar.metre.unit === 4 && bar.metre.count === 4 ? 2 * PPQ : beat;
          for (const signs of groupsBy(bar.signs, 'beam')) {
            expect(signs.length).toBeGreaterThan(1);
            const places = signs.map(({ at }) => Math.floor((at - downbeat) / size));
            expect(new Set(places).size).toBe(1);
          }
          for (const signs of groupsBy(bar.signs, 'triplet')) {
            expect(signs.reduce((sum, { length }) => sum + length, 0)).toBe(PPQ);
          }
        }
      }),
      { numRuns: 400 },
    );
  });
});

it('every scale of the table can be run through', () => {
  for (const { id } of scaleList()) {
    const place = {
      chord: chordCalled('C7'),
      scale: scaleById(id, 'C')!,
      next: null,
      metre: { count: 4, unit: 4 } as const,
    };
    const set = {
      kind: 'root-run',
      rhythm: 'eighth',
      direction: 'up',
      accents: 'none',
      startBeat: 1,
    } as const;
    const rest = { hand: { type: 'free' }, range: null, cell: '', line: 'third', seed: 1 } as const;
    const drill = buildDrill({ ...set, ...rest }, { over: 'chord', place }, GUITAR);
    expect(drill.problem === null, id).toBe(place.scale.notes.some(({ role }) => role === 'root'));
  }
});
