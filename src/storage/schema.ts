import * as v from 'valibot';
import {
  CELLS,
  DRILL_KINDS,
  HANDOUT_PARTS,
  RHYTHMS,
  type DrillKind,
  DROPOUTS,
  KEY_ORDERS,
  TEMPO_RANGE,
  TONE_RANGE,
  TREATMENT_KINDS,
} from '../engine/index.ts';
import { FRACTION, MOST_BEATS } from './beats.ts';

/**
 * The chart file, for people and programs. Bars and beats are counted from 1 as musicians count;
 * beats are quarter notes. Published as JSON Schema in `shared/project-file.schema.json`. The
 * descriptions serve both: they stand in the schema and in the sentence that says what was wrong.
 */

/** The version of the format written here. It grows when an older reader would misread a new file. */
export const FORMAT = 1;

const describe = v.description;
const text = (what: string) => v.pipe(v.string(), describe(what));
const number = (min: number, max: number, what: string) =>
  v.pipe(v.number(), v.minValue(min), v.maxValue(max), describe(what));
const whole = (min: number, max: number, what: string) =>
  v.pipe(v.number(), v.integer(), v.minValue(min), v.maxValue(max), describe(what));
const beats = (min: number, what: string) =>
  v.pipe(
    v.union([
      v.pipe(v.number(), v.minValue(min), v.maxValue(MOST_BEATS)),
      v.pipe(v.string(), v.regex(FRACTION)),
    ]),
    describe(what),
  );

/** More than any chart needs; keeps a hostile file small. */
const MOST_ITEMS = 2000;
const MOST_BARS = 100_000;

const Bar = whole(1, MOST_BARS, 'a bar, counted from 1');
const Beat = beats(1, 'a beat, counted from 1: a number, or a fraction such as "2 1/3"');
const Beats = beats(0, 'a number of beats, or a fraction such as "1 1/3"');
const id = (what: string) => v.pipe(v.string(), v.minLength(1), v.maxLength(100), describe(what));
const Id = id('a name of its own');

const Kind = v.pipe(v.picklist(TREATMENT_KINDS), describe('the colour of a dominant'));

const When = v.pipe(
  v.union([
    v.literal('always'),
    v.object({ every: whole(1, MOST_BARS, 'every how many rounds') }),
    v.object({ chance: number(0, 1, 'how likely in each round') }),
  ]),
  describe('"always", { "every": 2 } for every second round, or { "chance": 0.5 }'),
);

const Extent = v.pipe(
  v.union([v.literal('whole'), v.object({ first: Beats }), v.object({ last: Beats })]),
  describe('"whole", { "first": 2 } or { "last": 2 } beats of the dominant'),
);

export const Treatment = v.object({
  kind: Kind,
  bar: whole(0, MOST_BARS, 'a bar, counted from 1; 0 where its bar has been deleted'),
  beat: Beat,
  beats: Beats,
  when: v.optional(When),
  id: v.optional(Id),
});

export const Rule = v.object({
  kind: Kind,
  on: v.pipe(
    v.picklist(['falling-fifth', 'secondary', 'falling-semitone', 'every-dominant']),
    describe('which dominants'),
  ),
  extent: v.optional(Extent),
  bars: v.optional(v.pipe(v.array(Bar), v.maxLength(MOST_ITEMS), describe('only in these bars of the form'))),
  when: v.optional(When),
  id: v.optional(Id),
});

export const Pick = v.object({ bar: Bar, beat: Beat, scale: Id });

export const Hit = v.object({
  bar: whole(0, MOST_BARS, 'a bar, counted from 1; 0 where its bar has been deleted'),
  beat: Beat,
  sign: v.optional(
    v.pipe(
      v.picklist(['^', '>', '.', '-']),
      describe('"^" short and strong, ">" long and strong, "." short and light, "-" long and light'),
    ),
  ),
  by: v.optional(v.pipe(v.picklist(['band', 'comp']), describe('who plays it: "band" or "comp"'))),
  stop: v.optional(v.pipe(v.boolean(), describe('true when its bar holds nothing but hits'))),
  id: v.optional(Id),
});

const MidiKey = (what: string) => whole(0, 127, what);

export const Drill = v.object({
  kind: v.pipe(
    v.picklist(Object.keys(DRILL_KINDS) as DrillKind[]),
    describe('what is practised, such as "thirds" or "through"'),
  ),
  bar: v.optional(Bar),
  beat: v.optional(Beat),
  rhythm: v.optional(
    v.pipe(v.picklist(Object.keys(RHYTHMS) as (keyof typeof RHYTHMS)[]), describe('the running notes')),
  ),
  direction: v.optional(
    v.pipe(v.picklist(['up', 'down', 'up-down', 'turns']), describe('which way it goes')),
  ),
  accents: v.optional(
    v.pipe(
      v.picklist(['none', 'groups', 'beats', 'off-beats', 'threes']),
      describe('which notes are struck harder'),
    ),
  ),
  start: v.optional(whole(1, 64, 'the beat of the first note, counted from 1')),
  form: v.optional(whole(1, 24, 'the number of a scale form')),
  position: v.optional(whole(0, 36, 'the fret of the index finger')),
  low: v.optional(MidiKey('the lowest pitch, as a MIDI key')),
  high: v.optional(MidiKey('the highest pitch, as a MIDI key')),
  cell: v.optional(v.pipe(v.picklist(Object.keys(CELLS)), describe('a four-note cell such as "1 2 3 5"'))),
  line: v.optional(v.pipe(v.picklist(['third', 'seventh']), describe('on which guide tone a line begins'))),
  seed: v.optional(whole(0, Number.MAX_SAFE_INTEGER, 'a whole number the chance is drawn from')),
  printed: v.optional(v.pipe(v.boolean(), describe('false when the handout leaves it out'))),
  id: v.optional(Id),
});

export const Form = v.object({ bar: Bar, beat: Beat, form: whole(1, 24, 'the number of a scale form') });

export const HandoutFields = {
  without: v.optional(
    v.pipe(
      v.array(v.picklist(HANDOUT_PARTS)),
      v.maxLength(MOST_ITEMS),
      describe(`what is left out, of ${HANDOUT_PARTS.join(', ')}`),
    ),
  ),
  labels: v.optional(
    v.pipe(v.picklist(['degrees', 'names', 'fingers']), describe('what stands in the notes of scale forms')),
  ),
};

/** What a step of a plan may last, minutes. */
export const SHORTEST_STEP = 0.01;
export const LONGEST_STEP = 240;

export const StepFields = {
  title: text('what the step is called'),
  minutes: number(SHORTEST_STEP, LONGEST_STEP, 'how many minutes it lasts, up to 240'),
  goal: v.optional(text('what to listen for')),
  drill: v.optional(id('which of the drills is heard with the band, by its id')),
};

export const LoopFields = { bar: Bar, beat: Beat, beats: Beats };

const Trade = v.object({
  bars: whole(1, MOST_BARS, 'how many bars are left to the player'),
  every: whole(2, MOST_BARS, 'of how many, more than are left'),
  with: v.pipe(v.picklist(['bass-and-drums', 'drums', 'drum-solo']), describe('who goes on meanwhile')),
});

export const BandFields = {
  tempo: v.optional(number(TEMPO_RANGE.min, TEMPO_RANGE.max, 'quarter notes a minute, from 30 to 400')),
  feel: v.optional(v.pipe(v.string(), v.minLength(1), v.maxLength(100), describe('the name of a feel'))),
  swing: v.optional(
    v.pipe(
      v.union([v.literal('with the tempo'), v.pipe(v.number(), v.minValue(1), v.maxValue(4))]),
      describe('"with the tempo", or the long part of the beat over the short, from 1 to 4'),
    ),
  ),
  voicing: v.optional(
    v.pipe(
      v.picklist(['rootless', 'drop-2', 'drop-3', 'shell', 'fourths']),
      describe('how chords are voiced'),
    ),
  ),
  density: v.optional(number(0, 1, 'how busy the comping is, from 0 to 1')),
  intensity: v.optional(number(0, 1, 'how hard the band plays, from 0 to 1')),
  build: v.optional(whole(2, 1000, 'over how many rounds the band rises, 2 or more')),
  time: v.optional(
    v.pipe(
      v.picklist(['half', 'double']),
      describe('"half" or "double": as at that tempo, over the same bars'),
    ),
  ),
  two: v.optional(
    v.pipe(
      v.picklist(['first-round', 'every-other-round', 'first-section']),
      describe('where the band plays in two'),
    ),
  ),
  comping: v.optional(
    v.pipe(v.picklist(['charleston', 'four', 'pads']), describe('the manner of comping, if not mixed')),
  ),
  pedal: v.optional(
    v.pipe(
      v.object({
        on: v.pipe(v.picklist(['root', 'fifth']), describe('which note of the key')),
        where: v.pipe(
          v.picklist(['throughout', 'every-other-round', 'first-section', 'last-section']),
          describe('where the bass holds it'),
        ),
      }),
      describe('a note the bass holds, such as { "on": "fifth", "where": "last-section" }'),
    ),
  ),
  approach: v.optional(v.pipe(v.literal('tritone'), describe('the bass comes by the tritone substitute'))),
  trade: v.optional(
    v.pipe(Trade, describe('bars left to the player, such as { "bars": 4, "every": 8, "with": "drums" }')),
  ),
  chords: v.optional(
    v.pipe(v.picklist(['electric-piano', 'piano', 'guitar']), describe('who plays the chords')),
  ),
  seed: v.optional(
    whole(-Number.MAX_SAFE_INTEGER, Number.MAX_SAFE_INTEGER, 'a whole number the chance is drawn from'),
  ),
};

const tempo = (what: string) => number(TEMPO_RANGE.min, TEMPO_RANGE.max, what);
/** More rounds or bars than anybody practises in one go. */
const MOST_ROUNDS = 1000;

export const PracticeFields = {
  runUp: v.optional(beats(0, 'beats heard before the loop')),
  landing: v.optional(beats(0, 'beats heard after the loop')),
  rest: v.optional(whole(0, 64, 'bars of silence after each round')),
  countIn: v.optional(whole(0, 8, 'bars that count each round in')),
  ladder: v.optional(
    v.pipe(
      v.object({
        from: tempo('the tempo it begins with'),
        to: tempo('the tempo it leads to'),
        step: number(0.5, 400, 'by how much, from 0.5 up'),
        rounds: whole(1, MOST_ROUNDS, 'after how many rounds'),
      }),
      describe('a tempo plan such as { "from": 72, "to": 120, "step": 4, "rounds": 4 }'),
    ),
  ),
  keys: v.optional(
    v.pipe(
      v.object({
        order: v.picklist(KEY_ORDERS),
        rounds: whole(1, MOST_ROUNDS, 'rounds in each key'),
      }),
      describe('an order of keys such as { "order": "falling-fifths", "rounds": 2 }'),
    ),
  ),
  dropout: v.optional(
    v.pipe(
      v.object({
        who: v.picklist(DROPOUTS),
        bars: whole(1, MOST_ROUNDS, 'how many bars'),
        every: whole(2, MOST_ROUNDS, 'of how many, more than are silent'),
      }),
      describe('who is silent in the last bars, such as { "who": "comp", "bars": 4, "every": 8 }'),
    ),
  ),
};

export const LevelFields = {
  level: v.optional(number(0, 1, 'how loud, from 0 to 1')),
  mute: v.optional(v.pipe(v.boolean(), describe('true when it is silent'))),
  solo: v.optional(v.pipe(v.boolean(), describe('true when only it, and others like it, are heard'))),
  pan: v.optional(number(-1, 1, 'where it stands, from -1 (left) to 1 (right)')),
};
const Level = v.optional(v.object(LevelFields));
export const MixFields = { comp: Level, bass: Level, drums: Level, click: Level, lead: Level };

const decibels = (what: string) => v.optional(number(TONE_RANGE.min, TONE_RANGE.max, what));
export const ToneFields = {
  low: decibels('decibels by which the low end is lifted, from -12 to 12'),
  high: decibels('decibels by which the high end is lifted, from -12 to 12'),
};

/** The fields that stand alone. */
export const PlainFields = {
  title: v.optional(text('the name of the chart')),
  chart: v.pipe(
    v.union([v.array(v.string()), v.string()]),
    describe('the changes as typed, one string a line, or one string for all'),
  ),
  key: v.optional(
    v.pipe(v.string(), v.regex(/^[A-G][#b]? (?:major|minor)$/), describe('a key such as "Eb major"')),
  ),
  tags: v.optional(
    v.pipe(v.array(v.string()), v.maxLength(MOST_ITEMS), describe('words to find the chart by')),
  ),
  words: v.optional(text("the teacher's words to the player")),
  source: v.optional(text('where the changes come from')),
  licence: v.optional(text('on which terms the chart may be passed on')),
};

/** The fields that hold lists, whose items are read one by one. */
export const ListFields = {
  treatments: Treatment,
  rules: Rule,
  hits: Hit,
  scales: Pick,
  drills: Drill,
  forms: Form,
};

const list = <T extends v.GenericSchema>(item: T, what: string) =>
  v.optional(v.pipe(v.array(item), v.maxLength(MOST_ITEMS), describe(what)));

export const ProjectFile = v.pipe(
  v.object({
    vampwright: v.pipe(v.literal(FORMAT), describe('the version of this format')),
    ...PlainFields,
    band: v.optional(v.pipe(v.object(BandFields), describe('how the band plays'))),
    treatments: list(Treatment, 'placed by hand over the written bars'),
    rules: list(Rule, 'treatments by rule'),
    hits: list(Hit, 'struck by the band together, over the written bars'),
    loop: v.optional(v.pipe(v.object(LoopFields), describe('the stretch of the form that loops'))),
    practice: v.optional(v.pipe(v.object(PracticeFields), describe('what happens from round to round'))),
    scales: list(Pick, 'scales picked in preference to those suggested, by written bar'),
    drills: list(Drill, 'drills kept with the chart: over the chord at a bar and beat, or over all changes'),
    forms: list(Form, 'scale forms that the handout shows, of the chord at a bar and beat'),
    handout: v.optional(v.pipe(v.object(HandoutFields), describe('how the handout is printed'))),
    step: v.optional(
      v.pipe(v.object(StepFields), describe('what is to be practised, where the chart is a step of a plan')),
    ),
    mix: v.optional(v.pipe(v.object(MixFields), describe('how each part is heard'))),
    tone: v.optional(v.pipe(v.object(ToneFields), describe('the tone of the whole band'))),
  }),
  v.title('Vampwright chart'),
  describe('A lead sheet as text, with what the band makes of it. Fields not named here are kept.'),
);

export { MOST_ITEMS };
export type ProjectFile = v.InferOutput<typeof ProjectFile>;
