import { commonName, plainName, transposeName, type NoteName } from '../harmony/index.ts';
import { midi, randomFor, ticks, velocity, type NoteEvent, type Ticks } from '../units/index.ts';
import { BASS_RANGE } from './data.ts';
import type { Feel } from './feel.ts';
import { nameIn } from './palette.ts';
import { slotsOf, type Slot } from './slots.ts';
import { styleOf } from './style.ts';
import { lateness } from './swing.ts';
import { isOpen, nextOpen, restsInOpen } from './trade.ts';
import type { PartPlayer, RoundPlan } from './types.ts';
import { lineOver } from './walking.ts';
import { reasonFor } from './reasons.ts';

/** How late the bass is, in seconds: hardly, because the beat is where the bass is. Our choice. */
const HAND = [0, 0.005] as const;

/** Plays the bass: the feel's rhythm, and the cheapest line under the rules of walking. */
export const walk: PartPlayer = (plan) => {
  const { settings, round, from, carry } = plan;
  const style = styleOf(plan);
  const rests = settings.trade !== undefined && restsInOpen(settings.trade);
  const silent = (bar: number) => rests && isOpen(plan, bar);
  const timed = slotsOf(plan, style)
    .filter(({ bar }) => !silent(bar))
    .map((slot) => {
      const random = randomFor(settings.seed, 'bass', round, slot.bar, slot.nominal, 'hand');
      const start = ticks(slot.at + (slot.exact ? 0 : lateness(random, settings, ...HAND)));
      return { slot, start, strength: random.next() };
    })
    .filter(({ start }) => start >= from);
  const inLine = timed.filter(({ slot }) => !isOrnament(slot)).map(({ slot }) => slot);
  // Where no note sounded before, the first one tells the harmony.
  if (carry.bass === null && inLine[0]) inLine[0] = { ...inLine[0], purpose: 'ground', invertible: false };
  // And so does the first after the bars left to the player.
  inLine.forEach((slot, index) => {
    const anew = silent(slot.bar - 1) && inLine[index - 1]?.bar !== slot.bar;
    if (anew) inLine[index] = { ...slot, purpose: 'ground', invertible: false };
  });
  const line = lineOver(inLine, plan);

  let last: number | null = carry.bass;
  let index = 0;
  const notes: Played[] = [];
  for (const { slot, start, strength } of timed) {
    const pitch = isOrnament(slot) ? ornament(slot, last) : line[index++]!;
    if (pitch === null) continue;
    notes.push({ slot, start, strength, pitch, before: last });
    last = pitch;
  }
  const names = namesOf(notes);
  return notes.map(({ slot, start, strength, pitch, before }, at): NoteEvent => {
    const next = notes[at + 1];
    return {
      at: start,
      length: lengthOf(slot, start, next?.start ?? null, plan),
      pitch: midi(pitch),
      name: names[at]!,
      degree: nameIn(slot.palette, pitch % 12)?.degree ?? null,
      velocity: strengthOf(slot, strength, style.feelIn(style.grid[slot.bar]!, round), settings.intensity),
      part: 'bass',
      why: reasonFor(slot, pitch, before, next?.pitch ?? null),
    };
  });
};

interface Played {
  readonly slot: Slot;
  readonly start: Ticks;
  readonly strength: number;
  readonly pitch: number;
  readonly before: number | null;
}

const isOrnament = ({ purpose }: Slot): boolean => purpose === 'ghost' || purpose === 'octave';

function ornament({ purpose }: Slot, last: number | null): number | null {
  if (last === null) return null;
  if (purpose === 'ghost') return last;
  return last - 12 >= BASS_RANGE.low ? last - 12 : last + 12 <= BASS_RANGE.high ? last + 12 : last;
}

/** A note ends as its rhythm says, at the latest with the next note or where the band falls silent. */
function lengthOf(slot: Slot, start: Ticks, next: Ticks | null, plan: RoundPlan): Ticks {
  const { changes, settings } = plan;
  const rests = settings.trade !== undefined && restsInOpen(settings.trade);
  const open = rests ? nextOpen(plan, slot.bar) : null;
  const wish = { short: 0.45, plain: 0.96, held: 2.6 }[slot.length] * slot.pulse;
  const dead = slot.purpose === 'ghost' ? 0.4 * slot.pulse : Infinity;
  const silence = changes.spans.slice(slot.span + 1).find((span) => span.chord === null)?.start;
  const latest = Math.min(
    next ?? changes.length,
    silence ?? changes.length,
    open ?? changes.length,
    start + dead,
  );
  return ticks(Math.max(1, Math.round(Math.min(start + wish, latest) - start)));
}

function strengthOf(slot: Slot, chance: number, { bass }: Feel, intensity: number) {
  const accent = { accent: 5, plain: 0, ghost: -34 }[slot.weight];
  return velocity(bass.level + 24 * (intensity - 0.5) + accent + 6 * (chance - 0.5));
}

/** Spelled by the chord; what lies outside it takes the letter beside the note it leads to. */
function namesOf(notes: readonly Played[]): readonly NoteName[] {
  const names: NoteName[] = [];
  for (let i = notes.length - 1; i >= 0; i--) {
    const { slot, pitch } = notes[i]!;
    const { chord, ground } = slot.palette;
    const next = notes.slice(i + 1).find((note) => note.pitch !== pitch);
    const goal = next ? { pitch: next.pitch, name: names[notes.indexOf(next)]! } : goalOf(slot, pitch);
    names[i] =
      (pitch % 12 === ground ? (slot.palette.pedal ?? chord.bass) : null) ??
      nameIn(slot.palette, pitch % 12)?.name ??
      nameBeside(pitch, goal);
  }
  return names;
}

/** What the last note of a round leads to: the next ground, within a tone. */
function goalOf({ target }: Slot, pitch: number): { pitch: number; name: NoteName } | null {
  if (target === null) return null;
  const { bass, root } = target.chord;
  const above = ((pitch - target.ground + 138) % 12) - 6;
  return { pitch: pitch - above, name: bass ?? root };
}

function nameBeside(pitch: number, goal: { pitch: number; name: NoteName } | null): NoteName {
  const semitones = goal === null ? 0 : pitch - goal.pitch;
  if (goal === null || Math.abs(semitones) > 2 || semitones === 0) return commonName(pitch);
  return plainName(transposeName(goal.name, { letters: Math.sign(semitones), semitones }));
}
