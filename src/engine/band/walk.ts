import { commonName } from '../harmony/index.ts';
import { midi, randomFor, ticks, velocity, type NoteEvent, type Ticks } from '../units/index.ts';
import { BASS_RANGE } from './data.ts';
import { feelCalled } from './feels.ts';
import { nameIn } from './palette.ts';
import { gridOf } from './pulses.ts';
import { slotsOf, type Slot } from './slots.ts';
import { lateness, offbeatAt } from './swing.ts';
import type { PartPlayer, RoundPlan } from './types.ts';
import { lineOver } from './walking.ts';
import { degreeInWords, semitonesInWords } from './words.ts';

/** How late the bass is, in seconds: hardly, because the beat is where the bass is. Our choice. */
const HAND = [0, 0.005] as const;

/** Plays the bass: the feel's rhythm, and the cheapest line under the rules of walking. */
export const walk: PartPlayer = (plan) => {
  const { settings, round, from, carry } = plan;
  const feel = feelCalled(settings.feel);
  const offbeat = offbeatAt(feel.swing, settings.swingRatio, settings.tempo);
  const timed = slotsOf(plan, gridOf(plan.changes), feel, offbeat)
    .map((slot) => {
      const random = randomFor(settings.seed, 'bass', round, slot.bar, slot.nominal, 'hand');
      const start = ticks(slot.at + (slot.nominal === from ? 0 : lateness(random, settings.tempo, ...HAND)));
      return { slot, start, strength: random.next() };
    })
    .filter(({ start }) => start >= from);
  const inLine = timed.filter(({ slot }) => !isOrnament(slot)).map(({ slot }) => slot);
  const line = lineOver(inLine, plan);

  let last: number | null = carry.bass;
  let index = 0;
  const notes: { slot: Slot; start: Ticks; strength: number; pitch: number; before: number | null }[] = [];
  for (const { slot, start, strength } of timed) {
    const pitch = isOrnament(slot) ? ornament(slot, last) : line[index++]!;
    if (pitch === null) continue;
    notes.push({ slot, start, strength, pitch, before: last });
    last = pitch;
  }
  return notes.map(({ slot, start, strength, pitch, before }, at): NoteEvent => {
    const next = notes[at + 1];
    const named = nameIn(slot.palette, pitch % 12);
    const ground = pitch % 12 === slot.palette.ground ? slot.palette.chord.bass : null;
    return {
      at: start,
      length: lengthOf(slot, start, next?.start ?? null, plan),
      pitch: midi(pitch),
      name: ground ?? named?.name ?? outsideName(pitch, next?.pitch ?? before),
      degree: named?.degree ?? null,
      velocity: strengthOf(slot, strength, feel.bass.level, settings.intensity),
      part: 'bass',
      why: reason(slot, pitch, before, next?.pitch ?? null),
    };
  });
};

const isOrnament = ({ purpose }: Slot): boolean => purpose === 'ghost' || purpose === 'octave';

function ornament({ purpose }: Slot, last: number | null): number | null {
  if (last === null) return null;
  if (purpose === 'ghost') return last;
  return last - 12 >= BASS_RANGE.low ? last - 12 : last + 12 <= BASS_RANGE.high ? last + 12 : last;
}

/** A note ends as its rhythm says, at the latest with the next note or where the band falls silent. */
function lengthOf(slot: Slot, start: Ticks, next: Ticks | null, { changes }: RoundPlan): Ticks {
  const wish = { short: 0.45, plain: 0.96, held: 2.6 }[slot.length] * slot.pulse;
  const dead = slot.purpose === 'ghost' ? 0.4 * slot.pulse : Infinity;
  const silence = changes.spans.slice(slot.span + 1).find((span) => span.chord === null)?.start;
  const latest = Math.min(next ?? changes.length, silence ?? changes.length, start + dead);
  return ticks(Math.max(1, Math.round(Math.min(start + wish, latest) - start)));
}

function strengthOf(slot: Slot, chance: number, level: number, intensity: number) {
  const accent = { accent: 5, plain: 0, ghost: -34 }[slot.weight];
  return velocity(level + 24 * (intensity - 0.5) + accent + 6 * (chance - 0.5));
}

/** A note outside the chord's scale is spelled as it moves: raised on the way up, lowered on the way down. */
function outsideName(pitch: number, towards: number | null): string {
  const pc = pitch % 12;
  const rises = towards !== null && towards > pitch;
  return (rises ? SHARPS[pc] : FLATS[pc]) ?? commonName(pc);
}

const SHARPS: readonly string[] = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const FLATS: readonly string[] = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];

/** The rule that put the note here. */
function reason(slot: Slot, pitch: number, before: number | null, next: number | null): string {
  const { palette, purpose, target } = slot;
  const named = nameIn(palette, pitch % 12);
  const degree = named === null ? null : `${degreeInWords(named.degree)} of ${palette.chord.text}`;
  const isGround = pitch % 12 === palette.ground;
  switch (purpose) {
    case 'ghost':
      return 'skip: the note before as a dead note';
    case 'octave':
      return 'drop: the note before an octave away';
    case 'next':
      return `${target!.chord.text} anticipated`;
    case 'approach': {
      const goal = target!.ground;
      const above = (pitch - goal + 120) % 12;
      const way =
        next !== null && Math.abs(next - pitch) <= 2
          ? `from a ${semitonesInWords(Math.abs(next - pitch))} ${next < pitch ? 'above' : 'below'}`
          : above === 7
            ? 'from its fifth'
            : above === 1 || above === 2
              ? `from a ${semitonesInWords(above)} above`
              : above >= 10
                ? `from a ${semitonesInWords(12 - above)} below`
                : 'by a chord tone';
      return `approach to ${target!.chord.bass ?? target!.chord.root} ${way}${degree === null ? '' : `: ${degree}`}`;
    }
    default:
      if (isGround && palette.chord.bass !== null) {
        return `${purpose === 'pedal' ? 'pedal: ' : ''}written bass of ${palette.chord.text}`;
      }
      if (palette.tones.has(pitch % 12)) return degree!;
      if (degree !== null) return `scale step: ${degree}`;
      return before === null
        ? 'chromatic passing note'
        : `chromatic passing note ${next !== null && next < pitch ? 'down' : 'up'}`;
  }
}
