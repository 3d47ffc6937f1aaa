import type { Chord, Degree } from '../harmony/index.ts';
import { STANDARD_TUNING, type Finger, type Stop } from '../units/index.ts';
import { voicingOf } from './candidates.ts';
import { barreOf, fingering, skippedStrings, UNPLAYABLE, type Barre } from './hand.ts';
import { placings } from './placings.ts';
import { selections } from './selections.ts';
import { FAULTS } from './spacing.ts';
import { EFFORT, HOME, LAST_FRET } from './strings.ts';
import type { Voicing } from './types.ts';

export interface GripOptions {
  /** Open strings from the lowest up, as MIDI keys; the guitar's standard tuning when left out. */
  readonly tuning?: readonly number[];
  /** {@link LAST_FRET} when left out. */
  readonly lastFret?: number;
  /** Whether open strings may sound. Left out they may not: a comped chord is damped by the hand. */
  readonly open?: boolean;
}

export interface ChordGripOptions extends GripOptions {
  readonly tensions?: readonly Degree[];
}

/** One note of a grip, ready for a diagram. */
export interface GripNote extends Stop {
  readonly finger: Finger;
}

/** Four notes as a hand holds them. */
export interface Grip {
  readonly voicing: Voicing;
  /** One for each pitch of the voicing, lowest first. */
  readonly notes: readonly GripNote[];
  readonly barre: Barre | null;
  /** The lowest fret that is pressed; 0 when none is. */
  readonly position: number;
  /** 0 for a grip that falls under the fingers; more, the more laborious. */
  readonly effort: number;
}

/**
 * All grips in which a hand can hold just these four notes, the easiest first. Empty when there are none.
 * @throws RangeError for a tuning of fewer than four strings
 */
export function gripsOf(voicing: Voicing, options: GripOptions = {}): readonly Grip[] {
  const { tuning, lastFret, open } = filled(options);
  const grips: Grip[] = [];
  const place = (voice: number, stops: readonly Stop[]): void => {
    if (voice === voicing.pitches.length) {
      const grip = gripWith(voicing, stops);
      if (grip !== null) grips.push(grip);
      return;
    }
    // Each voice lies on a higher string than the one below it.
    const above = stops.length === 0 ? 0 : tuning.length - stops[stops.length - 1]!.string + 1;
    for (let string = above; string < tuning.length; string++) {
      const fret = voicing.pitches[voice]! - tuning[string]!;
      if (fret < (open ? 0 : 1) || fret > lastFret) continue;
      place(voice + 1, [...stops, { string: tuning.length - string, fret }]);
    }
  };
  place(0, []);
  return grips.sort((a, b) => a.effort - b.effort || a.position - b.position);
}

/** A chord's grips are remembered by what they are made from; this many, then the oldest go. */
const KEPT = 256;
const known = new Map<string, readonly Grip[]>();

/**
 * All grips of a chord: four notes with both guide tones, as the voicings are chosen, each held in every
 * way a hand can. From the lowest position up, the easiest first.
 * @param options with `tensions`, what may be added unasked in place of the table's own
 * @throws RangeError for a tuning of fewer than four strings
 */
export function gripsFor(chord: Chord, options: ChordGripOptions = {}): readonly Grip[] {
  const { tuning, lastFret, open } = filled(options);
  const { tensions } = options;
  const key = [chord.root, chord.bass, chord.degrees, tensions, tuning, lastFret, open].join(' ');
  const remembered = known.get(key);
  if (remembered !== undefined) return remembered;
  const grips = selections(chord, true, tensions)
    .flatMap(({ degrees }) =>
      placings(chord, degrees, Math.min(...tuning), Math.max(...tuning) + lastFret, WIDEST),
    )
    .filter((placing) => !FAULTS.some((fault) => fault(placing)))
    .flatMap(({ keys, degrees }) => gripsOf(voicingOf(chord, keys, degrees), options))
    .sort((a, b) => a.position - b.position || a.effort - b.effort);
  if (known.size >= KEPT) known.delete(known.keys().next().value!);
  known.set(key, Object.freeze(grips));
  return grips;
}

/** From the lowest voice to the highest no grip is wider: four strings' steps of a fourth, and four frets. */
const WIDEST = 24;

function filled({ tuning = STANDARD_TUNING, lastFret = LAST_FRET, open = false }: GripOptions) {
  if (tuning.length < 4) throw new RangeError(`four notes need four strings, not ${tuning.length}`);
  return { tuning, lastFret, open };
}

function gripWith(voicing: Voicing, stops: readonly Stop[]): Grip | null {
  if (UNPLAYABLE.some((rule) => rule(stops))) return null;
  const fingers = fingering(stops);
  if (fingers === null) return null;
  const frets = stops.map(({ fret }) => fret).filter((fret) => fret > 0);
  const position = frets.length === 0 ? 0 : Math.min(...frets);
  const barre = barreOf(stops);
  const span = frets.length === 0 ? 0 : Math.max(...frets) - position;
  const strain = stops.reduce(
    (sum, { fret }, i) => sum + (fret === 0 ? 0 : Math.abs(fingers[i]! - 1 - (fret - position))),
    0,
  );
  return {
    voicing,
    notes: stops.map((stop, i) => ({ ...stop, finger: fingers[i]! })),
    barre,
    position,
    effort:
      EFFORT.span * Math.max(0, span - 2) +
      EFFORT.barre * (barre === null ? 0 : 1) +
      EFFORT.skip * skippedStrings(stops) +
      EFFORT.strain * strain +
      EFFORT.high * Math.max(0, position - HOME) +
      EFFORT.dark * (stops.every(({ string }) => string > 2) ? 1 : 0),
  };
}
