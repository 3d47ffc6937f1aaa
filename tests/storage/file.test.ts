import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  beats,
  bpm,
  newProject,
  ticks,
  type Practice,
  type Project,
  usualDrill,
} from '../../src/engine/index.ts';
import { readProject, writeProject } from '../../src/storage/file.ts';

const FIXTURES = new URL('fixtures/', import.meta.url);
const fixture = (name: string) => readFileSync(new URL(name, FIXTURES), 'utf8');

function opened(text: string) {
  const read = readProject(text);
  if (!read.ok) throw new Error(read.error.message);
  return read.value;
}

const NOTHING_PRACTISED: Practice = {
  runUp: ticks(0),
  landing: ticks(0),
  rest: 0,
  countIn: 0,
  ladder: null,
  keys: null,
  dropout: null,
};

/** Spelled out in full, so that no default of the first version can change unnoticed. */
const SMALLEST: Project = {
  id: '',
  title: '',
  text: 'C7alt',
  key: null,
  settings: {
    tempo: bpm(120),
    feel: 'swing',
    swingRatio: null,
    voicing: 'rootless',
    density: 0.5,
    intensity: 0.5,
    seed: 1,
  },
  layers: { placed: [], rules: [] },
  hits: [],
  loop: null,
  practice: NOTHING_PRACTISED,
  scales: [],
  drills: [],
  forms: [],
  handout: { without: [], labels: 'degrees' },
  step: null,
  mix: {
    comp: { level: 0.8, mute: false },
    bass: { level: 0.8, mute: false },
    drums: { level: 0.8, mute: false },
    click: { level: 0.8, mute: true },
  },
  tone: { low: 0, high: 0 },
  tags: [],
  words: '',
  source: '',
  licence: '',
  others: {},
};

const EVERYTHING: Project = {
  id: '',
  title: 'Everything a chart can hold',
  text: '[A] |: Dm7 | G7 | Cmaj7 | % :|\n\n[B] B♭7 / / N.C. | A7alt',
  key: { tonic: 'Eb', mode: 'minor' },
  settings: {
    tempo: bpm(92.5),
    feel: 'swing',
    swingRatio: 1.75,
    voicing: 'drop-2',
    density: 0.25,
    intensity: 0.75,
    seed: -20250301,
  },
  layers: {
    placed: [
      {
        id: 't1',
        kind: 'altered',
        bar: 1,
        at: ticks(40320),
        length: ticks(40320),
        when: { type: 'every', nth: 2 },
      },
      {
        id: 'mine',
        kind: 'tritone-substitute',
        bar: 5,
        at: ticks(26880),
        length: ticks(13440),
        when: { type: 'chance', chance: 0.3 },
      },
    ],
    rules: [
      {
        id: 'r1',
        kind: 'sharp-eleven',
        scope: 'falling-semitone',
        extent: { type: 'last', length: ticks(30240) },
        bars: [4, 8],
        when: { type: 'every', nth: 3 },
      },
      {
        id: 'r2',
        kind: 'flat-nine',
        scope: 'secondary',
        extent: { type: 'first', length: ticks(26880) },
        bars: null,
        when: { type: 'always' },
      },
      {
        id: 'quiet',
        kind: 'plain',
        scope: 'every-dominant',
        extent: { type: 'whole' },
        bars: null,
        when: { type: 'always' },
      },
    ],
  },
  hits: [],
  loop: { bar: 1, at: beats(2), length: beats(6) },
  practice: NOTHING_PRACTISED,
  scales: [{ bar: 4, at: ticks(0), scale: 'lydian-dominant' }],
  drills: [],
  forms: [],
  handout: { without: [], labels: 'degrees' },
  step: null,
  mix: {
    comp: { level: 0.5, mute: false },
    bass: { level: 1, mute: true },
    drums: { level: 0, mute: false },
    click: { level: 0.25, mute: false },
  },
  tone: { low: 0, high: 0 },
  tags: ['lesson 3', 'ii–V–I'],
  words: 'Slowly first.\nThen "in time".',
  source: 'Our own.',
  licence: 'Free to use and to pass on.',
  others: { plan: { steps: [{ minutes: 5, goal: 'thirds' }] } },
};

describe('a chart file of the first version', () => {
  it('with every field means what it says, and is written the same way again', () => {
    const text = fixture('v1/everything.json');
    expect(opened(text).project).toEqual(EVERYTHING);
    expect(JSON.parse(writeProject(EVERYTHING))).toEqual(JSON.parse(text));
  });

  it('with nothing but a chart plays as it always has', () => {
    expect(opened(fixture('v1/smallest.json'))).toEqual({ project: SMALLEST, notices: [] });
  });

  it('typed by hand is read as meant: any order, one string for the chart, thirds to the nearest tick', () => {
    const { project, notices } = opened(fixture('v1/by-hand.json'));
    expect(notices).toEqual([]);
    expect(project.text).toBe('Dm7 G7 | Cmaj7');
    expect(project.layers.placed[1]).toMatchObject({ at: ticks(47040), length: ticks(13440) });
    expect(project.layers.rules[0]).toMatchObject({ extent: { type: 'whole' }, when: { type: 'always' } });
    expect(project.mix.bass).toEqual({ level: 0.8, mute: true });
  });

  it.each(readdirSync(new URL('v1/', FIXTURES)))('%s says only what it does not know', (name) => {
    const { notices } = opened(fixture(`v1/${name}`));
    expect(notices.filter((notice) => notice.place !== 'plan')).toEqual([]);
  });
});

describe('the mix', () => {
  const withMix = (mix: unknown, tone?: unknown) =>
    opened(JSON.stringify({ vampwright: 1, chart: ['C7alt'], mix, tone }));

  it('says who is solo, where each part stands and how the band is tilted, and no more than that', () => {
    const { project, notices } = withMix({ bass: { solo: true, pan: -0.5 } }, { low: 3 });
    expect(notices).toEqual([]);
    expect(project.mix.bass).toEqual({ level: 0.8, mute: false, solo: true, pan: -0.5 });
    expect(project.mix.comp).toEqual({ level: 0.8, mute: false });
    expect(project.tone).toEqual({ low: 3, high: 0 });
    const written = JSON.parse(writeProject(project)) as Record<string, Record<string, unknown>>;
    expect(written['mix']!['bass']).toEqual({ level: 0.8, mute: false, solo: true, pan: -0.5 });
    expect(written['tone']).toEqual({ low: 3, high: 0 });
  });

  it('is taken as usual where a value is none, with a word on each', () => {
    const { project, notices } = withMix({ comp: { pan: 2, solo: 'yes' } }, { high: 40 });
    expect(project.mix.comp).toEqual({ level: 0.8, mute: false });
    expect(project.tone).toEqual({ low: 0, high: 0 });
    expect(notices.map(({ place }) => place)).toEqual(['mix, comp, solo', 'mix, comp, pan', 'tone, high']);
  });
});

describe('what the band leaves to the player', () => {
  const withTrade = (trade: unknown) =>
    opened(JSON.stringify({ vampwright: 1, chart: ['C7alt'], band: { trade, build: 4, time: 'half' } }));

  it('is read and written as it is said', () => {
    const { project, notices } = withTrade({ bars: 4, every: 8, with: 'drum-solo' });
    expect(notices).toEqual([]);
    expect(project.settings).toMatchObject({ build: 4, time: 'half' });
    expect(project.settings.trade).toEqual({ bars: 4, every: 8, goesOn: 'drum-solo' });
    expect(opened(writeProject(project)).project).toEqual(project);
  });

  it.each([
    { bars: 8, every: 8, with: 'drums' },
    { bars: 4, every: 8, with: 'nobody' },
    { bars: 0.5, every: 8, with: 'drums' },
    'fours',
  ])('is said to be wrong and left out: %j', (trade) => {
    const { project, notices } = withTrade(trade);
    expect(project.settings).not.toHaveProperty('trade');
    expect(project.settings.build).toBe(4);
    expect(notices.map(({ place }) => place)).toEqual(['band, trade']);
  });
});

describe('a chart file of a newer version', () => {
  const { project, notices } = opened(fixture('newer.json'));

  it('opens with all that can be understood', () => {
    expect(project.text).toBe('Dm7 | G7 | Cmaj7 | %');
    expect(project.layers.placed.map((item) => [item.id, item.kind, item.length])).toEqual([
      ['t1', 'altered', beats(4)],
    ]);
    expect(project.settings).toEqual(SMALLEST.settings);
    expect(project.loop).toBeNull();
  });

  it('names everything that could not, and its place', () => {
    expect(notices.map((notice) => notice.place)).toEqual([
      'the file',
      'band, brushes',
      'band, tempo',
      'band, voicing',
      'band, feel',
      'treatments, item 1, swell',
      'treatments, item 2, kind',
      'treatments, item 3, beats',
      'loop, section',
      'loop',
      'mix, vibraphone',
      'lights',
    ]);
    expect(notices[2]!.message).toMatch(/from 30 to 400; 500 is not/);
  });

  it('keeps what it does not know beside the rest, for the newer version to find again', () => {
    expect(JSON.parse(writeProject(project))).toHaveProperty('lights', 'dim');
  });
});

describe('text from anywhere', () => {
  const deep = (depth: number) => '['.repeat(depth) + ']'.repeat(depth);
  it.each([
    ['nothing', ''],
    ['a lead sheet', 'Dm7 | G7 | Cmaj7'],
    ['a number', '1'],
    ['null', 'null'],
    ['a list', '[{"vampwright":1}]'],
    ['another program’s object', '{"chart":["C7"]}'],
    ['a version that is none', '{"vampwright":0.5,"chart":[]}'],
    ['a file of which only the first word came', fixture('v1/everything.json').slice(0, 10)],
    ['a million brackets', deep(1_000_000)],
    ['a million brackets in a field', `{"vampwright":1,"chart":[],"x":${deep(1_000_000)}}`],
    ['ten million letters', `{"vampwright":1,"chart":["${'x'.repeat(10_000_000)}"]}`],
  ])('%s is refused with a reason and a remedy', (_, text) => {
    const read = readProject(text);
    expect(read.ok).toBe(false);
    if (!read.ok) expect([read.error.message, read.error.remedy].join(' ')).toMatch(/^[A-Z].+\. [A-Z].+\.$/);
  });

  it('that breaks off gives what came, and names the line', () => {
    const text = fixture('v1/everything.json');
    const { project, notices } = opened(text.slice(0, text.indexOf('N.C.')));
    expect(project).toMatchObject({
      title: EVERYTHING.title,
      text: '[A] |: Dm7 | G7 | Cmaj7 | % :|\n\n[B] B♭7 / / ',
    });
    expect(notices.map(({ place }) => place)).toEqual(['line 7']);
  });

  it('with a comma forgotten gives what stands before it, and names the line', () => {
    const { project, notices } = opened(fixture('v1/everything.json').replace('"drop-2",', '"drop-2"'));
    expect(project).toMatchObject({ text: EVERYTHING.text, key: EVERYTHING.key, settings: { tempo: 92.5 } });
    expect(notices[0]!.place).toMatch(/^line 1[2-4]$/);
  });

  it('cannot reach the prototype of anything', () => {
    const evil =
      '{"vampwright":1,"chart":[],"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}}}';
    const { project, notices } = opened(evil);
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
    expect(Object.getPrototypeOf(project.others)).toBe(Object.prototype);
    expect(Object.keys(project.others)).toEqual(['constructor']);
    expect(notices.map((notice) => notice.place)).toContain('__proto__');
    expect(
      opened('{"vampwright":1,"chart":[],"band":{"__proto__":{"tempo":60}}}').project.settings.tempo,
    ).toBe(120);
  });

  it('with the mark some editors put before it is read', () => {
    expect(opened(`\ufeff${fixture('v1/smallest.json')}`).project).toEqual(SMALLEST);
  });

  it('with two treatments of one name keeps both, under names of their own', () => {
    const item = '{"kind":"altered","bar":1,"beat":1,"beats":1,"id":"t2"}';
    const { project } = opened(`{"vampwright":1,"chart":["C7"],"treatments":[${item},${item},${item}]}`);
    expect(project.layers.placed.map((placed) => placed.id)).toEqual(['t2', 't2-2', 't2-3']);
  });

  it('with a hundred thousand wrong items is answered with a list a person can read', () => {
    const items = Array.from({ length: 100_000 }, () => '{}').join(',');
    const { project, notices } = opened(`{"vampwright":1,"chart":["C7"],"treatments":[${items}]}`);
    expect(project.layers.placed).toEqual([]);
    expect(notices.length).toBeLessThan(50);
    expect(notices.at(-1)!.message).toMatch(/^\d+ more/);
  });
});

describe('the text of a chart in its file', () => {
  it('stands there line by line, as typed', () => {
    const text = writeProject(newProject({ text: '[A] Dm7 | G7\n[B] Cmaj7' }));
    expect(text).toContain('"chart": ["[A] Dm7 | G7", "[B] Cmaj7"]');
  });

  it.each(['', '\n', '\n\n', 'a\r\nb', ' C7 ', '\ud800 half a pair \udc00', '"\\', '𝄆 B♭7 𝄇', '__proto__'])(
    'comes back to the letter: %j',
    (text) => {
      expect(opened(writeProject(newProject({ text, title: text }))).project).toMatchObject({
        text,
        title: text,
      });
    },
  );
});

describe('drills kept with a chart', () => {
  const kept = (drill: object) =>
    opened(JSON.stringify({ vampwright: 1, chart: 'G7alt | C', drills: [drill] }));

  it('need no more than what is practised, and stand over all changes where no bar is named', () => {
    const { project, notices } = kept({ kind: 'through', position: 5 });
    expect(notices).toEqual([]);
    expect(project.drills).toEqual([
      { id: 'd1', place: null, settings: usualDrill('through', 'changes'), printed: true },
    ]);
  });

  it('over a chord name its bar', () => {
    const [drill] = kept({ kind: 'thirds', bar: 1, form: 2, rhythm: 'triplet' }).project.drills;
    expect(drill).toMatchObject({
      place: { bar: 0, at: 0 },
      settings: { kind: 'thirds', rhythm: 'triplet', hand: { type: 'form', number: 2 } },
    });
  });

  it('that cannot be made over what they name are left out with a word', () => {
    const { project, notices } = kept({ kind: 'thirds' });
    expect(project.drills).toEqual([]);
    expect(notices[0]!.place).toBe('drills, item 1, kind');
  });
});
