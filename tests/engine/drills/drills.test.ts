import { describe, expect, it } from 'vitest';
import {
  beats,
  buildDrill,
  CELLS,
  degreeSemitones,
  DRILL_KINDS,
  GUITAR,
  midi,
  PHRASE_RULES,
  scaleForms,
  type DrillKind,
  type DrillSettings,
} from '../../../src/engine/index.ts';
import { DRILL, drawDrill, overChanges, overChord, passageOf, placeOf } from '../../helpers/drills.ts';

/** From F up to Bb: a root at the bottom with a note beneath it, and one near the top. */
const free: Partial<DrillSettings> = {
  hand: { type: 'free' },
  range: { low: midi(53), high: midi(70) },
};
const ALT = placeOf('G7alt', 'altered');
const draw = (set: Partial<DrillSettings>) => drawDrill(overChord(ALT, { ...free, ...set })).split('\n');

describe('the run from the root', () => {
  it('holds each root and strikes it again on the beat, goes to the top, to the lowest note, and home', () => {
    expect(draw({ kind: 'root-run' })).toEqual([
      '1*1 1 b9 #9 3 b5 #5',
      'b7 1*1.5 1 b9 #9 b9',
      '1*1 1 b7 #5 b5 3 #9',
      'b9 1*1.5 1 b7 1*1',
    ]);
  });

  it('begins on the beat asked for, and holds a root for two notes at the least in any rhythm', () => {
    expect(draw({ kind: 'root-run', rhythm: 'quarter', startBeat: 3 }).slice(0, 3)).toEqual([
      '-2 1*2',
      '1 b9 #9 3',
      'b5 #5 b7 1*2',
    ]);
  });
});

describe('a shape through the scale', () => {
  it('in thirds goes up a third, down a step, and so on', () => {
    expect(draw({ kind: 'thirds', direction: 'up' })).toEqual([
      '1 #9 b9 3 #9 b5 3 #5',
      'b5 b7 #5 1 b7 b9 1 #9',
      '1*4',
    ]);
  });

  it('goes down as its mirror, and in turns every second group backwards', () => {
    expect(draw({ kind: 'thirds', direction: 'down' })).toEqual([
      '1 #5 b7 b5 #5 3 b5 #9',
      '3 b9 #9 1 b9 b7 1*1',
    ]);
    expect(draw({ kind: 'thirds', direction: 'turns' })[0]).toBe('1 #9 3 b9 #9 b5 #5 3');
  });

  it.each<[DrillKind, string]>([
    ['fourths', '1 3 b9 b5 #9 #5 3 b7'],
    ['sixths', '1 #5 b9 b7 #9 1 3 b9'],
    ['triads', '1 #9 b5 b9 3 #5 #9 b5'],
    ['sevenths', '1 #9 b5 b7 b9 3 #5 1'],
    ['cells', '1 b9 #9 b5 b9 #9 3 #5'],
  ])('can be %s', (kind, bar) => {
    expect(draw({ kind, direction: 'up' })[0]).toBe(bar);
  });

  it('can be any of the four-note cells', () => {
    const first = Object.keys(CELLS).map((cell) => draw({ kind: 'cells', cell, direction: 'up' })[0]);
    expect(first).toEqual([
      '1 b9 #9 b5 b9 #9 3 #5',
      '1 b9 #9 3 b9 #9 3 b5',
      '1 #9 b9 1 b9 3 #9 b9',
      'b5 #9 b9 1 #5 3 #9 b9',
    ]);
  });

  it('says so where there is no room for it', () => {
    const drill = overChord(ALT, { ...free, kind: 'sixths', range: { low: midi(55), high: midi(58) } });
    expect(drill.notes).toEqual([]);
    expect(drill.problem).toContain('no room');
  });
});

describe('chord tones from outside', () => {
  it('come from a semitone below, on the beat', () => {
    expect(draw({ kind: 'approach' }).slice(0, 2)).toEqual(['-0.5 F# 1 A# 3 C b5 D', '#5 E b7 F# 1 E b7 D']);
  });

  it('are enclosed by the scale note above and the semitone below, and stand on one and three', () => {
    expect(draw({ kind: 'enclosure' }).slice(0, 2)).toEqual(['-1 b9 F# 1*1 b5 A#', '3*1 #5 C b5*1 b7 D']);
    expect(draw({ kind: 'enclosure', rhythm: 'quarter' }).slice(0, 2)).toEqual(['-2 b9 F#', '1*2 b5 A#']);
  });

  it('through changes meet each chord on its third, led to in the bar before', () => {
    const drill = overChanges('Dm7 | G7 | Cmaj7', { kind: 'enclosure' });
    expect(drawDrill(drill)).toBe(['b3*3 C A#', '3*3 F D#', '3*4'].join('\n'));
  });
});

describe('a line through the changes', () => {
  it('meets each change with the nearest next note, and comes to rest in the last bar', () => {
    const drill = overChanges('Dm7 | G7alt | Cmaj7', {
      kind: 'through',
      range: { low: midi(50), high: midi(70) },
    });
    expect(drawDrill(drill)).toBe(['1 9 b3 11 5 13 b7 1', '#5 b7 1 b9 #9 b9 1 b7', '3 9 1 7 1*2'].join('\n'));
  });

  it('turns at each change where it goes in turns', () => {
    const drill = overChanges('Dm7 | G7alt | Cmaj7', {
      kind: 'through',
      direction: 'turns',
      range: { low: midi(50), high: midi(70) },
    });
    expect(drawDrill(drill).split('\n')[1]).toBe('b5 3 #9 b9 1 b7 #5 b7');
  });

  it('can keep to chord tones', () => {
    const drill = overChanges('Dm7 | G7', { kind: 'chord-tones' });
    expect(drawDrill(drill).split('\n')[0]).toBe('1 b3 5 b7 1 b3 5 b7');
  });

  it('is silent where no chord sounds, and goes on after it', () => {
    const drill = overChanges('Dm7 | N.C. | Cmaj7', { kind: 'through' });
    expect(drill.notes.filter(({ at }) => at >= beats(4) && at < beats(8))).toEqual([]);
    expect(drill.notes.some(({ at }) => at === beats(8))).toBe(true);
  });

  it('of guide tones holds each while its chord lasts; 7 falls to 3, 3 becomes 7', () => {
    const line = (which: 'third' | 'seventh') =>
      drawDrill(overChanges('Dm7 | G7 | Cmaj7', { kind: 'guide-tones', line: which }));
    expect(line('third')).toBe(['b3*4', 'b7*4', '3*4'].join('\n'));
    expect(line('seventh')).toBe(['b7*4', '3*4', '7*4'].join('\n'));
  });
});

describe('plain, altered, resolved', () => {
  it('is half a bar of each, then a step into the next chord; the band plays the same', () => {
    const drill = overChord(placeOf('G7', 'mixolydian', 'Cm7'), { ...free, kind: 'plain-altered' });
    expect(drawDrill(drill).split('\n').slice(0, 2)).toEqual(['1 b7 13 5 b5 3 #9 b9', '5*4']);
    expect(drill.notes[8]!.why).toBe('the b9 falls a semitone to the 5');
    expect(drill.changes.spans.slice(0, 3).map(({ chord, length }) => [chord!.text, length])).toEqual([
      ['G7', beats(2)],
      ['G7alt', beats(2)],
      ['Cm7', beats(4)],
    ]);
  });

  it('over any other chord is that of the dominant that leads to it', () => {
    const drill = overChord(placeOf('Cmaj7', 'major'), { ...free, kind: 'plain-altered' });
    expect(drill.changes.spans.slice(1, 3).map(({ chord }) => chord!.text)).toEqual(['G7alt', 'Cmaj7']);
  });

  it('takes the last beat of three, and the tonic where nothing follows', () => {
    const drill = overChord(placeOf('G7alt', 'altered', null, { count: 3, unit: 4 }), {
      ...free,
      kind: 'plain-altered',
    });
    expect(drill.changes.spans.slice(0, 3).map(({ chord, length }) => [chord!.text, length])).toEqual([
      ['G7', beats(2)],
      ['G7alt', beats(1)],
      ['Cmaj7', beats(3)],
    ]);
  });
});

describe('altered phrases', () => {
  const ALTERED = new Set(['1', 'b9', '#9', '3', 'b5', '#5', 'b7']);

  it('are shapes within the altered scale, of four notes at the most, each of its own', () => {
    for (const { degrees, contour } of PHRASE_RULES) {
      expect(degrees.every((degree) => ALTERED.has(degree))).toBe(true);
      expect(degrees.length).toBeLessThanOrEqual(4);
      expect(contour.length).toBe(degrees.length - 1);
    }
    expect(new Set(PHRASE_RULES.map(({ degrees }) => degrees.join())).size).toBe(PHRASE_RULES.length);
  });

  /** Semitones above the lowest note, as the names of the shapes say. */
  it.each([
    ['triad-on-sharp-five', [0, 4, 7]],
    ['triad-on-flat-five', [0, 4, 7]],
    ['minor-on-flat-nine', [0, 3, 7]],
    ['augmented-on-three', [0, 4, 8]],
    ['minor-major-on-b9', [0, 3, 7, 11]],
    ['half-dim-on-b7', [0, 3, 6, 10]],
    ['minor-cell-on-b9', [0, 2, 3, 7]],
  ])('have the intervals of their names: %s', (id, intervals) => {
    const { degrees } = PHRASE_RULES.find((rule) => rule.id === id)!;
    const first = degreeSemitones(degrees[0]!);
    expect(degrees.map((degree) => (degreeSemitones(degree) - first + 24) % 12)).toEqual(intervals);
  });

  it('each make one example over a chord', () => {
    const drill = overChord(ALT, { kind: 'phrases', hand: { type: 'free' } });
    expect(drill.changes.bars.length).toBe(2 * PHRASE_RULES.length);
  });

  it('through changes stand over altered chords alone, and are led into the next one', () => {
    const drill = overChanges('Dm7 | G7alt | Cmaj7', { kind: 'phrases' });
    expect(drill.notes[0]!.at).toBe(beats(4));
    expect(drill.notes.at(-1)).toMatchObject({ at: beats(8), length: beats(4) });
    expect(overChanges('Dm7 | G7 | Cmaj7', { kind: 'phrases' }).problem).not.toBeNull();
  });
});

describe('any drill', () => {
  it('is not made over what it is not for', () => {
    expect(() => overChanges('C7alt', { kind: 'thirds' })).toThrow(RangeError);
    expect(() => overChord(ALT, { kind: 'guide-tones' })).toThrow(/guide-tones/);
  });

  it('stays in the form asked for, on the strings and frets the form has', () => {
    const [form] = scaleForms(ALT.scale.notes, GUITAR);
    const drill = overChord(ALT, { kind: 'thirds', hand: { type: 'form', number: form!.number } });
    const places = form!.notes.map(({ string, fret }) => `${string}/${fret}`);
    for (const { stop } of drill.notes) expect(places).toContain(`${stop!.string}/${stop!.fret}`);
  });

  it('stays in the position asked for, with a fret to stretch either way', () => {
    const drill = overChanges('Dm7 | G7alt | Cmaj7', {
      kind: 'through',
      hand: { type: 'position', fret: 5 },
    });
    for (const { stop } of drill.notes) {
      expect(stop!.fret).toBeGreaterThanOrEqual(4);
      expect(stop!.fret).toBeLessThanOrEqual(9);
    }
  });

  it('accents what it is told to', () => {
    const accented = (accents: DrillSettings['accents']) =>
      overChord(ALT, { ...free, kind: 'triads', direction: 'up', accents })
        .notes.slice(0, 8)
        .map(({ accent }) => (accent ? '>' : '.'))
        .join('');
    expect(accented('none')).toBe('........');
    expect(accented('groups')).toBe('>..>..>.');
    expect(accented('beats')).toBe('>.>.>.>.');
    expect(accented('off-beats')).toBe('.>.>.>.>');
    expect(accented('threes')).toBe('>..>..>.');
  });

  it('says in a sentence what it is for', () => {
    for (const { name, sentence, over } of Object.values(DRILL_KINDS)) {
      expect(name.length).toBeLessThan(40);
      expect(sentence).toMatch(/\.$/);
      expect(over.length).toBeGreaterThan(0);
    }
  });

  it('over a stretch that begins within a bar keeps to the beats of the bar', () => {
    const { changes, scales } = passageOf('Dm7 G7 | Cmaj7');
    const passage = {
      changes: {
        length: beats(6),
        bars: [
          { ...changes.bars[0]!, length: beats(2), skipped: beats(2) },
          { ...changes.bars[1]!, start: beats(2) },
        ],
        spans: [
          { ...changes.spans[1]!, start: beats(0) },
          { ...changes.spans[2]!, start: beats(2) },
        ],
      },
      scales: scales.slice(1),
    };
    const drill = buildDrill(
      { ...DRILL, kind: 'through', hand: { type: 'free' } },
      { over: 'changes', passage },
      GUITAR,
    );
    expect(drill.notes[0]!.at).toBe(0);
    expect(drill.notes.at(-1)).toMatchObject({ at: beats(4), length: beats(2) });
  });
});
