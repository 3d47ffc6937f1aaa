import { chordName, hasDegree } from '../chord.ts';
import { commonName, mod, pitchClass, plainName, transposeName } from '../names.ts';
import type { Chord, NoteName } from '../types.ts';
import type { Stretch } from './chords.ts';
import { DEGREES_OF_KEY, NUMERALS, type ChordKind } from './data.ts';
import { neighbour, type Hearing } from './hear.ts';
import type { FunctionReading, Key } from './types.ts';

/** A hearing in words. */
export function tell(
  stretches: readonly Stretch[],
  index: number,
  key: Key,
  heard: Hearing,
): FunctionReading {
  const stretch = stretches[index]!;
  const target = heard.target === null ? null : targetName(stretches, index, heard);
  const label = labelOf(stretch, key, heard);
  const reason = reasonOf(stretches, index, key, heard, target, label);
  return { key, role: heard.role, kind: heard.kind, label, target, evaded: heard.evaded, reason };
}

/** The name of the root a chord points to: the next chord's own where it comes, else spelled from the dominant. */
function targetName(stretches: readonly Stretch[], index: number, { target, kind }: Hearing): NoteName {
  for (const ahead of [1, 2]) {
    const next = neighbour(stretches, index, ahead);
    if (next?.root === target) return next.chord.root;
  }
  const { root } = stretches[index]!.chord;
  const down = mod(pitchClass(root) - target!, 12);
  if (down === 7) return plainName(transposeName(root, { letters: -4, semitones: -7 }));
  if (down === 1 && kind === 'tritone-substitute')
    return plainName(transposeName(root, { letters: -1, semitones: -1 }));
  return commonName(target!);
}

/** "ii7", "V7/ii", "subV7/I", "bVII7". */
function labelOf(stretch: Stretch, key: Key, { kind, target }: Hearing): string {
  const { chord } = stretch;
  const goal = target === null ? '' : degreeLabel(target, key);
  switch (kind) {
    case 'secondary-dominant':
      return `V${suffixOf(chord)}/${goal}`;
    case 'tritone-substitute':
      return `subV${suffixOf(chord)}/${goal}`;
    case 'related-second':
      return `ii${suffixOf(chord)}/${goal}`;
    case 'passing-diminished':
      return target === null ? ownLabel(stretch, key) : `vii${suffixOf(chord)}/${goal}`;
    default:
      return ownLabel(stretch, key);
  }
}

const MINOR_KINDS: readonly ChordKind[] = ['min', 'mmaj', 'hdim', 'dim'];

const numeral = (pc: number, key: Key): string => NUMERALS[mod(pc - pitchClass(key.tonic), 12)]!;

const lowered = (roman: string): string => roman.replace(/[IV]+/, (letters) => letters.toLowerCase());

function ownLabel({ root, kind, chord }: Stretch, key: Key): string {
  const roman = numeral(root, key);
  return (MINOR_KINDS.includes(kind) ? lowered(roman) : roman) + suffixOf(chord);
}

/** A degree by its numeral alone, small where the key's own chord on it is minor. */
function degreeLabel(pc: number, key: Key): string {
  const degree = mod(pc - pitchClass(key.tonic), 12);
  const own = DEGREES_OF_KEY[key.mode].get(`${degree}min`) ?? DEGREES_OF_KEY[key.mode].get(`${degree}hdim`);
  return own?.kind === 'diatonic' && !(key.mode === 'minor' && degree === 7)
    ? lowered(NUMERALS[degree]!)
    : NUMERALS[degree]!;
}

/** What a numeral carries: the seventh and the form of the triad, not the tensions. */
function suffixOf(chord: Chord): string {
  if (chord.family === 'half-diminished') return 'ø7';
  if (chord.family === 'diminished') return hasDegree(chord, 'bb7') ? '°7' : '°';
  if (chord.family === 'suspended') return hasDegree(chord, 'b7') ? '7sus' : 'sus';
  const raised = chord.family === 'augmented' ? '+' : '';
  if (hasDegree(chord, '7')) return `${raised}${chord.family === 'minor' ? '(maj7)' : 'maj7'}`;
  if (hasDegree(chord, 'b7')) return `${raised}7`;
  return raised + (hasDegree(chord, '6') ? '6' : '');
}

function reasonOf(
  stretches: readonly Stretch[],
  index: number,
  key: Key,
  { kind, role, evaded }: Hearing,
  target: NoteName | null,
  label: string,
): string {
  const { chord } = stretches[index]!;
  const next = neighbour(stretches, index, 1)?.chord ?? null;
  const name = chordName(chord);
  const inKey = `${key.tonic} ${key.mode}`;
  const goal = target === null ? '' : `${target}, ${label.split('/')[1] ?? ''} of ${inKey}`;
  const instead = evaded && next ? `; ${chordName(next)} comes instead, so the cadence is evaded` : '';
  switch (kind) {
    case 'diatonic':
      if (role === 'dominant') return `${name} is the dominant of ${inKey}${instead}.`;
      return `${name} is ${label} of ${inKey}: ${role}.`;
    case 'borrowed': {
      const other = key.mode === 'major' ? 'minor' : 'major';
      return `${name} is ${label}, borrowed from ${key.tonic} ${other}: ${role}${instead}.`;
    }
    case 'secondary-dominant':
      return `${name} is the dominant of ${goal}${instead}.`;
    case 'tritone-substitute': {
      const stoodFor = plainName(transposeName(chord.root, { letters: 4, semitones: 6 }));
      return `${name} stands for ${stoodFor}7, a tritone away, and falls a semitone to ${goal}${instead}.`;
    }
    case 'backdoor':
      return `${name} is the back door to ${inKey}: the dominant on bVII climbs a whole tone to ${target}${instead}.`;
    case 'blues-dominant':
      return `${name} is ${label} of a blues in ${key.tonic}: a dominant chord at rest.`;
    case 'related-second':
      return `${name} prepares the dominant of ${goal}, as ii prepares V.`;
    case 'passing-diminished':
      if (target !== null)
        return `${name} leads by semitone up into ${next ? chordName(next) : goal}, as vii° of ${goal}.`;
      return `${name} passes between its neighbours in ${inKey}.`;
    case 'chromatic':
      return `${name} lies outside ${inKey}; it is heard as colour on the way to ${next ? chordName(next) : 'itself'}.`;
  }
}
