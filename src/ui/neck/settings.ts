import { STANDARD_TUNING, STRINGS, type FormView } from '../../engine/index.ts';

/** What stands beside the ribbon: the fretted neck, or the keys of a piano. */
export type NeckKind = 'neck' | 'keys';
export type NeckLabels = 'names' | 'degrees' | 'fingers';

/** A form that is kept: its number, and the frets it was chosen at. */
export interface KeptForm {
  readonly number: number;
  readonly firstFret: number;
  readonly lastFret: number;
}

/** How the player likes the neck. */
export interface NeckValues {
  /** Null shows it where there is room. */
  readonly shown: boolean | null;
  readonly kind: NeckKind;
  /** Open strings without a capo, from the bass side to the treble side, as MIDI keys. */
  readonly tuning: readonly number[];
  readonly capo: number;
  readonly hand: 'right' | 'left';
  /** Frets apart as on a neck, or all alike. */
  readonly frets: 'real' | 'even';
  /** The frets to show, from and to; null shows what there is room for. */
  readonly range: readonly [number, number] | null;
  readonly labels: NeckLabels;
  readonly notes: 'scale' | 'chord';
  /** Shows how a hand holds the chord that sounds. */
  readonly grip: boolean;
  readonly view: FormView;
  /** For the views of one string or two, the number of the higher one. */
  readonly string: number;
  /** Null shows all notes. */
  readonly form: KeptForm | null;
  /** What a kept form keeps when the chord changes: its place on the neck, or its number. */
  readonly keeps: 'place' | 'number';
}

export const USUAL_NECK: NeckValues = Object.freeze({
  shown: null,
  kind: 'neck',
  tuning: STANDARD_TUNING,
  capo: 0,
  hand: 'right',
  frets: 'real',
  range: null,
  labels: 'names',
  notes: 'scale',
  grip: false,
  view: 'position',
  string: 1,
  form: null,
  keeps: 'place',
});

/** The highest fret there is to show. Common practice. */
export const LAST_FRET = 24;
/** As high as a capo sits with frets left above it. */
export const HIGHEST_CAPO = 12;
/** Fewer frets are no neck. */
export const FEWEST_FRETS = 4;

const CHOICES: Readonly<Partial<Record<keyof NeckValues, readonly unknown[]>>> = {
  shown: [null, true, false],
  kind: ['neck', 'keys'],
  hand: ['right', 'left'],
  frets: ['real', 'even'],
  labels: ['names', 'degrees', 'fingers'],
  notes: ['scale', 'chord'],
  grip: [true, false],
  view: ['position', 'three-per-string', 'two-strings', 'one-string'],
  keeps: ['place', 'number'],
};

/** What was kept of the neck, made good wherever it cannot be: kept values may come from anywhere. */
export function readNeck(kept: unknown): NeckValues {
  const given = (typeof kept === 'object' && kept !== null ? kept : {}) as Partial<
    Record<keyof NeckValues, unknown>
  >;
  const chosen = Object.fromEntries(
    Object.entries(CHOICES).map(([name, allowed]) => {
      const value = given[name as keyof NeckValues];
      return [name, allowed.includes(value) ? value : USUAL_NECK[name as keyof NeckValues]];
    }),
  ) as unknown as NeckValues;
  const tuning = isTuning(given.tuning) ? given.tuning : USUAL_NECK.tuning;
  const whole = (value: unknown, least: number, most: number): value is number =>
    Number.isInteger(value) && (value as number) >= least && (value as number) <= most;
  const range = given.range as readonly [unknown, unknown] | null | undefined;
  const form = given.form as KeptForm | null | undefined;
  return {
    ...chosen,
    tuning,
    capo: whole(given.capo, 0, HIGHEST_CAPO) ? given.capo : 0,
    string: whole(given.string, 1, tuning.length) ? given.string : 1,
    range:
      Array.isArray(range) &&
      whole(range[0], 0, LAST_FRET - FEWEST_FRETS) &&
      whole(range[1], range[0] + FEWEST_FRETS, LAST_FRET)
        ? [range[0], range[1]]
        : null,
    form:
      typeof form === 'object' &&
      form !== null &&
      whole(form.number, 1, 12) &&
      whole(form.firstFret, 0, LAST_FRET) &&
      whole(form.lastFret, form.firstFret, LAST_FRET)
        ? form
        : null,
  };
}

function isTuning(value: unknown): value is readonly number[] {
  return (
    Array.isArray(value) &&
    value.length >= STRINGS.least &&
    value.length <= STRINGS.most &&
    value.every((key) => Number.isInteger(key) && key >= 21 && key <= 88)
  );
}
