import { homeKey, pitchClass, type Changes, type Span } from '../harmony/index.ts';
import { midi, velocity, type NoteEvent, type Part, type Ticks } from '../units/index.ts';
import { leadVoicings } from '../voicing/index.ts';
import { BASS_RANGE } from './data.ts';
import { feelCalled } from './feels.ts';
import { nameIn, paletteOf } from './palette.ts';
import type { BandSettings, Carry } from './types.ts';
import { degreeInWords } from './words.ts';

/** The last bass note lies no higher than this, C3: the end is deep. Our choice. */
const DEEP = 48;
const PITCHES = Array.from({ length: DEEP - BASS_RANGE.low + 1 }, (_, i) => BASS_RANGE.low + i);
const KICK = 36;
const RIDE = 51;

/**
 * The chord a round is brought to its end with: the one on the tonic, at the beginning where the form
 * comes round to it, else the last; the first chord where none stands on the tonic, as on a vamp.
 * Common practice.
 * @param whole what the key is told from, where `changes` are but a part of it
 * @returns null when there is no chord at all
 */
export function lastSpan(changes: Changes, whole: Changes = changes): Span | null {
  const chords = changes.spans.filter((span) => span.chord !== null);
  const first = chords[0];
  if (first === undefined) return null;
  const tonic = pitchClass(homeKey(whole).tonic);
  const isHome = ({ written, chord }: Span) => pitchClass((written ?? chord!).root) === tonic;
  return isHome(first) ? first : (chords.findLast(isHome) ?? first);
}

/** The last chord of all, struck together and held for `length`: bass on its ground, cymbal and bass drum. */
export function lastChord(
  { chord }: Span,
  at: Ticks,
  length: Ticks,
  settings: BandSettings,
  carry: Carry,
): readonly NoteEvent[] {
  if (chord === null) return [];
  const feel = feelCalled(settings.feel);
  const palette = paletteOf(chord);
  const [voicing] = leadVoicings([{ chord }], { style: settings.voicing, from: carry.voicing, loop: false });
  const near = carry.bass ?? DEEP;
  const ground = PITCHES.filter((pitch) => pitch % 12 === palette.ground).reduce((a, b) =>
    Math.abs(b - near) < Math.abs(a - near) ? b : a,
  );
  const force = 0.7 + 0.6 * settings.intensity;
  const note = (part: Part, pitch: number, level: number, why: string): NoteEvent => ({
    at,
    length,
    pitch: midi(pitch),
    name: null,
    degree: null,
    velocity: velocity(level * force),
    part,
    why: `the last chord, held: ${why}`,
  });
  const named = nameIn(palette, ground % 12);
  const ofChord = (degree: string) => `${degreeInWords(degree)} of ${chord.text}`;
  const soft = feel.kit === 'brushes';
  return [
    ...voicing!.pitches.map((pitch, voice) => {
      const degree = voicing!.degrees[voice]!;
      return {
        ...note('comp', pitch, feel.comp.level, ofChord(degree)),
        name: voicing!.names[voice]!,
        degree,
      };
    }),
    {
      ...note('bass', ground, feel.bass.level, chord.bass === null ? ofChord('1') : 'the written bass'),
      name: chord.bass ?? chord.root,
      degree: named?.degree ?? null,
    },
    note('drums', KICK, soft ? 30 : 48, 'bass drum'),
    note('drums', soft ? RIDE : (feel.drums.crash ?? RIDE), soft ? 40 : 60, 'cymbal'),
  ];
}
