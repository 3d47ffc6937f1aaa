import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import guides from '../../../shared/reference/guide-tones.json' with { type: 'json' };
import {
  guideToneLines,
  scaleById,
  suggestScales,
  targets,
  type Target,
} from '../../../src/engine/scales/index.ts';
import { changesOf } from '../../helpers/changes.ts';
import { read, spellings } from '../../helpers/symbols.ts';

const written = ({ from, to, semitones }: Target): string => `${from.degree} ${to.degree} ${semitones}`;

/** What moves where from a chord, played with the scale that leads, into another. */
function moves(symbol: string, next: string): readonly Target[] {
  const [chord, goal] = [read(symbol), read(next)];
  const [scale] = suggestScales(chord, { treatment: null, next: goal });
  return targets({ chord, scale: scale! }, { chord: goal });
}

describe('from an altered dominant to its major tonic', () => {
  const found = moves('G7alt', 'Cmaj7').map(written);

  /** Computed from the pitches, over G7alt and Cmaj7. */
  it.each([
    ['b9', '5', -1],
    ['#9', '13', -1],
    ['#5', '9', -1],
    ['b5', '1', -1],
    ['b5', '9', 1],
    ['3', '1', 1],
    ['3', '7', 0],
    ['b7', '3', -1],
  ])('the %s goes to the %s by %i', (from, to, semitones) => {
    expect(found).toContain(`${from} ${to} ${semitones}`);
  });

  it('the seventh falls to the third before all others', () => {
    expect(found[0]).toBe('b7 3 -1');
  });

  it('each is told in a sentence', () => {
    const reasons = moves('G7alt', 'Cmaj7').map(({ reason }) => reason);
    expect(reasons).toContain('Ab, the b9 of G7alt, falls a semitone to G, the 5 of Cmaj7.');
    expect(reasons).toContain('B, the 3 of G7alt, stays as the 7 of Cmaj7.');
  });

  it('is the same in every key', () => {
    for (const [dominant, tonic] of [
      ['Db', 'Gb'],
      ['F#', 'B'],
      ['Ab', 'Db'],
      ['A', 'D'],
    ]) {
      expect(moves(`${dominant}7alt`, `${tonic}maj7`).map(written)).toEqual(found);
    }
  });
});

describe('a target', () => {
  it('never sets out from an avoid note', () => {
    const roles = ['Cmaj7', 'G7', 'Em7b5', 'Am7'].flatMap((symbol) =>
      moves(symbol, 'Dm7').map(({ from }) => from.role),
    );
    expect(roles.length).toBeGreaterThan(8);
    expect(roles).not.toContain('avoid');
  });

  it('is never an avoid note of the next chord', () => {
    const goals = moves('Dm7', 'Cmaj7').map(({ to }) => to.degree);
    expect(goals).not.toContain('11');
    const lydian = targets(
      { chord: read('Dm7') },
      { chord: read('Cmaj7'), scale: scaleById('lydian', 'C', read('Cmaj7')) },
    );
    expect(lydian.map(({ to }) => to.degree)).toContain('#11');
  });

  it('is not left from a passing note', () => {
    const bebop = scaleById('bebop-dominant', 'G', read('G7'));
    const found = targets({ chord: read('G7'), scale: bebop }, { chord: read('Cmaj7') });
    expect(found.map(({ from }) => from.degree)).toContain('13');
    expect(found.map(({ from }) => from.degree)).not.toContain('7');
  });

  it('lies at most a whole tone away, where it is said to lie', () => {
    const anySymbol = fc.constantFrom(...spellings.map(({ symbol }) => symbol));
    fc.assert(
      fc.property(anySymbol, anySymbol, (symbol, next) => {
        for (const { from, to, semitones } of targets({ chord: read(symbol) }, { chord: read(next) })) {
          expect(Math.abs(semitones)).toBeLessThanOrEqual(2);
          expect((((from.pc + semitones - to.pc) % 12) + 12) % 12).toBe(0);
          expect(to.role).not.toBe('avoid');
        }
      }),
    );
  });
});

describe('guide tones where roots fall a fifth', () => {
  const QUALITIES = ['7', 'm7', 'maj7', 'm7b5'] as const;
  const minor = (quality: string): boolean => quality.startsWith('m7');
  const pairs = QUALITIES.flatMap((one) => QUALITIES.map((other) => [one, other] as const));

  it.each(pairs)('G%s to C%s: the seventh becomes the third, the third the seventh', (one, other) => {
    const [first, second] = guideToneLines(changesOf(`G${one} | C${other}`));
    const third = first[1]!;
    const seventh = second[1]!;
    expect([third.degree, seventh.degree].map((degree) => degree.replace('b', ''))).toEqual(['7', '3']);
    const { seventhToThird, thirdToSeventh } = guides;
    const isWide = one === 'maj7' && minor(other);
    expect(isWide ? [seventhToThird.onlyMajorSeventhToMinor] : seventhToThird.usual).toContain(seventh.move);
    const rises = minor(one) && other === 'maj7';
    expect(rises ? [thirdToSeventh.onlyMinorToMajorSeventh] : thirdToSeventh.usual).toContain(third.move);
  });

  it.each(guides.examples)('$chords', ({ chords, moves: expected }) => {
    const lines = guideToneLines(changesOf(chords.join(' | ')));
    const found = lines.map(([from, to]) => [from!.degree, to!.degree, to!.move]);
    expect(found).toEqual(expected);
  });
});

describe('the guide-tone lines through a chart', () => {
  const lines = (chart: string): readonly string[] =>
    guideToneLines(changesOf(chart)).map((line) =>
      line.map(({ plain, degree }) => `${plain}(${degree})`).join(' '),
    );

  it('lead from third to seventh and from seventh to third', () => {
    expect(lines('Dm7 G7alt | Cmaj7 | Fm7 Bb7 | Ebmaj7')).toEqual([
      'F(b3) F(b7) E(3) Eb(b7) D(3) D(7)',
      'C(b7) B(3) B(7) Ab(b3) Ab(b7) G(3)',
    ]);
  });

  it('stay for a tritone substitute, and follow a suspension', () => {
    expect(lines('G7 Db7 | Cmaj7')).toEqual(['B(3) B(b7) B(7)', 'F(b7) F(3) E(3)']);
    expect(lines('G7sus G7 | C6')).toEqual(['C(4) B(3) A(6)', 'F(b7) F(b7) E(3)']);
  });

  it('pass over silence, and meet where a chord has one guide tone', () => {
    expect(lines('G7 | N.C. | C5')).toEqual(['B(3) G(5)', 'F(b7) G(5)']);
    expect(guideToneLines(changesOf('N.C.'))).toEqual([[], []]);
  });

  it('take the least motion at every change', () => {
    const any = fc.array(
      fc.constantFrom('Dm7', 'G7', 'C6', 'Fm', 'Bb13', 'E7alt', 'A°7', 'F#m7b5', 'Dbmaj7'),
      {
        minLength: 2,
        maxLength: 8,
      },
    );
    fc.assert(
      fc.property(any, (symbols) => {
        const [first, second] = guideToneLines(changesOf(symbols.join(' | ')));
        for (let at = 1; at < first.length; at++) {
          const distance = (from: number, to: number): number =>
            Math.min((to - from + 12) % 12, (from - to + 12) % 12);
          const [a, b, c, d] = [first[at - 1]!.pc, second[at - 1]!.pc, first[at]!.pc, second[at]!.pc];
          expect(distance(a, c) + distance(b, d)).toBeLessThanOrEqual(distance(a, d) + distance(b, c));
          expect(Math.abs(first[at]!.move!)).toBe(distance(a, c));
        }
      }),
    );
  });
});
