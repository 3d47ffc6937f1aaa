import type { Random } from '../../engine/index.ts';
import { INSTRUMENTS, type Instrument } from '../types.ts';
import { brushBed } from './brush-bed.ts';
import type { Recording } from './decode.ts';
import { standIns } from './standin.ts';
import { takesOf } from './takes.ts';

/** A recording and how to play it at the key asked for. */
export interface Sample {
  readonly buffer: AudioBuffer;
  readonly gain: number;
  /** Speed at which it sounds in tune. */
  readonly rate: number;
  /** Its end passes into its beginning: it can sound for as long as it is held. */
  readonly goesRound?: boolean;
}

/** Where voices take their sounds from. */
export interface Sounds {
  /** A sound for a key, or null where the instrument has none; `random` chooses among several takes. */
  pick(instrument: Instrument, key: number, random: Random): Sample | null;
}

/** Instruments played by key number in equal temperament; the others strike one thing a key. */
const PITCHED: ReadonlySet<Instrument> = new Set(['bass', 'electric-piano', 'piano', 'guitar']);

/** A recording no further off than this, in semitones, may be re-tuned as another take (our choice: further off the colour gives it away). */
const NEAR = 2;

/** Percussion keys (General MIDI, from memory) whose sounds may stand for each other as another take. */
const TAKES: Readonly<Partial<Record<Instrument, Readonly<Record<number, readonly number[]>>>>> = {
  sticks: { 35: [35, 36], 36: [36, 35], 38: [38, 40] },
};

/** Whose sound is taken where an instrument has none for a key: a brush player's cymbals, hats and kick. */
const ELSE: Readonly<Partial<Record<Instrument, Instrument>>> = { brushes: 'sticks', click: 'sticks' };

/** The instruments whose files an instrument draws on. */
export const filesFor = (instrument: Instrument): readonly Instrument[] =>
  instrument === 'brushes' ? ['brushes', 'sticks'] : [instrument];

/** Holds what has been loaded at one sample rate; stand-ins play what has not. */
export class Bank implements Sounds {
  readonly #sampleRate: number;
  readonly #recordings = new Map<Instrument, readonly Recording[]>();
  /** Made when first struck. */
  readonly #takes = new Map<AudioBuffer, readonly AudioBuffer[]>();
  readonly #standIns = new Map<Instrument, readonly Recording[]>();

  constructor(sampleRate: number) {
    this.#sampleRate = sampleRate;
  }

  /** The instruments that have their own sounds. */
  get loaded(): readonly Instrument[] {
    return INSTRUMENTS.filter((instrument) => this.#recordings.has(instrument));
  }

  add(instrument: Instrument, recordings: readonly Recording[]): void {
    this.#recordings.set(instrument, withBeds(instrument, recordings));
  }

  pick(instrument: Instrument, key: number, random: Random): Sample | null {
    const recordings = this.#recordings.get(instrument) ?? this.#standInsFor(instrument);
    const found = PITCHED.has(instrument)
      ? nearest(recordings, key, random)
      : struck(recordings, TAKES[instrument]?.[key] ?? [key], random);
    const other = ELSE[instrument];
    if (found === null) return other === undefined ? null : this.pick(other, key, random);
    const { buffer, gain } = found;
    if (isHeld(instrument, key)) return { buffer, gain, rate: 1, goesRound: true };
    if (!PITCHED.has(instrument)) return { buffer: random.pick(this.#takesOf(buffer)), gain, rate: 1 };
    return { buffer, gain, rate: 2 ** ((key - found.key - found.cents / 100) / 12) };
  }

  #takesOf(stroke: AudioBuffer): readonly AudioBuffer[] {
    const made = this.#takes.get(stroke) ?? takesOf(stroke);
    this.#takes.set(stroke, made);
    return made;
  }

  #standInsFor(instrument: Instrument): readonly Recording[] {
    const made =
      this.#standIns.get(instrument) ?? withBeds(instrument, standIns(instrument, this.#sampleRate));
    this.#standIns.set(instrument, made);
    return made;
  }
}

/** The key that sounds for as long as it is held: the brush that circles on the snare. */
const isHeld = (instrument: Instrument, key: number) => instrument === 'brushes' && key === 40;

/** The recordings with those of held keys made to go round. */
function withBeds(instrument: Instrument, recordings: readonly Recording[]): readonly Recording[] {
  return recordings.map((recording) =>
    isHeld(instrument, recording.key) ? { ...recording, buffer: brushBed(recording.buffer) } : recording,
  );
}

/** One of the recordings near enough to pass for the key, the nearer the likelier; else the nearest. */
function nearest(recordings: readonly Recording[], key: number, random: Random): Recording | null {
  const distance = (recording: Recording) => Math.abs(recording.key - key);
  const near = recordings.filter((recording) => distance(recording) <= NEAR);
  if (near.length > 0) return random.pick(near, (recording) => 1 / (1 + distance(recording)));
  return recordings.reduce<Recording | null>(
    (best, recording) => (best === null || distance(recording) < distance(best) ? recording : best),
    null,
  );
}

function struck(recordings: readonly Recording[], keys: readonly number[], random: Random): Recording | null {
  const takes = recordings.filter((recording) => keys.includes(recording.key));
  return takes.length > 0 ? random.pick(takes) : null;
}
