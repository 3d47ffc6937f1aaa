import fc from 'fast-check';
import {
  bpm,
  CELLS,
  DRILL_KINDS,
  midi,
  type DrillKind,
  type KeptDrill,
  DELETED_BAR,
  DROPOUTS,
  FEELS,
  HANDOUT_PARTS,
  KEY_ORDERS,
  newProject,
  PPQ,
  ticks,
  TREATMENT_KINDS,
  type Project,
} from '../../src/engine/index.ts';

const anyText = fc.string({ unit: 'binary', maxLength: 60 });
const fraction = fc.double({ min: 0, max: 1, noNaN: true }).map((value) => value + 0);
const bar = fc.nat({ max: 200 });
const at = fc.nat({ max: 400 * PPQ }).map(ticks);
const length = fc.integer({ min: 1, max: 400 * PPQ }).map(ticks);
const id = fc.string({ minLength: 1, maxLength: 12 });
const when = fc.oneof(
  fc.constant({ type: 'always' as const }),
  fc.record({ type: fc.constant('every' as const), nth: fc.integer({ min: 1, max: 99 }) }),
  fc.record({ type: fc.constant('chance' as const), chance: fraction }),
);
const extent = fc.oneof(
  fc.constant({ type: 'whole' as const }),
  fc.record({ type: fc.constantFrom('first', 'last'), length }),
);
const placedBar = fc.oneof({ weight: 9, arbitrary: bar }, { weight: 1, arbitrary: fc.constant(DELETED_BAR) });
const placed = fc.record({ id, kind: fc.constantFrom(...TREATMENT_KINDS), bar: placedBar, at, length, when });
const rule = fc.record({
  id,
  kind: fc.constantFrom(...TREATMENT_KINDS),
  scope: fc.constantFrom('falling-fifth', 'secondary', 'falling-semitone', 'every-dominant'),
  extent,
  bars: fc.option(fc.array(fc.integer({ min: 1, max: 200 }), { maxLength: 4 })),
  when,
});
const hit = fc.record({
  id,
  bar: placedBar,
  at,
  accent: fc.constantFrom('strong', 'light'),
  length: fc.constantFrom('short', 'long'),
  by: fc.constantFrom('band', 'comp'),
  stop: fc.boolean(),
});
const drill = fc
  .record({
    over: fc.constantFrom('chord' as const, 'changes' as const),
    id,
    bar,
    at,
    pick: fc.nat({ max: 100 }),
    rhythm: fc.constantFrom('quarter', 'eighth', 'triplet', 'sixteenth'),
    direction: fc.constantFrom('up', 'down', 'up-down', 'turns'),
    accents: fc.constantFrom('none', 'groups', 'beats', 'off-beats', 'threes'),
    startBeat: fc.integer({ min: 1, max: 12 }),
    hand: fc.oneof(
      fc.constant({ type: 'free' as const }),
      fc.record({ type: fc.constant('form' as const), number: fc.integer({ min: 1, max: 7 }) }),
      fc.record({ type: fc.constant('position' as const), fret: fc.nat({ max: 24 }) }),
    ),
    range: fc.option(
      fc
        .tuple(fc.nat({ max: 90 }), fc.nat({ max: 30 }))
        .map(([low, size]) => ({ low: midi(low), high: midi(low + size) })),
    ),
    cell: fc.constantFrom(...Object.keys(CELLS)),
    line: fc.constantFrom('third', 'seventh'),
    seed: fc.nat(),
    printed: fc.boolean(),
  })
  .map(({ over, id: name, bar: in_, at: on, pick, printed, ...rest }): KeptDrill => {
    const kinds = (Object.keys(DRILL_KINDS) as DrillKind[]).filter((kind) =>
      DRILL_KINDS[kind].over.includes(over),
    );
    const settings = { kind: kinds[pick % kinds.length]!, ...rest };
    return { id: name, place: over === 'chord' ? { bar: in_, at: on } : null, settings, printed };
  });
const form = fc.record({ bar, at, form: fc.integer({ min: 1, max: 7 }) });
const level = fc
  .record({
    level: fraction,
    mute: fc.boolean(),
    solo: fc.boolean(),
    pan: fc.option(fc.double({ min: -1, max: 1, noNaN: true }).map((pan) => pan + 0)),
  })
  .map(({ solo, pan, ...plain }) => ({ ...plain, ...(solo && { solo }), ...(pan !== null && { pan }) }));
const shelf = fc.integer({ min: -12, max: 12 });
const tone = fc.record({ low: shelf, high: shelf });
const rounds = fc.integer({ min: 1, max: 64 });
const tempo = fc.integer({ min: 30, max: 400 }).map(bpm);
const practice = fc.record({
  runUp: fc.nat({ max: 64 * PPQ }).map(ticks),
  landing: fc.nat({ max: 64 * PPQ }).map(ticks),
  rest: fc.nat({ max: 8 }),
  countIn: fc.nat({ max: 2 }),
  ladder: fc.option(fc.record({ from: tempo, to: tempo, step: fc.integer({ min: 1, max: 40 }), rounds })),
  keys: fc.option(fc.record({ order: fc.constantFrom(...KEY_ORDERS), rounds })),
  dropout: fc.option(
    fc.record({ who: fc.constantFrom(...DROPOUTS), bars: rounds, every: fc.integer({ min: 65, max: 99 }) }),
  ),
});

/** Settings that may be left out. */
const moreSettings = fc.record(
  {
    chords: fc.constantFrom('electric-piano', 'piano', 'guitar'),
    time: fc.constantFrom('half', 'double'),
    two: fc.constantFrom('first-round', 'every-other-round', 'first-section'),
    comping: fc.constantFrom('charleston', 'four', 'pads'),
    pedal: fc.record({
      on: fc.constantFrom('root', 'fifth'),
      where: fc.constantFrom('throughout', 'every-other-round', 'first-section', 'last-section'),
    }),
    approach: fc.constant('tritone' as const),
    trade: fc.record({
      bars: fc.integer({ min: 1, max: 16 }),
      every: fc.integer({ min: 17, max: 64 }),
      goesOn: fc.constantFrom('bass-and-drums', 'drums', 'drum-solo'),
    }),
    build: fc.integer({ min: 2, max: 1000 }),
  },
  { requiredKeys: [], noNullPrototype: true },
);

/** A line of music as it is typed, so that the text in a project looks like a chart. */
const musicText = fc
  .array(fc.constantFrom('|', 'Dm7', 'G7alt', 'Cmaj7', 'B♭', '%', '\n', '\r\n', '[A]', '/', ' ', '3/4', 'ø'))
  .map((signs) => signs.join(' '));

const json = fc
  .jsonValue({ maxDepth: 3 })
  // JSON has no minus nought, and the reader lets no `__proto__` in.
  .map((value) => JSON.parse(JSON.stringify(value).replaceAll('__proto__', 'proto')) as unknown);

/** Any project a player could have made, and fields a newer version could have added. */
export const anyProject: fc.Arbitrary<Project> = fc
  .record({
    title: anyText,
    text: fc.oneof(musicText, anyText),
    key: fc.option(
      fc.record({
        tonic: fc.constantFrom('C', 'Eb', 'F#', 'Cb', 'B#'),
        mode: fc.constantFrom('major', 'minor'),
      }),
    ),
    settings: fc.record({
      tempo: fc.double({ min: 30, max: 400, noNaN: true }).map(bpm),
      feel: fc.constantFrom(...FEELS.keys()),
      swingRatio: fc.option(fc.double({ min: 1, max: 4, noNaN: true })),
      voicing: fc.constantFrom('rootless', 'drop-2', 'drop-3', 'shell', 'fourths'),
      density: fraction,
      intensity: fraction,
      seed: fc.maxSafeInteger(),
    }),
    more: moreSettings,
    layers: fc.record({
      placed: fc.uniqueArray(placed, { selector: (item) => item.id, maxLength: 6 }),
      rules: fc.uniqueArray(rule, { selector: (item) => item.id, maxLength: 4 }),
    }),
    hits: fc.uniqueArray(hit, { selector: (item) => item.id, maxLength: 4 }),
    loop: fc.option(fc.record({ bar, at, length })),
    practice,
    scales: fc.array(fc.record({ bar, at, scale: id }), { maxLength: 4 }),
    drills: fc.uniqueArray(drill, { selector: (item) => item.id, maxLength: 3 }),
    forms: fc.array(form, { maxLength: 3 }),
    handout: fc.record({
      without: fc.uniqueArray(fc.constantFrom(...HANDOUT_PARTS)),
      labels: fc.constantFrom('degrees', 'names', 'fingers'),
    }),
    step: fc.option(
      fc.record({
        title: anyText,
        minutes: fc.oneof(fc.integer({ min: 1, max: 240 }), fc.double({ min: 0.01, max: 240, noNaN: true })),
        goal: anyText,
        drill: fc.option(fc.nat({ max: 2 })),
      }),
    ),
    mix: fc.record(
      { comp: level, bass: level, drums: level, click: level, lead: level },
      { requiredKeys: ['comp', 'bass', 'drums', 'click'], noNullPrototype: true },
    ),
    tone,
    tags: fc.array(anyText, { maxLength: 4 }),
    words: anyText,
    source: anyText,
    licence: anyText,
    others: fc.dictionary(
      fc.string({ minLength: 1 }).map((name) => `new ${name}`),
      json,
      {
        maxKeys: 3,
        noNullPrototype: true,
      },
    ),
  })
  .map(({ more, step, ...fields }) =>
    newProject({
      ...fields,
      settings: { ...fields.settings, ...more },
      step: step && { ...step, drill: fields.drills[step.drill ?? -1]?.id ?? null },
    }),
  );
