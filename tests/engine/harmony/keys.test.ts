import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { homeKey, readKeys, vampKey, type Key } from '../../../src/engine/harmony/index.ts';
import { changesOf } from '../../helpers/changes.ts';

const FOLDER = join(import.meta.dirname, 'keys');

/**
 * A file holds charts parted by blank lines: a title, a line of changes, and below a `=` the home key and
 * how each chord is heard. A key in square brackets holds until the next; `!` marks an evaded cadence.
 */
const cases = readdirSync(FOLDER)
  .sort()
  .flatMap((file) => readFileSync(join(FOLDER, file), 'utf8').trim().split(/\n\n+/))
  .map((block) => {
    const [title, chart, expected] = block.split('\n');
    return { title: title!, chart: chart!, expected: expected!.replace(/^= /, '') };
  });

const nameOf = ({ tonic, mode }: Key): string => `${tonic} ${mode}`;

/** How a chart is heard, written as the cases are. */
function heard(chart: string): string {
  const written = changesOf(chart);
  let key = nameOf(homeKey(written));
  const words = [key];
  for (const reading of readKeys(written)) {
    if (reading === null) continue;
    if (nameOf(reading.key) !== key) words.push(`[${(key = nameOf(reading.key))}]`);
    words.push(reading.label + (reading.evaded ? '!' : ''));
  }
  return words.join(' ').replace(/^(\S+ \S+)/, '[$1]');
}

describe('a chart is heard in its keys', () => {
  it.each(cases)('$title', ({ chart, expected }) => {
    expect(heard(chart)).toBe(expected);
  });

  it('in more than thirty forms', () => {
    expect(cases.length).toBeGreaterThan(30);
  });
});

describe('the reason tells', () => {
  const reasons = (chart: string): readonly string[] =>
    readKeys(changesOf(chart)).map((reading) => reading?.reason ?? '');

  it.each([
    ['Dm7 G7 | Cmaj7', 0, 'Dm7 is ii7 of C major: subdominant.'],
    ['Dm7 G7 | Cmaj7', 1, 'G7 is the dominant of C major.'],
    [
      'Dm7 G7 | Am7 | Dm7 G7 | C6',
      1,
      'G7 is the dominant of C major; Am7 comes instead, so the cadence is evaded.',
    ],
    ['Cmaj7 A7 | Dm7 G7', 1, 'A7 is the dominant of D, ii of C major.'],
    ['Dm7 Db7 | Cmaj7', 1, 'Db7 stands for G7, a tritone away, and falls a semitone to C, I of C major.'],
    ['Cmaj7 | Fm7 Bb7 | Cmaj7', 1, 'Fm7 is iv7, borrowed from C minor: subdominant.'],
    [
      'Cmaj7 | Fm7 Bb7 | Cmaj7',
      2,
      'Bb7 is the back door to C major: the dominant on bVII climbs a whole tone to C.',
    ],
    ['C7 | F7 | C7 | G7', 0, 'C7 is I7 of a blues in C: a dominant chord at rest.'],
    ['Cmaj7 | Em7b5 A7 | Dm7 | G7', 1, 'Em7b5 prepares the dominant of D, ii of C major, as ii prepares V.'],
    ['Cmaj7 C#dim7 | Dm7 G7', 1, 'C#dim7 leads by semitone up into Dm7, as vii° of D, ii of C major.'],
    ['Em7 Ebm7 | Dm7 G7 | Cmaj7', 1, 'Ebm7 lies outside C major; it is heard as colour on the way to Dm7.'],
  ])('%s, chord %i: %s', (chart, index, reason) => {
    expect(reasons(chart)[index]).toBe(reason);
  });
});

it('a treatment does not change what a chord is heard as, and silence is heard as nothing', () => {
  const written = changesOf('Dm7 G7 | N.C. | Cmaj7 | %');
  const treated = {
    ...written,
    spans: written.spans.map((span) => (span.written?.text === 'G7' ? { ...span, chord: null } : span)),
  };
  expect(readKeys(treated)).toEqual(readKeys(written));
  expect(readKeys(written).map((reading) => reading?.label ?? null)).toEqual(['ii7', 'V7', null, 'Imaj7']);
});

it('a chart without chords is in C major, for want of anything else', () => {
  expect(homeKey(changesOf('N.C. | %'))).toEqual({ tonic: 'C', mode: 'major' });
  expect(readKeys(changesOf(''))).toEqual([]);
});

it('a home key that is given is believed', () => {
  const written = changesOf('Am7 | Dm7 | G7 | Cmaj7');
  const readings = readKeys(written, { tonic: 'A', mode: 'minor' });
  expect(readings.map((reading) => reading?.label)).toEqual(['i7', 'iv7', 'V7/bIII', 'bIIImaj7']);
});

it('keys that explain a chart equally well are chosen alike in every transposition', () => {
  const labels = (chart: string, tonic: string): readonly unknown[] =>
    readKeys(changesOf(chart), { tonic, mode: 'major' }).map((reading) => reading?.label);
  const chart = 'Fm7 | Db7 | Bb7 | Fm7 | Em7b5 | Dm7';
  const moved = 'Ebm7 | B7 | Ab7 | Ebm7 | Dm7b5 | Cm7';
  expect(labels(moved, 'Bb')).toEqual(labels(chart, 'C'));
  expect(homeKey(changesOf(chart)).mode).toBe(homeKey(changesOf(moved)).mode);
});

it('a vamp is played in the key of its own root, whatever it might lead to', () => {
  expect(vampKey(changesOf('Abb7alt | % | % | %'))).toEqual({ tonic: 'G', mode: 'major' });
  expect(vampKey(changesOf('Dm7 | Dm9 | N.C. | %'))).toEqual({ tonic: 'D', mode: 'minor' });
  expect(vampKey(changesOf('C7 | Gm7 C7'))).toBeNull();
  expect(vampKey(changesOf('N.C.'))).toBeNull();
});
