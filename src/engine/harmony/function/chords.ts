import { hasDegree, isDominant } from '../chord.ts';
import type { Changes } from '../changes.ts';
import { pitchClass } from '../names.ts';
import type { Chord, Degree } from '../types.ts';
import type { ChordKind } from './data.ts';
import type { Mode } from './types.ts';

/** A stretch of one written chord: spans that follow each other with the same chord are one. */
export interface Stretch {
  readonly chord: Chord;
  readonly root: number;
  readonly kind: ChordKind;
  /** The mode a dominant's tensions speak for; null when they speak for neither. */
  readonly mode: Mode | null;
  /** Indices of the spans it covers. */
  readonly spans: readonly number[];
}

const MINOR_TENSIONS: readonly Degree[] = ['b9', 'b13', '#5'];
const MAJOR_TENSIONS: readonly Degree[] = ['9', '13'];

/** The written chords of the changes, one after the other. Treatments colour a chord, they do not change its function. */
export function stretchesOf(changes: Changes): readonly Stretch[] {
  const stretches: (Stretch & { readonly spans: number[] })[] = [];
  for (const [index, { written }] of changes.spans.entries()) {
    if (written === null) continue;
    const last = stretches.at(-1);
    if (last && sameChord(last.chord, written)) last.spans.push(index);
    else
      stretches.push({
        chord: written,
        root: pitchClass(written.root),
        kind: kindOf(written),
        mode: modeOf(written),
        spans: [index],
      });
  }
  return stretches;
}

const sameChord = (one: Chord, other: Chord): boolean =>
  pitchClass(one.root) === pitchClass(other.root) && one.degrees.join() === other.degrees.join();

/** How a chord is looked up in the tables of the keys. */
export function kindOf(chord: Chord): ChordKind {
  switch (chord.family) {
    case 'dominant':
      return 'dom';
    case 'suspended':
      return isDominant(chord) ? 'sus' : 'maj';
    case 'minor':
      return hasDegree(chord, '7') || hasDegree(chord, '6') ? 'mmaj' : 'min';
    case 'half-diminished':
      return 'hdim';
    case 'diminished':
      return 'dim';
    case 'augmented':
      return 'aug';
    case 'power':
      return 'pow';
    case 'major':
      return 'maj';
  }
}

function modeOf(chord: Chord): Mode | null {
  if (!isDominant(chord)) return null;
  if (MINOR_TENSIONS.some((degree) => hasDegree(chord, degree))) return 'minor';
  return MAJOR_TENSIONS.some((degree) => hasDegree(chord, degree)) ? 'major' : null;
}
