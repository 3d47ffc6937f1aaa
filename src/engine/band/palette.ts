import {
  degreeSemitones,
  pitchClass,
  spell,
  type Chord,
  type Degree,
  type NoteName,
} from '../harmony/index.ts';
import { PASSING } from './data.ts';

/** What a bass player may use under a chord. Pitch classes run from 0 (C) to 11 (B). */
export interface Palette {
  readonly chord: Chord;
  /** The note a change begins with: the pedal that is held, the bass of a slash chord, else the root. */
  readonly ground: number;
  /** The note of the key that the bass holds; null where it moves with the chords. */
  readonly pedal: NoteName | null;
  readonly root: number;
  /** Third, or fourth of a suspended chord; null where the chord has none. */
  readonly third: number | null;
  /** The fifth as the chord has it; null where it must not be played. */
  readonly fifth: number | null;
  /** Degree by pitch class: the tones of the chord, and all notes that fit. */
  readonly tones: ReadonlyMap<number, Degree>;
  readonly scale: ReadonlyMap<number, Degree>;
  /** False where nothing but the chord's own colour may sound. */
  readonly chromatic: boolean;
}

/** True for a dominant whose fifth or ninth is altered: `alt`, b9, #9, b5, #5 or b13. */
function isAlteredDominant(chord: Chord): boolean {
  if (chord.altered) return true;
  const has = (degree: Degree) => chord.degrees.includes(degree);
  const dominant =
    chord.family === 'dominant' || (has('b7') && has('3')) || (chord.family === 'suspended' && has('b7'));
  return dominant && (['b9', '#9', 'b5', '#5', 'b13'] as const).some(has);
}

/**
 * The notes a bass line over `chord` may use. Under an altered dominant only the chord's own colour, and
 * neither the natural fifth nor the natural ninth; the other altered ninth goes with the one named.
 */
export function paletteOf(chord: Chord): Palette {
  const root = pitchClass(chord.root);
  const strict = isAlteredDominant(chord);
  const pc = (degree: Degree) => (root + degreeSemitones(degree)) % 12;
  const colour = chord.degrees.filter((degree) => !strict || (degree !== '5' && degree !== '9'));
  const tones = new Map(colour.filter(isChordTone).map((degree) => [pc(degree), degree]));
  const scale = new Map(colour.map((degree) => [pc(degree), degree]));
  const more: readonly Degree[] = strict
    ? ninthIsAltered(chord)
      ? ['b9', '#9']
      : []
    : PASSING[chord.family];
  const numbers = new Set(colour.map(letterOf));
  for (const degree of more) {
    if (scale.has(pc(degree)) || (!strict && numbers.has(letterOf(degree)))) continue;
    scale.set(pc(degree), degree);
  }
  const find = (...degrees: readonly Degree[]) => {
    const degree = degrees.find((each) => colour.includes(each));
    return degree === undefined ? null : pc(degree);
  };
  const ground = chord.bass === null ? root : pitchClass(chord.bass);
  return {
    chord,
    root,
    ground,
    pedal: null,
    third: find('3', 'b3', '4'),
    fifth: find('5', 'b5', '#5'),
    tones,
    scale,
    chromatic: !strict,
  };
}

/** The spelled name of a pitch class over a palette's chord and its degree; null for notes outside. */
export function nameIn(palette: Palette, pc: number): { name: string; degree: Degree } | null {
  const degree = palette.tones.get(pc) ?? palette.scale.get(pc);
  return degree === undefined ? null : { name: spell(palette.chord.root, degree), degree };
}

/** Chord tones are what a walking line may stand on; ninths and above are passed through, altered fifths not. */
function isChordTone(degree: Degree): boolean {
  return letterOf(degree) < 8 && degree !== '2';
}

const letterOf = (degree: Degree): number => Number(degree.replace(/[b#]/g, ''));

const ninthIsAltered = (chord: Chord): boolean =>
  chord.degrees.includes('b9') || chord.degrees.includes('#9');
