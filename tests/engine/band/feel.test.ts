import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import swing from '../../../presets/feels/swing.json' with { type: 'json' };
import { FEELS, readFeel } from '../../../src/engine/index.ts';
import { FEEL_FILES } from '../../../src/engine/band/feel-files.ts';
import { readFeels } from '../../../src/engine/band/feels.ts';
import { feelFiles, listOf } from '../../../src/tools/feels.mjs';
import { readHits } from '../../../src/engine/band/notation.ts';

describe('a rhythm in writing', () => {
  it('says beat, place, length, weight and what', () => {
    expect(readHits("1- 2&.> 4a'=R")).toEqual([
      { pulse: 0, place: '', length: 'held', weight: 'plain', what: null },
      { pulse: 1, place: '&', length: 'short', weight: 'accent', what: null },
      { pulse: 3, place: 'a', length: 'plain', weight: 'ghost', what: 'R' },
    ]);
  });

  it('may be silent', () => {
    expect(readHits('')).toEqual([]);
  });

  it.each(['0', '1x', 'x', '1>.', '1=', '&'])('cannot be read from "%s"', (text) => {
    expect(readHits(text)).toEqual({ unread: text });
  });
});

describe('a feel', () => {
  const damaged = (change: (feel: Record<string, unknown>) => void) => {
    const copy = structuredClone(swing) as unknown as Record<string, unknown>;
    change(copy);
    const read = readFeel(copy);
    return read.ok ? 'read' : read.error;
  };

  it.each([null, 7, 'swing', [], {}])('is not read from %j', (data) => {
    expect(readFeel(data).ok).toBe(false);
  });

  it('names the field that is wrong', () => {
    expect(damaged((feel) => delete feel['source'])).toBe('source must be text');
    expect(damaged((feel) => (feel['kit'] = 'spoons'))).toBe('kit must be one of sticks, brushes');
    expect(damaged((feel) => (feel['swing'] = 9))).toContain('swing must be a number from 1 to 4');
    expect(damaged((feel) => (feel['comp'] = []))).toBe('comp must be an object');
  });

  it('names the rhythm that cannot be read, and the beat that is not there', () => {
    const cells = (text: string) => (feel: Record<string, unknown>) => {
      (feel['bass'] as { cells: unknown }).cells = { '2': [{ name: 'odd', hits: text }] };
    };
    expect(damaged(cells('1 two'))).toBe('bass.cells.2[0].hits: "two" is no hit');
    expect(damaged(cells('1 3'))).toBe('bass.cells.2[0].hits: beat 3 lies beyond 2 beats');
  });

  it('may not lean on one that is not there, nor share its name', () => {
    const leaning = { ...swing, id: 'other', otherwise: 'nothing' };
    expect(readFeels([leaning])).toEqual({
      ok: false,
      error: 'other leans on "nothing", which is not there',
    });
    expect(readFeels([swing, swing])).toEqual({ ok: false, error: 'two feels are called "swing"' });
  });
});

describe('a feel in the folder', () => {
  const folder = new URL('../../../presets/feels/', import.meta.url);
  const load = (name: string) => JSON.parse(readFileSync(new URL(name, folder), 'utf8')) as { id: string };
  const schema = JSON.parse(
    readFileSync(new URL('../../../shared/feel.schema.json', import.meta.url), 'utf8'),
  ) as object;
  const isFeel = new Ajv().compile(schema);

  it.each(feelFiles())('is as the published schema says: %s', (name) => {
    expect(isFeel(load(name)), JSON.stringify(isFeel.errors)).toBe(true);
    expect(`${load(name).id}.json`).toBe(name);
  });

  it('is known to the band, each of them', () => {
    expect([...FEELS.keys()].sort()).toEqual(
      feelFiles()
        .map((name) => load(name).id)
        .sort(),
    );
  });

  it('is picked up when its file is put there: the list of files is that of the folder', () => {
    const list = readFileSync(new URL('../../../src/engine/band/feel-files.ts', import.meta.url), 'utf8');
    expect(list).toBe(listOf(feelFiles()));
    const more = mkdtempSync(join(tmpdir(), 'feels-'));
    writeFileSync(join(more, 'samba.json'), '{}');
    writeFileSync(join(more, 'README.md'), '');
    expect(feelFiles(more)).toEqual(['samba.json']);
    expect(listOf(feelFiles(more))).toContain("from '../../../presets/feels/samba.json' with");
    rmSync(more, { recursive: true });
  });

  it('needs no more than its own figures: a new one leans on another for the rest', () => {
    const samba = {
      id: 'samba',
      name: 'Samba',
      source: 'made up for this test',
      swing: 'straight',
      kit: 'sticks',
      otherwise: 'bossa',
      comp: { anticipate: 1, level: 60, cells: { '2': [{ name: 'off-beats', hits: '1& 2&' }] } },
      bass: { level: 80, cells: {} },
      drums: { voices: [{ name: 'bass drum', keys: [36], level: 50, role: 'time', cells: {} }] },
    };
    expect(isFeel(samba), JSON.stringify(isFeel.errors)).toBe(true);
    const feels = readFeels([...FEEL_FILES, samba]);
    const read = feels.ok ? feels.value.get('samba') : undefined;
    expect([...(read?.comp.cells.keys() ?? [])].sort()).toEqual([2, 3, 4]);
    expect(read?.bass.cells.get(4)).toEqual(FEELS.get('bossa')!.bass.cells.get(4));
    expect(feels.ok && [...feels.value.keys()].at(-1)).toBe('samba');
  });

  it('may not lean in a ring', () => {
    const [one, two] = ['one', 'two'].map((id, index) => ({
      ...swing,
      id,
      otherwise: ['two', 'one'][index],
    }));
    expect(readFeels([swing, one, two])).toEqual({
      ok: false,
      error: 'two leans on "one", which leans on it',
    });
  });

  it.each([
    ['a field the band does not know', { tempo: 120 }],
    ['no source', { source: '' }],
    [
      'a rhythm that cannot be read',
      { bass: { level: 80, cells: { '4': [{ name: 'odd', hits: '1 two' }] } } },
    ],
    [
      'a drum that is none',
      { drums: { voices: [{ name: 'x', keys: [99], level: 1, role: 'time', cells: {} }] } },
    ],
  ])('with %s is refused by the schema', (_, change) => {
    expect(isFeel({ ...swing, ...change })).toBe(false);
  });
});

it('the feels are the same, in the same order, whether all are read at once or each when it is asked for', () => {
  const feels = readFeels(FEEL_FILES);
  expect(feels.ok && [...feels.value.keys()]).toEqual([...FEELS.keys()]);
  for (const [id, feel] of feels.ok ? feels.value : []) expect({ ...FEELS.get(id) }, id).toEqual(feel);
});

describe.each([...FEELS.values()])('the feel $id', (feel) => {
  const tables = [
    feel.comp.cells,
    feel.bass.cells,
    feel.drums.fills,
    ...feel.drums.voices.map((voice) => voice.cells),
  ];

  it('knows what to play in groups of two, three and four', () => {
    for (const table of tables) {
      for (const size of [2, 3, 4]) expect(table.get(size)?.length ?? 0).toBeGreaterThan(0);
    }
  });

  it('has a bass and a cymbal at every intensity and tempo', () => {
    for (const intensity of [0, 0.2, 0.5, 0.7, 0.7001, 0.75, 0.7501, 1]) {
      for (const tempo of [30, 90, 150, 250, 400]) {
        for (const table of [feel.bass.cells, feel.drums.voices[0]!.cells]) {
          for (const place of ['first', 'second']) {
            for (const size of [2, 3, 4]) {
              const playable = (table.get(size) ?? []).filter(
                (cell) =>
                  intensity >= cell.intensity[0] &&
                  intensity <= cell.intensity[1] &&
                  tempo >= cell.tempo[0] &&
                  tempo <= cell.tempo[1] &&
                  (cell.place ?? place) === place,
              );
              expect(playable.length, `${size} at ${tempo}, ${intensity}`).toBeGreaterThan(0);
            }
          }
        }
      }
    }
  });

  it('says where it comes from', () => {
    expect(feel.source).toMatch(/common practice|published|computed|from memory|our choice/);
    expect(feel.source).toMatch(/our choice, because/);
  });

  it('has at least eight comping rhythms that differ in where they strike', () => {
    const size = Math.max(...[...feel.comp.cells.keys()].filter((pulses) => pulses <= 5));
    const own = ['jazz-waltz', 'waltz-in-one'].includes(feel.id) ? 3 : size;
    const rhythms = (feel.comp.cells.get(own) ?? []).map(({ hits }) =>
      hits.map((hit) => `${hit.pulse}${hit.place}`).join(' '),
    );
    expect(new Set(rhythms).size).toBeGreaterThanOrEqual(8);
  });
});
