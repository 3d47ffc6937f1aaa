import type { BandSettings, PlacedHit } from './band/index.ts';
import type { KeptDrill } from './drills/index.ts';
import type { Changes, NoteName } from './harmony/index.ts';
import { NO_PRACTICE, type Practice, type Stretch } from './practice/index.ts';
import type { TreatmentLayers } from './treatment/index.ts';
import { bpm, ticks, type ByPart, type Part, type Ticks } from './units/index.ts';

/** The key a chart is at home in. */
export interface HomeKey {
  /** One letter, at most one accidental, e.g. "Eb". */
  readonly tonic: NoteName;
  readonly mode: 'major' | 'minor';
}

/** How a part is heard in the mix. */
export interface Level {
  /** 0 (silent) to 1 (full); a fader position, not a gain factor. */
  readonly level: number;
  readonly mute: boolean;
  /** While any part is solo, only solo parts are heard. */
  readonly solo?: boolean;
  /** -1 (left) to 1 (right); the part's own place where left out. */
  readonly pan?: number;
}

/** The lead is heard as {@link levelOf} says where it is left out. */
export type Mix = ByPart<Level>;

/** How loud a part is heard; the lead as first set where nothing is said of it. */
export const levelOf = (mix: Mix, part: Part): Level => mix[part] ?? { level: 0.8, mute: false };

/** Shelves over the whole band, in dB, each within {@link TONE_RANGE}. */
export interface Shelves {
  readonly low: number;
  readonly high: number;
}

/** How far a shelf may be turned down and up, dB; our choice: what a simple amplifier offers. */
export const TONE_RANGE = { min: -12, max: 12 } as const;

/** Shelves that change nothing. */
export const FLAT: Shelves = Object.freeze({ low: 0, high: 0 });

export const isFlat = ({ low, high }: Shelves): boolean => low === 0 && high === 0;

/**
 * The band as it first sounds, and what a file or link means that is silent about it, so that it never
 * changes. Our choice: every part at the same fader below full, so that each can come forward; the click
 * silent.
 */
export const FIRST_MIX: Mix = Object.freeze({
  comp: Object.freeze({ level: 0.8, mute: false }),
  bass: Object.freeze({ level: 0.8, mute: false }),
  drums: Object.freeze({ level: 0.8, mute: false }),
  click: Object.freeze({ level: 0.8, mute: true }),
});

/**
 * Where each part stands when nobody has moved it, -1 (left) to 1 (right). Our choice: bass and click in
 * the middle, chords, kit and line a little to either side, so that headphones have width and one ear misses
 * nothing.
 */
export const USUAL_PAN: Readonly<Record<Part, number>> = Object.freeze({
  comp: -0.22,
  bass: 0,
  drums: 0.12,
  click: 0,
  lead: 0.22,
});

/** The stretch that loops, by the bars as played, so that it stays where it is when a metre changes. */
export interface Loop {
  /** Index of the bar of the form, counted from 0. */
  readonly bar: number;
  /** From the start of that bar. */
  readonly at: Ticks;
  /** More than 0; may reach beyond the bar. */
  readonly length: Ticks;
}

/** A scale the player has picked for a place, in preference to the one suggested. */
export interface ScalePick {
  /** Index of the written bar. */
  readonly bar: number;
  /** From the start of that bar. */
  readonly at: Ticks;
  /** Key into the scale table, e.g. "altered". */
  readonly scale: string;
}

/** A scale form the handout shows: of the chord at a written place. */
export interface PrintedForm {
  /** Index of the written bar. */
  readonly bar: number;
  /** From the start of that bar. */
  readonly at: Ticks;
  /** The number of the form. */
  readonly form: number;
}

/** What a handout is made of, in its order. */
export const HANDOUT_PARTS = ['code', 'words', 'chart', 'scales', 'forms', 'drills'] as const;
export type HandoutPart = (typeof HANDOUT_PARTS)[number];

/** How the handout is printed. */
export interface Handout {
  /** What is left out of it. */
  readonly without: readonly HandoutPart[];
  /** What stands in the notes of its scale forms. */
  readonly labels: 'degrees' | 'names' | 'fingers';
}

/** A handout with everything on it. Our choice: degrees, because they are the same in every key. */
export const WHOLE_HANDOUT: Handout = Object.freeze({ without: Object.freeze([]), labels: 'degrees' });

/** One thing to practise for a while: what a plan says of a step, beside its chart. */
export interface PracticeStep {
  readonly title: string;
  /** How long it is practised, more than 0. */
  readonly minutes: number;
  /** What to listen for, in one sentence. */
  readonly goal: string;
  /** The drill of its chart that is heard with the band, by its id; null where the band plays by itself. */
  readonly drill: string | null;
}

/** A chart and everything set about it: what is kept, and what is handed over. Never computed notes. */
export interface Project {
  /** Its name in the device's library; empty where it has none. Never part of a file or a link. */
  readonly id: string;
  readonly title: string;
  /** The chart as typed. */
  readonly text: string;
  /** Null leaves the key to the changes. */
  readonly key: HomeKey | null;
  readonly settings: BandSettings;
  readonly layers: TreatmentLayers;
  /** Struck by the band together. */
  readonly hits: readonly PlacedHit[];
  /** Null plays the whole form. */
  readonly loop: Loop | null;
  readonly practice: Practice;
  readonly scales: readonly ScalePick[];
  /** What is practised on it. */
  readonly drills: readonly KeptDrill[];
  /** The scale forms of its handout; where there are none, those of the first dominant that is coloured. */
  readonly forms: readonly PrintedForm[];
  readonly handout: Handout;
  /** What is to be practised on it, where it is a step of a plan; null where it is a chart by itself. */
  readonly step: PracticeStep | null;
  readonly mix: Mix;
  readonly tone: Shelves;
  /** Words to find it by. */
  readonly tags: readonly string[];
  /** The teacher's words to the player. */
  readonly words: string;
  /** Where the changes come from, e.g. "common form". */
  readonly source: string;
  /** Under which terms the chart may be passed on; empty when nothing is said. */
  readonly licence: string;
  /** What a newer version has written beside it: kept as it came, used for nothing here. */
  readonly others: Readonly<Record<string, unknown>>;
}

/** Something in stored or received data that could not be taken as it stands. The rest was. */
export interface Notice {
  /** Where, e.g. "treatments, item 2". */
  readonly place: string;
  /** What is wrong and what was done about it. */
  readonly message: string;
}

/** A project from outside, and what of it could not be understood. */
export interface Opened {
  readonly project: Project;
  readonly notices: readonly Notice[];
}

/** Why something kept or received cannot be had. */
export interface Trouble {
  /** What is wrong. */
  readonly message: string;
  /** What to do about it. */
  readonly remedy: string;
}

/**
 * A project with nothing typed. These values are also what a file or link of the first version means
 * where it is silent, so they never change. Our choice: a medium tempo, everything at the middle.
 * @param set what shall be otherwise
 */
export function newProject(set: Partial<Project> = {}): Project {
  return {
    id: '',
    title: '',
    text: '',
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
    practice: NO_PRACTICE,
    scales: [],
    drills: [],
    forms: [],
    handout: WHOLE_HANDOUT,
    step: null,
    mix: FIRST_MIX,
    tone: FLAT,
    tags: [],
    words: '',
    source: '',
    licence: '',
    others: {},
    ...set,
  };
}

/**
 * Where a loop lies on the form's beat line, cut to the form; null when the form has no such bar any more.
 * @param written the changes of the whole form
 */
export function stretchOf(loop: Loop, written: Changes): Stretch | null {
  const bar = written.bars[loop.bar];
  if (bar === undefined) return null;
  const from = ticks(bar.start + loop.at);
  const to = ticks(Math.min(from + loop.length, written.length));
  return from < to ? { from, to } : null;
}

/**
 * The loop that covers a stretch of the form's beat line.
 * @param written the changes of the whole form
 * @throws RangeError when the stretch is empty or begins outside the form
 */
export function loopOf(stretch: Stretch, written: Changes): Loop {
  const bar = written.bars.findLastIndex((played) => played.start <= stretch.from);
  if (bar < 0 || stretch.from >= written.length || stretch.to <= stretch.from) {
    throw new RangeError(`no loop from ${stretch.from} to ${stretch.to} in ${written.length} ticks`);
  }
  const at = ticks(stretch.from - written.bars[bar]!.start);
  return { bar, at, length: ticks(stretch.to - stretch.from) };
}
