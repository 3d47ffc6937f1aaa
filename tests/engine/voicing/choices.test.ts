import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { guideTones } from '../../../src/engine/harmony/index.ts';
import { STYLES, type VoicingStyle } from '../../../src/engine/voicing/index.ts';
import { guidePair, selections } from '../../../src/engine/voicing/selections.ts';
import { chord, semitone, SEVENTHS } from '../../helpers/voicing.ts';

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
