/** What is baked: each recipe becomes one file of one-shots and one entry of the manifest. */
export interface Recipe {
  readonly name: string;
  readonly preset: Preset;
  /** MIDI key numbers. */
  readonly keys: readonly number[];
  /** 1 folds a source that is one channel panned by key; 2 keeps both. */
  readonly channels: 1 | 2;
  /** The longest a sound lasts, in seconds; `longest` holds exceptions by key. */
  readonly seconds: number;
  readonly longest?: Readonly<Record<number, number>>;
  /** Over how many seconds the end is faded where the source still rings. */
  readonly fade: number;
  /** Pitched sounds are tuned by measure and evened in level over the keys. */
  readonly pitched: boolean;
  /** The recording's pitch moves by tens of cents after the attack and is put straight. */
  readonly drifts?: true;
  /** Level that a sound is lifted to where it has died away faster, see {@link Sustain}. */
  readonly sustain?: Sustain;
  /** The encoder's variable-bit-rate quality, 0 (best) to 9. */
  readonly quality: number;
}

/** A preset of the source, by General MIDI program. */
export interface Preset {
  readonly program: number;
  readonly drums: boolean;
  readonly name: string;
}

/** Levels in dB below the peak that the sound is lifted to, at 0.25 s and at 1 s. */
export interface Sustain {
  readonly quarter: number;
  readonly one: number;
  /** The most it is lifted by, dB. */
  readonly most: number;
}

const every = (from: number, to: number, step: number) =>
  Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, i) => from + i * step);

/**
 * The source holds one recording a key and closes a filter for soft notes, so every sound is taken
 * at velocity 127 with that filter open; the player closes one of its own.
 */
export const BAKED_VELOCITY = 127;

export const RECIPES: readonly Recipe[] = [
  {
    name: 'bass',
    preset: { program: 32, drums: false, name: 'Acoustic Bass' },
    keys: every(28, 60, 2),
    channels: 1,
    seconds: 4,
    fade: 0.4,
    pitched: true,
    drifts: true,
    // Our choice, by measure: above G1 the source is 15 dB down after 0.3 s, half as long as its own low E.
    sustain: { quarter: 11, one: 18, most: 9 },
    quality: 4,
  },
  {
    name: 'electric-piano',
    preset: { program: 4, drums: false, name: 'Rhodes EP' },
    keys: every(40, 88, 3),
    channels: 1,
    seconds: 5,
    fade: 0.5,
    pitched: true,
    quality: 5,
  },
  {
    name: 'piano',
    preset: { program: 0, drums: false, name: 'Yamaha Grand Piano' },
    keys: every(36, 90, 3),
    channels: 2,
    seconds: 6,
    fade: 0.6,
    pitched: true,
    quality: 5,
  },
  {
    name: 'guitar',
    preset: { program: 26, drums: false, name: 'Jazz Guitar' },
    keys: every(40, 82, 3),
    channels: 1,
    seconds: 4,
    fade: 0.4,
    pitched: true,
    drifts: true,
    quality: 5,
  },
  {
    name: 'sticks',
    preset: { program: 32, drums: true, name: 'Jazz' },
    keys: [31, 35, 36, 37, 38, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 53, 55, 57, 59],
    channels: 2,
    seconds: 2.2,
    longest: { 49: 4, 57: 4, 37: 0.6 },
    fade: 0.3,
    pitched: false,
    quality: 5,
  },
  {
    name: 'brushes',
    preset: { program: 40, drums: true, name: 'Brush' },
    keys: [38, 39, 40],
    channels: 2,
    seconds: 0.8,
    fade: 0.05,
    pitched: false,
    quality: 5,
  },
  {
    name: 'click',
    preset: { program: 32, drums: true, name: 'Jazz' },
    keys: [31, 33, 34, 37, 76, 77],
    channels: 1,
    seconds: 0.5,
    fade: 0.05,
    pitched: false,
    quality: 5,
  },
];
