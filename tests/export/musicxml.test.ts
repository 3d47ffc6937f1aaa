import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import leadSheets from '../../shared/reference/lead-sheet-chords.json' with { type: 'json' };
import kinds from '../../shared/reference/musicxml-kinds.json' with { type: 'json' };
import suite from '../../shared/reference/musicxml-suite-chords.json' with { type: 'json' };
import { bpm, chordPitchClasses, readChart, readText, roundChanges } from '../../src/engine/index.ts';
import { pack, readMusicXml, unpack, writeMusicXml } from '../../src/export/musicxml/index.ts';
import { readPresets } from '../../src/storage/presets.ts';
import { harmonyOf, standardPcs, type Row } from '../helpers/harmonies.ts';
import { readHurtSheets } from '../helpers/hurt-sheets.ts';
import { meaning } from '../helpers/musicxml.ts';
import { SETTINGS } from '../helpers/plan.ts';

/** A foreign document: measures of a part, four quarters each unless they say otherwise. */
const score = (...measures: readonly string[]) =>
  `<?xml version="1.0"?><score-partwise version="3.1">
  <part-list><score-part id="P1"><part-name>Voice</part-name></score-part></part-list>
  <part id="P1">${measures.map((measure, i) => `<measure number="${i + 1}">${measure}</measure>`).join('\n')}</part>
  </score-partwise>`;
const START =
  '<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>';
const note = (quarters: number) =>
  `<note><pitch><step>C</step><octave>4</octave></pitch><duration>${quarters * 2}</duration></note>`;
const chord = (root: string, kind: string, rest = '') =>
  `<harmony><root><root-step>${root}</root-step></root><kind>${kind}</kind>${rest}</harmony>`;
const words = (text: string, more = '') =>
  `<direction><direction-type><words>${text}</words></direction-type>${more}</direction>`;
const repeat = (direction: string, more = '') =>
  `<barline location="${direction === 'forward' ? 'left' : 'right'}">${more}<repeat direction="${direction}"/></barline>`;
const ending = (number: string, type = 'start') => `<ending number="${number}" type="${type}"/>`;

const read = (document: string) => {
  const result = readMusicXml(document);
  if (!result.ok) throw new Error(`${result.error.message} ${result.error.remedy}`);
  return result.value;
};
const textOf = (...measures: readonly string[]) => read(score(...measures)).project.text;
const noticesOf = (document: string) =>
  read(document).notices.map(({ place, message }) => `${place}: ${message}`);

const element = ({ root, kind, degrees, bass }: ReturnType<typeof harmonyOf>) => {
  const step = (of: string, name: string) =>
    `<${of}><${of}-step>${name[0]}</${of}-step><${of}-alter>${name.split('#').length - name.split('b').length}</${of}-alter></${of}>`;
  const listed = degrees.map(
    ({ value, alter, type }) =>
      `<degree><degree-value>${value}</degree-value><degree-alter>${alter}</degree-alter><degree-type>${type}</degree-type></degree>`,
  );
  return `<harmony>${step('root', root)}<kind>${kind}</kind>${bass === null ? '' : step('bass', bass)}${listed.join('')}</harmony>`;
};

describe.each([
  ['the chords of an open lead-sheet set', leadSheets.chords as readonly Row[]],
  ['the chords of a MusicXML test suite', suite.chords as readonly Row[]],
])('%s', (_, rows) => {
  const isChord = ({ kind, degrees }: Row) => kind in kinds.kinds && !degrees.includes('subtract:1');

  it('are imported with the notes the standard says', () => {
    const valid = rows.filter(isChord);
    expect(valid.length).toBeGreaterThan(25);
    for (const row of valid) {
      const harmony = harmonyOf(row);
      const { project, notices } = read(score(START + element(harmony) + note(4)));
      const [slot] = readChart(project.text).bars[0]!.slots;
      expect(notices).toEqual([]);
      expect([slot!.chord?.root, slot!.chord?.bass], JSON.stringify(row)).toEqual([row.root, row.bass]);
      expect([...chordPitchClasses(slot!.chord!)].sort((a, b) => a - b)).toEqual(standardPcs(harmony));
    }
  });

  it('are marked as gaps and reported by their bar where the standard has no notes for them', () => {
    const others = rows.filter((row) => row.kind !== 'none' && !isChord(row));
    expect(others.length).toBeGreaterThan(4);
    for (const row of others) {
      const document = score(START + chord('C', 'major') + note(4), element(harmonyOf(row)) + note(4));
      const { project } = read(document);
      const [, bar] = readChart(project.text).bars;
      expect(bar?.slots[0], project.text).toMatchObject({ chord: null, silence: 'gap' });
      expect(noticesOf(document)).toEqual([expect.stringMatching(/^bar 2: the chord on/)]);
    }
  });
});

describe('a document of another program', () => {
  const bar = (root: string, kind = 'major') => chord(root, kind) + note(4);

  it.each<[string, readonly string[], string]>([
    [
      'chords on their beats',
      [START + chord('D', 'minor-seventh') + note(3) + chord('G', 'dominant') + note(1)],
      '| Dm7 / / G7 |',
    ],
    [
      'a chord placed by an offset',
      [START + chord('D', 'minor') + chord('G', 'dominant', '<offset>4</offset>') + note(4)],
      '| Dm G7 |',
    ],
    [
      'a chord in a second voice',
      [START + bar('C') + '<backup><duration>4</duration></backup>' + chord('G', 'dominant') + note(2)],
      '| C G7 |',
    ],
    [
      'three chords in a bar of four',
      [
        START.replace('2<', '3<') +
          '<note><duration>4</duration></note>'.replace(/^/, chord('C', 'major')) +
          chord('F', 'major') +
          '<note><duration>4</duration></note>' +
          chord('G', 'major') +
          '<note><duration>4</duration></note>',
      ],
      '| C F G |',
    ],
    ['no chord', [START + chord('C', 'none') + note(4), bar('F')], '| N.C. | F |'],
    [
      'bars without a new chord',
      [START + bar('C'), note(4), chord('D', 'minor') + note(2) + chord('G', 'major') + note(2), note(4)],
      '| C | % | Dm G | / / / / |',
    ],
    ['bars before the first chord', [START + note(4), bar('F')], '| N.C. | F |'],
    [
      'a repeat with two endings',
      [
        START + repeat('forward') + bar('C'),
        `<barline location="left">${ending('1')}</barline>` +
          bar('D') +
          repeat('backward', ending('1', 'stop')),
        `<barline location="left">${ending('2')}</barline>` + bar('E'),
        bar('F'),
      ],
      '|: C | 1. D :| 2. E | F |',
    ],
    [
      'a repeat played three times',
      [
        START + repeat('forward') + bar('C'),
        bar('D') + '<barline><repeat direction="backward" times="3"/></barline>',
        bar('E'),
      ],
      '|: C | D :| 3x | E |',
    ],
    [
      'metres',
      [
        START + bar('C'),
        '<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>' +
          chord('D', 'minor') +
          note(3),
        '<attributes><time><beats>3+2</beats><beat-type>8</beat-type></time></attributes>' +
          chord('E', 'minor') +
          note(2.5),
      ],
      '| C | 3/4 Dm | 5/8 Em |',
    ],
    [
      'a rehearsal mark, a double line and words',
      [
        START +
          '<direction><direction-type><rehearsal>A</rehearsal></direction-type></direction>' +
          words('Slowly &amp; free') +
          bar('C') +
          '<barline><bar-style>light-light</bar-style></barline>',
        bar('D'),
      ],
      '[A] | "Slowly & free" C ||\n| D |',
    ],
    [
      'a road map in words',
      [
        START + '<direction><direction-type><segno/></direction-type></direction>' + bar('C'),
        bar('D') + words('To Coda'),
        bar('E') + words('D.S. al Coda'),
        '<direction><direction-type><coda/></direction-type></direction>' + bar('F'),
      ],
      '| Segno C | D To Coda | E D.S. al Coda | Coda F |',
    ],
    [
      'a road map by its sound alone',
      [START + bar('C') + '<sound fine="yes"/>', bar('D') + '<sound dacapo="yes"/>'],
      '| C Fine | D D.C. |',
    ],
    [
      'a coda drawn beside its words',
      [
        START +
          bar('C') +
          '<direction><direction-type><words>To</words></direction-type><direction-type><coda/></direction-type></direction>',
        bar('D') + words('Da Capo al Coda'),
        '<direction><direction-type><coda/></direction-type></direction>' + bar('E'),
      ],
      '| C To Coda | D D.C. al Coda | Coda E |',
    ],
    [
      'a simile mark',
      [
        START + bar('C'),
        '<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes>' +
          note(4),
        '<attributes><measure-style><measure-repeat type="stop"/></measure-style></attributes>' + bar('D'),
      ],
      '| C | % | D |',
    ],
    [
      'an inversion given by number',
      [START + chord('C', 'dominant', '<inversion>3</inversion>') + note(4)],
      '| C7/Bb |',
    ],
  ])('%s', (_, measures, text) => {
    expect(textOf(...measures)).toBe(text);
  });

  it('a pickup without a chord is left out and said; one with a chord is a bar of its own length', () => {
    const pickup = (content: string) =>
      score(START + content, bar('C')).replace('<measure number="1">', '<measure number="0" implicit="yes">');
    expect(read(pickup(note(1))).project.text).toBe('| C |');
    expect(noticesOf(pickup(note(1)))).toEqual(['pickup: it has no chord and was left out']);
    expect(read(pickup(chord('G', 'dominant') + note(1))).project.text).toBe('| 1/4 G7 | 4/4 C |');
  });

  it('a chord between two beats goes to the nearer one, and is reported', () => {
    const document = score(START + chord('C', 'major') + note(2.5) + chord('F', 'major') + note(1.5));
    expect(read(document).project.text).toBe('| C / / F |');
    expect(noticesOf(document)).toEqual(['bar 1: F stands between two beats; it was moved to beat 4']);
  });

  it('the part with most chords is read, and that is said', () => {
    const part = (id: string, content: string) =>
      `<part id="${id}"><measure number="1">${content}</measure></part>`;
    const document = `<score-partwise><part-list><score-part id="a"><part-name>Flute</part-name></score-part><score-part id="b"><part-name>Guitar</part-name></score-part></part-list>${part('a', START + bar('C'))}${part('b', START + chord('D', 'minor') + note(2) + chord('G', 'dominant') + note(2))}</score-partwise>`;
    expect(read(document).project.text).toBe('| Dm G7 |');
    expect(noticesOf(document)).toEqual(['parts: chords were read from Guitar, which has most']);
  });

  it('written time by time reads as written part by part', () => {
    const document = `<score-timewise><part-list/><measure number="1"><part id="P1">${START + bar('C')}</part></measure><measure number="2"><part id="P1">${bar('F', 'dominant')}</part></measure></score-timewise>`;
    expect(read(document).project.text).toBe('| C | F7 |');
  });

  it('title, key and tempo come along', () => {
    const document = score(
      START.replace('<time>', '<key><fifths>-3</fifths><mode>minor</mode></key><time>') +
        '<direction><direction-type><metronome><beat-unit>half</beat-unit><per-minute>c. 96</per-minute></metronome></direction-type></direction>'.replace(
          'c. ',
          '',
        ) +
        bar('C', 'minor'),
    ).replace('<part-list>', '<work><work-title>A  Study</work-title></work><part-list>');
    const { project } = read(document);
    expect([project.title, project.key, project.settings.tempo]).toEqual([
      'A Study',
      { tonic: 'C', mode: 'minor' },
      192,
    ]);
  });

  it.each<[string, string, string]>([
    [
      'a tempo nobody can play',
      START + '<sound tempo="20"/>' + bar('C'),
      'tempo: 20 is out of the band’s reach; it is 30',
    ],
    [
      'an unmeasured bar',
      START.replace(/<time>.*<\/time>/, '<time><senza-misura/></time>') + bar('C'),
      'bar 1: its metre is not one a chart can have; the bars stay in 4/4',
    ],
    [
      'a function instead of a root',
      START + bar('C') + '<harmony><function>V</function><kind>dominant</kind></harmony>',
      'bar 1: a chord named by its function only was left out',
    ],
    [
      'a chord on a chord',
      START +
        '<harmony><root><root-step>C</root-step></root><kind>major</kind><root><root-step>D</root-step></root><kind>major</kind></harmony>' +
        note(4),
      'bar 1: a second chord stacked on the first was left out',
    ],
    [
      'a second chord at one place',
      START + chord('C', 'major') + chord('D', 'minor') + note(4),
      'bar 1: Dm stands at the place of C and was left out',
    ],
    [
      'an alternative',
      START +
        bar('C') +
        '<harmony type="alternate"><root><root-step>D</root-step></root><kind>major</kind></harmony>',
      'bar 1: a second chord symbol, to be played instead, was left out',
    ],
    [
      'a transposing part',
      START.replace('</time>', '</time><transpose><chromatic>-2</chromatic></transpose>') + bar('C'),
      'Voice: it is written for an instrument that transposes; the chords stand as written',
    ],
  ])('%s is reported', (_, measure, notice) => {
    expect(noticesOf(score(measure))).toContain(notice);
  });

  it.each<[string, string, RegExp]>([
    ['nothing', '', /not MusicXML/],
    ['a page of the web', '<!doctype html><html><body>C7</body></html>', /not MusicXML/],
    ['a melody alone', score(START + note(4)), /no chord symbols/],
    ['binary', '\u0000\u0001\ufffd', /not MusicXML/],
  ])('%s is refused with a reason', (_, document, message) => {
    const result = readMusicXml(document);
    expect(result.ok ? 'opened' : result.error.message).toMatch(message);
  });

  it('a file cut off in the middle gives what there is, and says where it breaks', () => {
    const whole = score(START + bar('C'), bar('D'), bar('E'));
    const { project, notices } = read(whole.slice(0, whole.indexOf('<root-step>E')));
    expect(project.text).toMatch(/^\| C \| D \|/);
    expect(notices.at(-1)?.message).toMatch(/damaged/);
  });
});

describe('documents that mean harm', () => {
  const entities = Array.from(
    { length: 20 },
    (_, i) => `<!ENTITY e${i + 1} "&e${i};&e${i};&e${i};&e${i};">`,
  ).join('');
  const laughs = `<!DOCTYPE x [<!ENTITY e0 "ha">${entities}]>`;

  it('entities are never expanded', () => {
    const result = readMusicXml(laughs + score(START + words('&e20;') + chord('C', 'major') + note(4)));
    expect(JSON.stringify(result).length).toBeLessThan(1000);
  });

  it('outside files are never asked for', () => {
    const outside = '<!DOCTYPE x [<!ENTITY file SYSTEM "file:///etc/hostname">]>';
    const result = readMusicXml(outside + score(START + words('&file;') + chord('C', 'major') + note(4)));
    expect(JSON.stringify(result)).not.toMatch(/"text":"\|.*[a-z]{3}/);
    expect(result.ok ? result.value.project.text : '').not.toContain('etc');
  });

  it.each([
    ['nested too deep', '<a>'.repeat(300_000)],
    ['nested too deep inside a score', score(START + '<x>'.repeat(100_000))],
    ['with more elements than any score', `<score-partwise>${'<x/>'.repeat(1_000_000)}`],
    [
      'of millions of attributes',
      `<score-partwise ${Array.from({ length: 100_000 }, (_, i) => `a${i}="1"`).join(' ')}>`,
    ],
    ['longer than any score', `<score-partwise>${' '.repeat(25_000_000)}</score-partwise>`],
  ])('one %s is refused', (_, document) => {
    expect(readMusicXml(document).ok).toBe(false);
  });

  it('names of the language itself are only names', () => {
    const document = score(
      START + words('__proto__') + chord('C', '__proto__') + chord('D', 'constructor') + note(4),
    );
    expect(readChart(read(document).project.text).bars[0]!.slots[0]!.silence).toBe('gap');
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  it('words cannot break out of their quotes', () => {
    const document = score(START + words('a" | D7 | "b') + chord('C', 'major') + note(4));
    expect(readChart(read(document).project.text).bars).toHaveLength(1);
  });
});

describe('our own lead sheet', () => {
  const choices = { title: 'Study', key: null, tempo: bpm(140), treatments: 'leave-out' } as const;

  it.each(readPresets().map(({ id, project }) => [id, project] as const))(
    '%s comes back the same, packed or not',
    (_, project) => {
      const { chart } = readText(project.text);
      const document = writeMusicXml({ chart, changes: null }, { ...choices, key: project.key });
      const unpacked = unpack(pack(document));
      expect(unpacked).toEqual({ ok: true, value: document });
      const { project: back, notices } = read(document);
      expect(notices).toEqual([]);
      expect(meaning(readChart(back.text))).toEqual(meaning(chart));
      expect([back.title, back.settings.tempo, back.key]).toEqual(['Study', 140, project.key]);
    },
  );

  it('shows symbols as typed', () => {
    const typed = '| Cm (maj7) E♭△ | F#m7b5 (B7(b9,#5)) | Bb13/D |';
    const document = writeMusicXml({ chart: readChart(typed), changes: null }, choices);
    const shown = [...document.matchAll(/<kind text="([^"]*)"/g)].map(([, text]) => text);
    expect(shown).toEqual(['m (maj7)', '△', 'm7b5', '7(b9,#5))', '13']);
    expect(document).toContain('<root-step text="(B">B</root-step>');
  });

  it('writes treatments as words below the staff or as second symbols, where a bar first has them', () => {
    const { chart, written } = readText('|: Dm7 | G7 :| Cmaj7 |');
    const rule = { id: 'a', kind: 'altered', scope: 'falling-fifth', bars: null } as const;
    const rules = [{ ...rule, extent: { type: 'whole' }, when: { type: 'always' } }] as const;
    const changes = roundChanges(
      { written, layers: { placed: [], rules }, loop: null, settings: SETTINGS },
      0,
    );
    const as = (treatments: 'leave-out' | 'words' | 'symbols') =>
      writeMusicXml({ chart, changes }, { ...choices, treatments });
    expect(as('leave-out')).not.toMatch(/altered|alternate/);
    expect(as('words').match(/<words>altered<\/words>/g)).toHaveLength(1);
    expect(as('symbols').match(/type="alternate".*?text="7alt"/g)).toHaveLength(1);
    expect(read(as('words')).project.text).toBe('|: Dm7 | G7 :| Cmaj7 |');
    expect(read(as('symbols')).project.text).toBe('|: Dm7 | G7 :| Cmaj7 |');
  });

  it('has no text that XML forbids', () => {
    const document = writeMusicXml(
      { chart: readChart('| "a & <b> \u0001\ud800" C |'), changes: null },
      { ...choices, title: '"<&>\u0000' },
    );
    expect(read(document).project.title).toBe('"<&>');
    expect(read(document).project.text).toBe('| "a & <b>" C |');
  });

  it('cannot be written without a bar', () => {
    expect(() => writeMusicXml({ chart: readChart(''), changes: null }, choices)).toThrow(RangeError);
  });
});

describe('the compressed form', () => {
  const document = score(START + chord('C', 'major') + note(4));
  const container = (path: string) =>
    strToU8(`<container><rootfiles><rootfile full-path="${path}"/></rootfiles></container>`);

  it('names its type first, as the standard wants', () => {
    const bytes = pack(document);
    expect(new TextDecoder().decode(bytes.subarray(30, 72))).toBe(
      'mimetypeapplication/vnd.recordare.musicxml',
    );
  });

  it('opens the score its container names, wherever it stands', () => {
    const other = score(START + chord('D', 'minor') + note(4));
    const files = {
      'META-INF/container.xml': container('scores/b.xml'),
      'a.xml': strToU8(document),
      'scores/b.xml': strToU8(other),
    };
    expect(unpack(zipSync(files))).toEqual({ ok: true, value: other });
  });

  it('opens a score without a container, and says when there is none', () => {
    expect(unpack(zipSync({ 'a.musicxml': strToU8(document) }))).toEqual({ ok: true, value: document });
    expect(unpack(zipSync({ 'a.txt': strToU8('x') }))).toMatchObject({
      ok: false,
      error: { message: /no music/ },
    });
    expect(unpack(pack(document).subarray(0, 100))).toMatchObject({
      ok: false,
      error: { message: /damaged/ },
    });
  });

  it('does not unpack what is larger than any score', () => {
    const bomb = zipSync({ 'a.xml': new Uint8Array(30_000_000) }, { level: 1 });
    expect(bomb.length).toBeLessThan(1_000_000);
    expect(unpack(bomb).ok).toBe(false);
  });

  it('reads the encodings documents say they are in', () => {
    const latin = `<?xml version="1.0" encoding="ISO-8859-1"?>${document.replace(/<\?xml.*?\?>/, '').replace('Voice', 'Flöte')}`;
    const bytes = Uint8Array.from(latin, (letter) => letter.charCodeAt(0));
    expect(unpack(bytes)).toEqual({ ok: true, value: latin });
    const wide = new Uint8Array([
      0xff,
      0xfe,
      ...[...document].flatMap((letter) => [letter.charCodeAt(0), 0]),
    ]);
    expect(unpack(wide)).toEqual({ ok: true, value: document });
  });
});

it('lead sheets hurt on the way are opened as far as they can be, or refused with a reason', () => {
  const { opened, refused, withNotices } = readHurtSheets(200, 1);
  expect(opened + refused).toBe(200);
  expect(Math.min(opened, refused, withNotices)).toBeGreaterThan(10);
});
