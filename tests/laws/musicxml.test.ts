import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bpm, readChart } from '../../src/engine/index.ts';
import { readMusicXml, writeMusicXml } from '../../src/export/musicxml/index.ts';
import { meaning } from '../helpers/musicxml.ts';
import { anyChartText } from '../helpers/typed-charts.ts';

const again = (text: string) => {
  const chart = readChart(text);
  const document = writeMusicXml(
    { chart, changes: null },
    { title: 'Any', key: null, tempo: bpm(120), treatments: 'leave-out' },
  );
  const read = readMusicXml(document);
  if (!read.ok) throw new Error(read.error.message);
  return { chart, document, read: read.value, back: readChart(read.value.project.text) };
};

/** A bar that begins with a chord: a file without any chord is no lead sheet, and is refused. */
const anyChart = anyChartText.filter((text) =>
  readChart(text).bars.some(({ slots }) => slots.some(({ from, to }) => from < to)),
);

describe('any chart through MusicXML', () => {
  it('comes back as the same bars with the same chords, repeats, endings and signs', () => {
    fc.assert(
      fc.property(anyChart, (text) => {
        const { chart, back } = again(text);
        expect(meaning(back)).toEqual(meaning(chart));
      }),
      { numRuns: 100 },
    );
  });

  it('says the same when it is written once more', () => {
    fc.assert(
      fc.property(anyChart, (text) => {
        const first = again(text);
        const second = again(first.read.project.text);
        expect(second.document).toBe(again(second.read.project.text).document);
        expect(second.read.project.text).toBe(first.read.project.text);
      }),
      { numRuns: 30 },
    );
  });
});
