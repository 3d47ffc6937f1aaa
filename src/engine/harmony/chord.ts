import { setOf } from './degrees.ts';
import { degreeSemitones, mod, pitchClass } from './names.ts';
import type { Chord, Degree, NoteName, Role } from './types.ts';

/** The bass note: the one after the slash, else the root. */
export const chordBass = (chord: Chord): NoteName => chord.bass ?? chord.root;

/** The symbol as typed, without space or brackets around the whole: how a sentence names the chord. */
export function chordName({ text }: Chord): string {
  const symbol = text.trim();
  return /^(?:\(.*\)|\[.*\])$/.test(symbol) ? symbol.slice(1, -1).trim() : symbol;
}

const has = (chord: Chord, degree: Degree): boolean => chord.degrees.includes(degree);

/** True when a chord contains `degree` under just that name. */
export const hasDegree = has;

/**
 * True for a chord that acts as a dominant: a major third and a minor seventh, or a suspended chord
 * with a minor seventh. Common practice.
 */
export function isDominant(chord: Chord): boolean {
  if (!has(chord, 'b7')) return false;
  return chord.family === 'suspended' || has(chord, '3');
}

/** The pitch classes of the chord tones, 0 (C) to 11 (B), in the order of the degrees; the slash bass is not among them. */
export function chordPitchClasses(chord: Chord): readonly number[] {
  const root = pitchClass(chord.root);
  return chord.degrees.map((degree) => mod(root + degreeSemitones(degree), 12));
}

const THIRDS: readonly Degree[] = ['3', 'b3', '4', '2'];
const COLOURS: readonly Degree[] = ['bb7', 'b7', '7', '6', '13', '5', 'b5', '#5'];

/**
 * The two degrees that tell a chord from any other on its root, the third first: 3 and 7, 4 and 7 when
 * suspended, 3 and 6 in sixth chords, 3 and 5 in triads. A chord that lacks one of them has fewer.
 * Common practice.
 */
export function guideTones(chord: Chord): readonly Degree[] {
  const third = THIRDS.find((degree) => has(chord, degree));
  const colour = COLOURS.find((degree) => has(chord, degree));
  return [third, colour].filter((degree) => degree !== undefined);
}

/**
 * What a degree does in a chord. A chord tone is root, guide tone, fifth or tension. Any other degree is
 * an avoid note when it lies a semitone above a chord tone, except the b9 and b13 of a dominant, and a
 * tension otherwise. Chord tones are told by sound: over C7#5 a b13 is the fifth. Nettles and Graf, The
 * Chord Scale Theory and Jazz Harmony (from memory); the semitone rule reproduces their avoid notes.
 */
export function roleOf(chord: Chord, degree: Degree): Role {
  const tone = mod(degreeSemitones(degree), 12);
  const guides = guideTones(chord).map(semitones);
  if (tone === 0) return 'root';
  if (guides.includes(tone)) return 'guide';
  const tones = chord.degrees.map(semitones);
  if (tones.includes(tone))
    return chord.degrees.some((own) => isFifth(own) && semitones(own) === tone) ? 'fifth' : 'tension';
  if (isDominant(chord) && (tone === 1 || tone === 8)) return 'tension';
  return tones.includes(mod(tone - 1, 12)) ? 'avoid' : 'tension';
}

const semitones = (degree: Degree): number => mod(degreeSemitones(degree), 12);
const isFifth = (degree: Degree): boolean => (setOf(degree) & setOf('b5', '5', '#5')) !== 0;
