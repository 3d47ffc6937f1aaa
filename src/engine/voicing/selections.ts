import { degreeSemitones, pitchClass, type Chord, type Degree } from '../harmony/index.ts';
import { KEPT_OUT_BY, RELUCTANCE, VOICINGS, type VoicingRow } from './data.ts';

/** Four degrees of a chord, to be laid out in register. A degree may stand twice where the chord is poor. */
export interface Selection {
  readonly degrees: readonly Degree[];
  /** How gladly it is taken; 0 is best, in semitones of motion. */
  readonly cost: number;
  /** Which of the chord's tones to be heard it holds, one bit each in the order of {@link tonesToHear}. */
  readonly heard: number;
}

const split = (text: string): Degree[] => (text === '' ? [] : (text.split(' ') as Degree[]));

/** The row of the table a chord falls under. Total: a chord without third and fifth counts as root and fifth. */
export function voicingRow(chord: Chord): VoicingRow {
  const holds = (row: VoicingRow) => split(row.when).every((degree) => chord.degrees.includes(degree));
  return VOICINGS.find(holds) ?? VOICINGS[VOICINGS.length - 1]!;
}

/** The two tones that say what the chord is, and sound in every voicing of it. */
export function guidePair(chord: Chord): readonly [Degree, Degree] {
  const [first, second] = split(voicingRow(chord).when);
  return [first!, second!];
}

/** Degrees with an accidental that the symbol names beside its guide tones: all of them colour it. */
export function alterations(chord: Chord): readonly Degree[] {
  const guides = guidePair(chord);
  const named = chord.degrees.filter((degree) => /^[b#]/.test(degree) && !guides.includes(degree));
  return named.filter((degree, i) => !named.slice(0, i).some((other) => sameTone(other, degree)));
}

/**
 * The tones that must all be heard when the chord lasts, since four notes have no room for them at
 * once: the alterations, where there are more than two.
 */
export function tonesToHear(chord: Chord): readonly Degree[] {
  const named = alterations(chord);
  return named.length > 2 ? named : [];
}

/**
 * The four-note choices of a chord: both guide tones and two more. Alterations come first, then the
 * highest extension the symbol names, then its other tones and the free tensions of its row.
 * @param root whether the root is one of the tones to choose from
 * @param tensions what may be added unasked, in place of the row's free tensions
 */
export function selections(chord: Chord, root: boolean, tensions?: readonly Degree[]): readonly Selection[] {
  const row = voicingRow(chord);
  const guides = guidePair(chord);
  const altered = alterations(chord);
  const hear = tonesToHear(chord);
  const others = fillers(chord, tensions ?? split(row.free), guides, altered);
  const withRoot: Degree[] = root || row.root ? ['1'] : [];

  const choose = (tones: readonly Degree[]): Selection[] =>
    pairs(tones)
      .filter((pair) => isWanted(pair, altered, extension(chord, others)) && !rubs(pair))
      .map((pair) => selectionWith(chord, [...guides, ...pair], hear));

  const usual = choose(distinct([...altered, ...others, ...withRoot]));
  if (usual.length > 0) return usual;
  const last = choose(distinct([...altered, ...others, '1']));
  return last.length > 0 ? last : doubled(chord, guides, altered);
}

/** Four degrees as a choice: guide tones cost nothing, and each tone to hear sets its bit. */
export function selectionWith(chord: Chord, degrees: readonly Degree[], hear: readonly Degree[]): Selection {
  const guides = guidePair(chord);
  const beside = degrees.filter((degree) => !guides.includes(degree));
  return {
    degrees,
    cost: beside.reduce((sum, degree) => sum + reluctance(degree, chord), 0),
    heard: hear.reduce((mask, degree, bit) => mask | (degrees.includes(degree) ? 1 << bit : 0), 0),
  };
}

/** Tones for the two free voices beside the alterations, without avoid notes and without the root. */
function fillers(
  chord: Chord,
  offered: readonly Degree[],
  guides: readonly Degree[],
  altered: readonly Degree[],
): Degree[] {
  const keptOut = altered.flatMap((degree) => split(KEPT_OUT_BY[degree] ?? ''));
  const named = chord.degrees.filter((degree) => /^\d/.test(degree) && degree !== '1');
  const free = offered.filter((degree) => !keptOut.includes(degree) && !clashesWithBass(degree, chord));
  const natural = named.filter((degree) => !(keptOut.includes(degree) && Number(degree) < 9));
  return distinct([...natural, ...free]).filter(
    (degree) =>
      !guides.some((guide) => sameTone(guide, degree)) &&
      !altered.some((other) => sameTone(other, degree)) &&
      !isAvoid(degree, guides),
  );
}

/** A natural tension a semitone above a guide tone: the 11 over a major third. Common practice. */
export function isAvoid(degree: Degree, guides: readonly Degree[]): boolean {
  return guides.some((guide) => (degreeSemitones(degree) - degreeSemitones(guide) - 1) % 12 === 0);
}

/** A tension nobody asked for a semitone above the bass note of a slash chord: a minor ninth. */
function clashesWithBass(degree: Degree, chord: Chord): boolean {
  if (chord.bass === null) return false;
  const tone = pitchClass(chord.root) + degreeSemitones(degree);
  return (tone - pitchClass(chord.bass) - 1) % 12 === 0;
}

/** The highest natural extension the symbol names, if it may sound: the 13 of C13. */
function extension(chord: Chord, others: readonly Degree[]): Degree | null {
  return (
    (['13', '11', '9'] as const).find(
      (degree) => chord.degrees.includes(degree) && others.includes(degree),
    ) ?? null
  );
}

/** Two alterations where there are two, the only one in any case; without any, the highest extension. */
function isWanted(pair: readonly Degree[], altered: readonly Degree[], top: Degree | null): boolean {
  const named = pair.filter((degree) => altered.includes(degree)).length;
  if (altered.length >= 2) return named === 2;
  return altered.length === 1 ? named === 1 : top === null || pair.includes(top);
}

/**
 * Two colours a semitone apart. Only the root bears a ninth beside it, and the 11 of a half-diminished
 * or diminished chord the flat fifth. Common practice.
 */
function rubs([first, second]: readonly [Degree, Degree]): boolean {
  if ([first, second].some((degree) => degree === '1' || degree === '11')) return false;
  const apart = Math.abs(degreeSemitones(first) - degreeSemitones(second)) % 12;
  return apart === 1 || apart === 11;
}

function reluctance(degree: Degree, chord: Chord): number {
  const cost = RELUCTANCE[degree] ?? 0;
  return chord.degrees.includes(degree) ? cost : cost + 0.5;
}

/** For a chord with fewer than four tones: its tones once more in another octave, root and fifth first. */
function doubled(chord: Chord, guides: readonly Degree[], altered: readonly Degree[]): Selection[] {
  const spare = altered.slice(0, 2);
  const double = distinct(['1', ...chord.degrees.filter((degree) => degree === '5'), ...guides]);
  const fill = [...spare, ...double].slice(0, 2);
  return [{ degrees: [...guides, ...fill], cost: 0, heard: 0 }];
}

function pairs(tones: readonly Degree[]): (readonly [Degree, Degree])[] {
  return tones.flatMap((first, i) => tones.slice(i + 1).map((second) => [first, second] as const));
}

const sameTone = (a: Degree, b: Degree): boolean => (degreeSemitones(a) - degreeSemitones(b)) % 12 === 0;

function distinct(tones: readonly Degree[]): Degree[] {
  return tones.filter((tone, i) => !tones.slice(0, i).some((other) => sameTone(other, tone)));
}
