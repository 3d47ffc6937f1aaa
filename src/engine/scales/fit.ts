import {
  degreeSemitones,
  hasDegree,
  isDominant,
  pitchClass,
  type Chord,
  type Degree,
  type Key,
} from '../harmony/index.ts';
import { LOST_FIFTH, OUT_OF_KEY } from './palette.ts';
import type { PlayableScale } from './scale.ts';

/** A degree's semitones above the root, within the octave. */
export const tone = (degree: Degree): number => degreeSemitones(degree) % 12;

const number = (degree: Degree): string => degree.replace(/[b#]/g, '');

/** Scales of five or six notes leave chord tones out by nature. */
export const isSparse = (scale: PlayableScale): boolean =>
  scale.degrees.length < 7 && scale.id !== 'whole-tone';

/** Scales whose minor third is a blue note: it may stand against a major one. */
const BLUE: readonly string[] = ['blues', 'minor-pentatonic', 'major-blues'];

/**
 * The degrees a chord asks for that a scale does not hold. The natural fifth of a dominant may give way,
 * since the symbol takes it for granted; a sparse scale may leave natural degrees out, but not play
 * another form of them; a diminished seventh is not the sixth.
 */
export function leftOut(scale: PlayableScale, chord: Chord): readonly Degree[] {
  const tones = tonesOf(scale);
  return chord.degrees.filter((degree) => {
    if (degree === 'bb7' && !isSparse(scale)) return !scale.degrees.includes('bb7');
    if (tones.has(tone(degree))) return false;
    if (degree === '5' && isDominant(chord)) return false;
    return !isSparse(scale) || isAltered(degree) || hasOtherForm(scale, degree);
  });
}

const tonesKnown = new WeakMap<PlayableScale, ReadonlySet<number>>();

/** Semitones above the root. */
function tonesOf(scale: PlayableScale): ReadonlySet<number> {
  let tones = tonesKnown.get(scale);
  if (tones === undefined) tonesKnown.set(scale, (tones = new Set(scale.degrees.map(tone))));
  return tones;
}

const isAltered = (degree: Degree): boolean => /^[b#](?:5|9|11|13)$/.test(degree);

function hasOtherForm(scale: PlayableScale, degree: Degree): boolean {
  if (BLUE.includes(scale.id) && number(degree) === '3') return false;
  return scale.degrees.some((own) => own !== degree && number(own) === number(degree));
}

/** Blue notes belong over plain chords: any alteration but a #9 speaks against them. */
export const suitsBlues = (scale: PlayableScale, chord: Chord): boolean =>
  !BLUE.includes(scale.id) || !chord.degrees.some((degree) => isAltered(degree) && degree !== '#9');

/** What a scale costs that plays no natural fifth where the symbol takes one for granted. */
export function lostFifth(scale: PlayableScale, chord: Chord): number {
  const lost =
    hasDegree(chord, '5') && !isSparse(scale) && !scale.degrees.some((degree) => tone(degree) === 7);
  return lost ? LOST_FIFTH : 0;
}

/** What a scale costs for leaving the local key. In minor the key holds both forms of its sixth and seventh. */
export function strayCost(scale: PlayableScale, chord: Chord, key: Key | null): number {
  if (key === null) return 0;
  const own = key.mode === 'major' ? [0, 2, 4, 5, 7, 9, 11] : [0, 2, 3, 5, 7, 8, 9, 10, 11];
  const above = pitchClass(chord.root) - pitchClass(key.tonic) + 12;
  const each = isDominant(chord) ? OUT_OF_KEY.dominant : OUT_OF_KEY.other;
  return scale.degrees.reduce((cost, degree) => {
    if (own.includes((above + tone(degree)) % 12)) return cost;
    return cost + (scale.passing.includes(degree) ? OUT_OF_KEY.passing : each);
  }, 0);
}
