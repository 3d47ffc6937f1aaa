import { plainName, type Chord, type Degree, type NoteName, type Role } from '../harmony/index.ts';
import { scaleForms, tonesOf, type NeckSetting, type Tone } from '../neck/index.ts';
import { midi, type Midi, type Stop } from '../units/index.ts';
import type { DrillSettings } from './types.ts';

/** One step of the ladder a drill climbs: a pitch, and what it is over its chord. */
export interface Rung {
  readonly pitch: Midi;
  readonly name: NoteName;
  readonly plain: NoteName;
  readonly degree: Degree | null;
  readonly role: Role;
  /** Where the form has it; null where the hand is to choose. */
  readonly stop: Stop | null;
}

/** The pitches a drill may use, and the frets it is to stay in where it can. */
export interface Reach {
  readonly low: number;
  readonly high: number;
  readonly frets: { readonly from: number; readonly to: number } | null;
}

/** Our choice, because that is a hand's span with a stretch of one fret either way. */
const SPAN = { below: 1, above: 4 };
/** How far a free hand goes above the highest open string: our choice, twelve frets. */
const FREE = 12;

/** What the hand reaches by the settings, without a form. */
export function reachOf({ hand, range }: DrillSettings, { tuning, capo, lastFret }: NeckSetting): Reach {
  const [lowest, highest] = [Math.min(...tuning), Math.max(...tuning)];
  const frets =
    hand.type === 'position'
      ? {
          from: Math.max(capo, hand.fret - SPAN.below),
          to: Math.max(capo, Math.min(lastFret, hand.fret + SPAN.above)),
        }
      : null;
  const [from, to] = frets ? [frets.from, frets.to] : [capo, Math.min(lastFret, capo + FREE)];
  return {
    low: Math.max(range?.low ?? 0, lowest + from),
    high: Math.min(range?.high ?? 127, highest + to),
    frets,
  };
}

/** Every pitch of the tones within the reach, from the lowest up. */
export function rungsOf(tones: readonly Tone[], { low, high }: Reach): readonly Rung[] {
  const rungs: Rung[] = [];
  for (let pitch = low; pitch <= high; pitch++) {
    const tone = tones.find(({ pc }) => pc === pitch % 12);
    if (tone !== undefined) rungs.push(rungOf(tone, pitch, null));
  }
  return rungs;
}

/** Root, guide tones and fifth: what a line comes to rest on. Of an altered chord both fifths. */
export const restingTones = (chord: Chord): readonly Tone[] =>
  tonesOf(chord).filter(({ role }) => role === 'root' || role === 'guide' || role === 'fifth');

/** The ladder of a scale under the hand: the form's own notes where a form is asked for and there is one. */
export function ladderOf(
  tones: readonly Tone[],
  settings: DrillSettings,
  neck: NeckSetting,
): { readonly rungs: readonly Rung[]; readonly reach: Reach } {
  const reach = reachOf(settings, neck);
  const { hand, range } = settings;
  const form =
    hand.type === 'form' && tones.length > 0
      ? scaleForms(tones, neck).find(({ number }) => number === hand.number)
      : undefined;
  if (form === undefined) return { rungs: rungsOf(tones, reach), reach };
  const notes = form.notes.filter(({ pitch }) => pitch >= (range?.low ?? 0) && pitch <= (range?.high ?? 127));
  const low = notes[0]?.pitch ?? reach.low;
  const high = notes.at(-1)?.pitch ?? low;
  return {
    rungs: notes.map((note) => rungOf(note, note.pitch, { string: note.string, fret: note.fret })),
    reach: { low, high, frets: { from: form.firstFret, to: form.lastFret } },
  };
}

const rungOf = (tone: Tone, pitch: number, stop: Stop | null): Rung => ({
  pitch: midi(pitch),
  name: tone.name,
  plain: tone.plain,
  degree: tone.degree,
  role: tone.role,
  stop,
});

/** The note a semitone below, named by the letter below where that reads plainly. */
export function below(rung: Rung): Rung {
  const [letter, signs] = [rung.plain[0]!, rung.plain.slice(1)];
  const lower = 'CDEFGAB'[('CDEFGAB'.indexOf(letter) + 6) % 7]!;
  const isHalfStep = letter === 'C' || letter === 'F';
  const alter = (signs.startsWith('b') ? -signs.length : signs.length) + (isHalfStep ? 0 : 1);
  const name = lower + (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter));
  const plain = plainName(name);
  return { pitch: midi(rung.pitch - 1), name: plain, plain, degree: null, role: 'scale', stop: null };
}
