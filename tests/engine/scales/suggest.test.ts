import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chordPitchClasses,
  isDominant,
  readKeys,
  type Key,
  type Mode,
} from '../../../src/engine/harmony/index.ts';
import { suggestScales, suggestThrough, type ScaleContext } from '../../../src/engine/scales/index.ts';
import { changesOf } from '../../helpers/changes.ts';
import { read, spellings } from '../../helpers/symbols.ts';

const LINE =
  /^(?:(?<previous>\S+) > )?(?<chord>\S+) >(?: (?<next>[^ |:;]+))?(?: : (?<key>\w+ \w+))?(?: ; (?<treatment>\S+))? \| (?<scales>.+)$/;

const cases = readFileSync(join(import.meta.dirname, 'cases/places.txt'), 'utf8')
  .split('\n')
  .filter((line) => line.includes(' | '))
  .map((line): Place => ({ line, ...LINE.exec(line)?.groups }));

/** A line of the cases, and its parts by the names of the groups. */
interface Place {
  readonly line: string;
  readonly [part: string]: string | undefined;
}

function contextOf({ previous, next, key, treatment }: Place): ScaleContext {
  const [tonic, mode] = key?.split(' ') ?? [];
  return {
    treatment: treatment ?? null,
    previous: previous === undefined ? null : read(previous),
    next: next === undefined ? null : read(next),
    key: tonic === undefined ? null : { tonic, mode: mode as Mode },
  };
}

describe('the scales that lead', () => {
  it.each(cases)('$line', (given) => {
    if (given['scales'] === undefined) throw new Error(`cannot read the case ${given.line}`);
    const names = suggestScales(read(given['chord']!), contextOf(given)).map(({ name }) => name);
    const leaders = given['scales'].split(', ');
    expect(names.slice(0, leaders.length)).toEqual(leaders);
  });

  it('in more than sixty places', () => {
    expect(cases.length).toBeGreaterThan(60);
  });
});

const NEXT = ['C', 'Cm7', 'F7', 'Bmaj7', 'Dm7b5', 'Ab7alt'].map(read);

describe('every suggestion', () => {
  const anyPlace = fc.record({
    symbol: fc.constantFrom(...spellings.map(({ symbol }) => symbol)),
    next: fc.option(fc.constantFrom(...NEXT)),
    treatment: fc.option(fc.constantFrom('altered', 'flat-nine', 'sharp-eleven', 'whole-tone', 'plain')),
    key: fc.option(fc.constantFrom<Key>({ tonic: 'C', mode: 'major' }, { tonic: 'F#', mode: 'minor' })),
  });

  it('is a short list without repeats, each from the root of the chord, with a reason in a sentence', () => {
    fc.assert(
      fc.property(anyPlace, ({ symbol, ...place }) => {
        const chord = read(symbol);
        const choices = suggestScales(chord, place);
        expect(choices.length).toBeGreaterThan(0);
        expect(choices.length).toBeLessThanOrEqual(6);
        expect(new Set(choices.map(({ id }) => id)).size).toBe(choices.length);
        for (const choice of choices) {
          expect(choice.root).toBe(chord.root);
          expect(choice.reason).toMatch(/^[A-Z][^{}]*\.$/);
        }
      }),
      { numRuns: 1500 },
    );
  });

  it('leads with a scale that holds the chord, its natural fifth aside', () => {
    fc.assert(
      fc.property(anyPlace, ({ symbol, next, key }) => {
        const chord = read(symbol);
        const [first] = suggestScales(chord, { treatment: null, next, key });
        if (chord.family === 'power' || first!.reason.startsWith('No usual scale')) return;
        const tones = new Set(first!.notes.map(({ pc }) => pc));
        const needed = chordPitchClasses(chord).filter(
          (_, at) => chord.degrees[at] !== '5' || !isDominant(chord),
        );
        expect(
          needed.filter((pc) => !tones.has(pc)),
          `${symbol}: ${first!.name}`,
        ).toEqual([]);
      }),
      { numRuns: 1500 },
    );
  });

  it('offers three or more over every usual chord', () => {
    const usual =
      'C C6 Cmaj7 Cmaj9 Cm Cm6 Cm7 Cm9 Cm11 C7 C9 C13 C7b9 C7#9 C7#5 C7#11 C7alt C7sus4 C9sus4 Cø C°7 C+ Cmaj7#11';
    for (const symbol of usual.split(' ')) {
      const count = suggestScales(read(symbol), { treatment: null, next: null }).length;
      expect(count, symbol).toBeGreaterThanOrEqual(3);
    }
  });

  it('leads with the altered scale wherever alt is written or laid on, in every key', () => {
    for (const root of ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B']) {
      for (const next of [null, ...NEXT]) {
        expect(suggestScales(read(`${root}7alt`), { treatment: null, next })[0]!.id).toBe('altered');
        expect(suggestScales(read(`${root}7`), { treatment: 'altered', next })[0]!.id).toBe('altered');
      }
    }
  });
});

describe('the scales through a chart', () => {
  const leaders = (chart: string): readonly (string | null)[] =>
    suggestThrough(changesOf(chart)).map(([first]) => first?.name ?? null);

  it('follow its keys', () => {
    expect(leaders('Cmaj7 | Em7b5 A7 | Dm7 | G7 | Cmaj7 | Fm7 Bb7 | Em7 Eb7 | Dm7 Db7')).toEqual([
      'C major',
      'E locrian',
      'A phrygian dominant',
      'D dorian',
      'G mixolydian',
      'C major',
      'F dorian',
      'Bb lydian dominant',
      'E phrygian',
      'Eb lydian dominant',
      'D dorian',
      'Db lydian dominant',
    ]);
  });

  it('hear a blues at rest', () => {
    expect(leaders('F7 | Bb7 | F7 | % | Bb7 | Bdim7 | F7 | D7alt | Gm7 | C7 | F7 | C7')).toEqual([
      'F mixolydian',
      'Bb mixolydian',
      'F mixolydian',
      'Bb mixolydian',
      'B whole-half diminished',
      'F mixolydian',
      'D altered',
      'G dorian',
      'C mixolydian',
      'F mixolydian',
      'C mixolydian',
    ]);
  });

  it('are none where nothing is played', () => {
    expect(leaders('N.C. | C7alt')).toEqual([null, 'C altered']);
    expect(suggestThrough(changesOf(''))).toEqual([]);
  });

  it('believe a home key that is given', () => {
    const changes = changesOf('Am7 | Dm7');
    const [first] = suggestThrough(changes, { tonic: 'C', mode: 'major' });
    expect(first![0]!.name).toBe('A aeolian');
    expect(readKeys(changes, { tonic: 'C', mode: 'major' })[0]!.label).toBe('vi7');
  });
});
