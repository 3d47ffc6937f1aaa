import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { guideTones } from '../../../src/engine/harmony/index.ts';
import {
  candidates,
  leadVoicings,
  pathJudge,
  STYLES,
  type VoicingStyle,
} from '../../../src/engine/voicing/index.ts';
import { guidePair, selections } from '../../../src/engine/voicing/selections.ts';
import { chord, ROOTS, semitone, SEVENTHS, STYLE_NAMES } from '../../helpers/voicing.ts';

const cases = readFileSync(new URL('cases/choices.txt', import.meta.url), 'utf8')
  .split('\n')
  .filter((line) => line.trim() !== '' && !line.startsWith('#'))
  .map((line) => line.split('|').map((cell) => cell.trim()) as [string, VoicingStyle, string, string]);

const sorted = (text: string) => text.split(' ').sort().join(' ');

describe('four-note choices', () => {
  it.each(cases)('%s in %s stands on %s with %s', (symbol, style, guides, pairs) => {
    const read = chord(symbol);
    expect(guidePair(read).join(' ')).toBe(guides);
    const found = selections(read, STYLES[style].root).map(({ degrees }) =>
      sorted(degrees.slice(2).join(' ')),
    );
    expect(found.sort()).toEqual(pairs.split(', ').map(sorted).sort());
  });

  it('agree with harmony on the guide tones of every seventh and sixth chord', () => {
    for (const kind of SEVENTHS) {
      const read = chord(`C${kind}`);
      expect([...guidePair(read)].sort(), kind).toEqual([...guideTones(read)].sort());
    }
  });

  it('take over the tensions of a scale that is handed in, without avoid notes and without rubbing', () => {
    const lydianDominant = selections(chord('C7'), false, ['9', '#11', '13']).map(({ degrees }) =>
      degrees.slice(2).join(' '),
    );
    expect(lydianDominant.sort()).toEqual(['#11 13', '5 13', '5 9', '9 #11', '9 13'].sort());
    const mixolydian = selections(chord('C7'), false, ['9', '11', '13']).flatMap(({ degrees }) => degrees);
    expect(mixolydian.map(semitone)).not.toContain(semitone('11'));
  });
});

describe('a dominant in its place', () => {
  /** The tones beside the guide tones that the first chord may take before the others. */
  const beside = (symbols: string, loop = false) => {
    const line = symbols.split(' ').map((symbol) => ({ chord: chord(symbol) }));
    const [first] = pathJudge(line, { style: 'rootless', loop }).candidates;
    const tones = first!.flatMap(({ degrees }) => degrees).filter((tone) => tone !== '3' && tone !== 'b7');
    return [...new Set(tones)].sort().join(' ');
  };

  it.each([
    ['G7 Cmaj7', '13 5 9'],
    ['G7 Cm6', '5 b13 b9'],
    ['G7 Cm7b5', '5 b13 b9'],
    ['G7 G7 Cm7', '5 b13 b9'],
    ['G7 Am7', '13 5 9'],
    ['G9 Cm6', '13 5 9'],
    ['G7b9 Cm6', '5 b9'],
    ['G7sus4 Cm6', '5 b13 b9 4'],
  ])('takes over %s the tones %s', (symbols, tones) => {
    expect(
      beside(symbols)
        .split(' ')
        .filter((tone) => tone !== '4')
        .join(' '),
    ).toBe(tones.replace(' 4', ''));
  });

  it('looks round the loop for what follows, and no further than the music goes without one', () => {
    const line = ['Cm6', 'G7'].map((symbol) => ({ chord: chord(symbol) }));
    const last = (loop: boolean) =>
      new Set(pathJudge(line, { style: 'rootless', loop }).candidates[1]!.flatMap(({ degrees }) => degrees));
    expect(last(true).has('b9')).toBe(true);
    expect(last(false).has('b9')).toBe(false);
    expect(last(false).has('9')).toBe(true);
  });

  it('takes the tensions that are handed in with it instead', () => {
    const line = [{ chord: chord('G7'), tensions: ['9', '#11', '13'] as const }, { chord: chord('Cm6') }];
    const tones = pathJudge(line, { style: 'rootless', loop: false }).candidates[0]!.flatMap(
      ({ degrees }) => degrees,
    );
    expect(tones).toContain('#11');
    expect(tones).not.toContain('b9');
  });
});

describe('what is taken first', () => {
  it('leaves the root to the bass where it may', () => {
    for (const style of STYLE_NAMES.filter((name) => name !== 'fourths')) {
      for (const symbol of ['C7', 'Fmaj7', 'Dm7', 'G7alt']) {
        const [first] = leadVoicings([{ chord: chord(symbol) }], { style, loop: false });
        expect(first!.degrees, `${symbol} in ${style}`).not.toContain('1');
      }
    }
  });

  it('keeps every choice of an altered chord in every style on every root, so that all of it can be heard', () => {
    for (const style of STYLE_NAMES) {
      for (const root of ROOTS) {
        const found = candidates(chord(`${root}7alt`), { style }).map(({ degrees }) =>
          [...degrees].sort().join(' '),
        );
        expect(new Set(found).size, `${root}7alt in ${style}`).toBe(6);
      }
    }
  });
});
