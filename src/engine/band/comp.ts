import { leadVoicings } from '../voicing/index.ts';
import { randomFor, ticks, velocity, type NoteEvent, type Ticks } from '../units/index.ts';
import { attacksOf, type Attack } from './attacks.ts';
import { endOf } from './lengths.ts';
import { styleOf, type Style } from './style.ts';
import { lateness } from './swing.ts';
import { isOpen } from './trade.ts';
import type { PartPlayer, RoundPlan } from './types.ts';
import { roomFor } from './vamp.ts';
import { degreeInWords } from './words.ts';

/**
 * How late the comping hand is, in seconds: least and spread. On the beat a little behind the cymbal, on
 * the off-beat together with it, as Friberg and Sundström (2002) found of soloists; our choice is a
 * third of their amount, because comping belongs to the rhythm section.
 */
const ON_THE_BEAT = [0.004, 0.009] as const;
const OFF_THE_BEAT = [0, 0.004] as const;

/** Plays the chords: a rhythm from the feel, four notes an attack, led from one attack to the next. */
export const comp: PartPlayer = (plan) => {
  const { settings, round, from, carry } = plan;
  const style = styleOf(plan);
  const played = attacksOf(plan, style)
    .filter((attack) => isPlayed(attack, plan))
    .map((attack) => ({ attack, start: startOf(attack, plan) }))
    .filter(({ start }) => start >= from);
  const voicings = leadVoicings(
    played.map(({ attack }) => ({ chord: attack.chord, at: attack.nominal, bar: attack.bar })),
    {
      style: settings.voicing,
      from: carry.voicing,
      loop: false,
      seed: settings.seed,
      round,
      ...roomFor(plan),
    },
  );
  return played.flatMap(({ attack, start }, index): NoteEvent[] => {
    const voicing = voicings[index]!;
    const next = played[index + 1]?.start ?? null;
    const end = endOf(attack, start, next, plan);
    const strength = strengthOf(attack, plan, levelIn(style, attack, round));
    const why = attack.pushed ? `${attack.figure}, pushed into the change` : attack.figure;
    const top = voicing.pitches.length - 1;
    return voicing.pitches.map((pitch, voice) => ({
      at: start,
      length: ticks(end - start),
      pitch,
      name: voicing.names[voice]!,
      degree: voicing.degrees[voice]!,
      velocity: velocity(strength + (voice === top ? 5 : voice === 0 ? 0 : -4)),
      part: 'comp',
      why: `${degreeInWords(voicing.degrees[voice]!)} of ${attack.chord.text}: ${why}`,
    }));
  });
};

/**
 * The hand rests in the bars left to the player, but for a live change of colour and a push out of them
 * into the band's own.
 */
function isPlayed({ bar, exact, pushed, span }: Attack, plan: RoundPlan): boolean {
  if (exact || !isOpen(plan, bar)) return true;
  const { bars, spans } = plan.changes;
  return pushed && !isOpen(plan, spans[span]?.bar ?? bars.length);
}

const levelIn = ({ grid, feelIn }: Style, { bar }: Attack, round: number): number =>
  feelIn(grid[bar]!, round).comp.level;

function startOf(attack: Attack, { settings, round }: RoundPlan): Ticks {
  if (attack.exact) return attack.at;
  const random = randomFor(settings.seed, 'comp', round, attack.bar, attack.nominal, 'time');
  const [least, spread] = attack.at === attack.nominal && !attack.written ? ON_THE_BEAT : OFF_THE_BEAT;
  return ticks(attack.at + lateness(random, settings, least, spread));
}

/** How much harder a written hit is struck than the hand's own rhythm, in velocity. Our choice. */
const HIT = 6;

function strengthOf(attack: Attack, { settings, round }: RoundPlan, level: number): number {
  const random = randomFor(settings.seed, 'comp', round, attack.bar, attack.nominal, 'strength');
  const accent = { accent: 9, ghost: -14, plain: 0 }[attack.weight];
  const held = attack.length === 'held' ? -3 : 0;
  const hit = attack.written ? HIT : 0;
  return level + 34 * (settings.intensity - 0.5) + accent + hit + held + 8 * (random.next() - 0.5);
}
