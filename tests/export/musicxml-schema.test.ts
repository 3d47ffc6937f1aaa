import { describe, expect, it } from 'vitest';
import { bpm, readText, roundChanges } from '../../src/engine/index.ts';
import { writeMusicXml } from '../../src/export/musicxml/index.ts';
import { readPresets } from '../../src/storage/presets.ts';
import { schemaErrors, schemaFolder } from '../helpers/musicxml.ts';
import { SETTINGS } from '../helpers/plan.ts';
import { spellings } from '../helpers/symbols.ts';
import { chartCases } from '../helpers/chart-cases.ts';

/** Every symbol the reader of chords is tested with, four to a bar. */
const SYMBOLS = spellings
  .map(({ symbol }) => symbol)
  .map((symbol, index) => (index % 4 === 3 ? `${symbol} |\n` : symbol))
  .join(' ');

const CHARTS: readonly (readonly [string, string])[] = [
  ...readPresets().map(({ id, project }) => [id, project.text] as const),
  ...chartCases().map(({ name, typed }) => [name, typed] as const),
  ['every-symbol', SYMBOLS],
];

const documents = CHARTS.filter(([, text]) => readText(text).chart.bars.length > 0).flatMap(
  ([name, text]) => {
    const { chart, written } = readText(text);
    const rule = { id: 'a', kind: 'altered', scope: 'every-dominant', bars: null } as const;
    const layers = {
      placed: [],
      rules: [{ ...rule, extent: { type: 'whole' }, when: { type: 'always' } } as const],
    };
    const changes = roundChanges({ written, layers, loop: null, settings: SETTINGS }, 0);
    return (['leave-out', 'words', 'symbols'] as const).map((treatments) => ({
      name: `${name}-${treatments}`,
      document: writeMusicXml(
        { chart, changes },
        { title: name, key: { tonic: 'Eb', mode: 'minor' }, tempo: bpm(143), treatments },
      ),
    }));
  },
);

describe('a lead sheet as MusicXML', () => {
  it('is valid by the schema of MusicXML 4.0, and what is not is told', async (context) => {
    const folder = schemaFolder();
    if (folder === null) {
      return context.skip('the schema of MusicXML 4.0 is not here; MUSICXML_XSD can say where it stands');
    }
    expect(documents.length).toBeGreaterThan(200);
    const [first] = documents;
    const broken = { name: 'broken', document: first!.document.replace('<divisions>', '<division>') };
    expect(await schemaErrors(folder, [broken])).not.toEqual([]);
    const wrong = first!.document.replace(/<kind[^>]*>[^<]*/, '<kind>sharpish');
    expect(await schemaErrors(folder, [{ name: 'wrong', document: wrong }])).not.toEqual([]);
    expect(await schemaErrors(folder, documents)).toEqual([]);
  }, 60_000);
});
