import {
  TRANSPOSING,
  TREATMENT_KINDS,
  type EarRecord,
  type Part,
  type TransposingId,
  type TreatmentKind,
} from '../engine/index.ts';
import { DEFAULT_KEYS, type ActionName } from './keys/actions.ts';
import { readNeck, USUAL_NECK, type NeckValues } from './neck/settings.ts';

/** How large a drill can be written. */
export const SCORE_SIZES: readonly number[] = [0.8, 1, 1.25, 1.5, 1.75, 2];

export type AlterLength = 'beat' | 'two-beats' | 'bar';

/** How long a tap can alter. */
export const ALTER_LENGTHS: readonly { readonly value: AlterLength; readonly text: string }[] = [
  { value: 'beat', text: '1 beat' },
  { value: 'two-beats', text: '2 beats' },
  { value: 'bar', text: 'A bar' },
];

/** How the notes of a scale can be spelled. */
export const SPELLINGS = [
  { value: 'plain', text: 'Readable' },
  { value: 'degree', text: 'By degree' },
] as const;

/** What the player likes, whatever the chart. */
export interface PreferenceValues {
  readonly theme: 'auto' | 'day' | 'night';
  /** Bars counted in before the music, 0 to 2. */
  readonly countIn: number;
  /** What the band is counted in with. */
  readonly countWith: 'click' | 'sticks';
  readonly alterLength: AlterLength;
  readonly alterKind: TreatmentKind;
  /** Keys and pedals, by action. */
  readonly keys: Readonly<Record<ActionName, readonly string[]>>;
  /** False leaves single letters to the browser and to assistive technology. */
  readonly letterKeys: boolean;
  /** How chord symbols are shown. */
  readonly symbols: 'typed' | 'letters' | 'signs';
  /** How the notes of scales are spelled: by their degree, or readably and without double accidentals. */
  readonly spelling: 'plain' | 'degree';
  /** Shows under each chord what it does in its key. */
  readonly functions: boolean;
  /** Shows at each change of chord which notes move where. */
  readonly targets: boolean;
  /** Shows the row for hits also while there are none. */
  readonly hits: boolean;
  /** Shows what is altered; without it the chart is seen as written, and what sounds is to be heard. */
  readonly colours: boolean;
  /** What was told by ear so far, and what is asked about. */
  readonly ear: EarRecord;
  readonly earKinds: readonly TreatmentKind[];
  /** Minutes of playing after which the page reminds of a rest; 0 never does. */
  readonly restAfter: number;
  /** Says each step of a plan aloud, where the device has a voice. */
  readonly spoken: boolean;
  readonly neck: NeckValues;
  /** Which instrument chords and notes are named for; what sounds and what is typed stay at concert pitch. */
  readonly written: TransposingId;
  /** How late the player is heard in a recording, in whole milliseconds, by the name of the microphone. */
  readonly latencies: Readonly<Record<string, number>>;
  /** What handouts are printed on; the usual paper where the browser's language is spoken. */
  readonly paper: 'usual' | 'a4' | 'letter';
  /** How large a drill is written, 1 being a staff 40 px high; with tablature, and with degrees under the notes. */
  readonly scoreSize: number;
  readonly scoreTab: boolean;
  readonly scoreDegrees: boolean;
  /** Says each chord as it comes, for screen readers. */
  readonly announce: boolean;
  /** Whether the tour is still offered, or was taken or turned down. */
  readonly tour: 'offered' | 'answered';
  /** The MIDI channel of each part on an instrument outside the page, from 1; 0 for one that is not sent. */
  readonly midiChannels: Readonly<Record<Part, number>>;
}

/** Where preferences are kept between visits. */
export interface PreferenceKeeper {
  read(): Partial<PreferenceValues> | null;
  write(values: PreferenceValues): void;
}

const USUAL: PreferenceValues = {
  theme: 'auto',
  countIn: 1,
  countWith: 'click',
  alterLength: 'two-beats',
  alterKind: 'altered',
  keys: DEFAULT_KEYS,
  letterKeys: true,
  symbols: 'letters',
  spelling: 'plain',
  functions: false,
  targets: false,
  hits: false,
  colours: true,
  ear: {},
  earKinds: ['plain', 'altered', 'flat-nine', 'sharp-eleven'],
  restAfter: 25,
  spoken: true,
  neck: USUAL_NECK,
  written: 'concert',
  latencies: {},
  paper: 'usual',
  scoreSize: 1,
  scoreTab: true,
  scoreDegrees: true,
  announce: false,
  tour: 'offered',
  midiChannels: { comp: 1, bass: 2, drums: 10, lead: 3, click: 0 },
};

export class Preferences {
  values: PreferenceValues = $state.raw(USUAL);
  /** True when the player has ever set one on this device. */
  own: boolean;
  readonly #keeper: PreferenceKeeper | undefined;

  constructor(keeper?: PreferenceKeeper) {
    this.#keeper = keeper;
    const kept = keeper?.read() ?? null;
    this.own = kept !== null;
    this.values = sound(kept ?? {});
  }

  /** Takes over what was kept on another device, as far as it is sound. */
  adopt(kept: Readonly<Record<string, unknown>>): void {
    this.set(sound(kept));
  }

  set(change: Partial<PreferenceValues>): void {
    this.values = { ...this.values, ...change };
    this.own = true;
    this.#keeper?.write(this.values);
  }
}

/** What is kept, with the usual value wherever it is not what it should be. */
function sound(kept: Readonly<Record<string, unknown>>): PreferenceValues {
  const taken = Object.entries(USUAL).map(([name, usual]): [string, unknown] => {
    const value: unknown = Object.hasOwn(kept, name) ? kept[name] : undefined;
    const choices = CHOICES[name as keyof PreferenceValues];
    const isSound = choices?.includes(value) ?? (typeof value === typeof usual && value !== null);
    return [name, isSound ? value : usual];
  });
  const values = Object.fromEntries(taken) as unknown as PreferenceValues;
  const midiChannels = soundChannels(values.midiChannels);
  return { ...values, keys: soundKeys(values.keys), midiChannels, neck: readNeck(values.neck) };
}

/** What may stand where not every value of a type may. */
const CHOICES: Readonly<Partial<Record<keyof PreferenceValues, readonly unknown[]>>> = {
  theme: ['auto', 'day', 'night'],
  countIn: [0, 1, 2],
  countWith: ['click', 'sticks'],
  tour: ['offered', 'answered'],
  alterLength: ALTER_LENGTHS.map(({ value }) => value),
  alterKind: TREATMENT_KINDS,
  symbols: ['typed', 'letters', 'signs'],
  spelling: SPELLINGS.map(({ value }) => value),
  written: TRANSPOSING.map(({ id }) => id),
  paper: ['usual', 'a4', 'letter'],
  scoreSize: SCORE_SIZES,
};

function soundKeys(kept: Readonly<Record<string, unknown>>): PreferenceValues['keys'] {
  const areKeys = (keys: unknown) => Array.isArray(keys) && keys.every((key) => typeof key === 'string');
  const entries = Object.entries(DEFAULT_KEYS).map(([name, usual]) => [
    name,
    areKeys(kept[name]) ? kept[name] : usual,
  ]);
  return Object.fromEntries(entries) as PreferenceValues['keys'];
}

function soundChannels(kept: Readonly<Record<string, unknown>>): PreferenceValues['midiChannels'] {
  const entries = Object.entries(USUAL.midiChannels).map(([part, usual]) => {
    const channel = kept[part];
    const isSound = Number.isInteger(channel) && Number(channel) >= 0 && Number(channel) <= 16;
    return [part, isSound ? Number(channel) : usual];
  });
  return Object.fromEntries(entries) as PreferenceValues['midiChannels'];
}
