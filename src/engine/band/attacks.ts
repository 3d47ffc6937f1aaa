import { degreeSemitones, pitchClass, type Chord, type Span } from '../harmony/index.ts';
import { randomFor, ticks, ticksIn, type Seconds, type Ticks } from '../units/index.ts';
import type { Voicing } from '../voicing/index.ts';
import type { Feel } from './feel.ts';
import type { Hit } from './notation.ts';
import { phrasesOf } from './phrase.ts';
import type { BarGrid } from './pulses.ts';
import { apart, strokesOf, swung, type Stroke } from './rhythm.ts';
import type { RoundPlan } from './types.ts';

/** What an attack is called that no rhythm brought. */
const CHANGE = 'on the change';

/** One stroke of the comping hand, before it has notes. */
export interface Attack {
  /** As it sounds, without the hand's lateness. */
  readonly at: Ticks;
  /** As it is written. */
  readonly nominal: Ticks;
  readonly bar: number;
  readonly chord: Chord;
  /** Index of the span it sounds; the number of spans for the first of the next round. */
  readonly span: number;
  /** How long the harmony it sounds goes on, on the round's beat line. */
  readonly limit: Ticks;
  /** The length of the pulse it lies in. */
  readonly pulse: Ticks;
  /** It sounds the chord that comes, an off-beat early. */
  readonly pushed: boolean;
  /** It must sound on its beat to the tick: a live change of colour. */
  readonly exact: boolean;
  readonly length: Hit['length'];
  readonly weight: Hit['weight'];
  /** What the rhythm is called. */
  readonly figure: string;
}

/**
 * Every attack of the round, also those before `plan.from`, so that the rhythm is the same wherever the
 * plan begins.
 */
export function attacksOf(
  plan: RoundPlan,
  grid: readonly BarGrid[],
  feel: Feel,
  offbeat: number,
): readonly Attack[] {
  const { changes, settings, round } = plan;
  const spans = plan.next === null ? changes.spans : [...changes.spans, nextRound(plan.next, changes.length)];
  const starts = spans.map((each) => swung(grid, each.start, offbeat));
  const limits = limitsOf(spans, starts);
  const byNominal = new Map<number, Attack>();
  const place = (attack: Attack) => byNominal.set(attack.nominal, attack);

  const phrases = phrasesOf(grid, feel, settings, round);
  let span = 0;
  for (const bar of grid) {
    const random = randomFor(settings.seed, 'comp', round, bar.index, 'push');
    for (const stroke of strokesOf(bar, phrases[bar.index] ?? [], offbeat)) {
      while (span + 1 < changes.spans.length && starts[span + 1]! <= stroke.at) span++;
      const pulse = bar.pulses[stroke.pulse]!;
      const beatAfter = pulse.at + pulse.length;
      const coming = spans[span + 1];
      const late = stroke.nominal - pulse.at >= pulse.length / 2;
      const early = late && coming !== undefined && coming.start === beatAfter;
      const anticipates = random.chance(feel.comp.anticipate);
      if (early && isLive(coming)) continue;
      const pushed = early && coming.chord !== null;
      if (pushed && !anticipates) continue;
      const sounding = pushed ? span + 1 : span;
      const chord = spans[sounding]?.chord ?? null;
      if (chord === null) continue;
      place({
        ...fromStroke(stroke),
        chord,
        span: sounding,
        limit: limits[sounding]!,
        pulse: pulse.length,
        pushed,
      });
    }
  }

  for (const attack of [...byNominal.values()].filter((each) => each.pushed)) {
    byNominal.delete(spans[attack.span]!.start);
  }
  if (ringsOnInto(plan)) byNominal.delete(0);

  const heard = new Set([...byNominal.values()].map((attack) => attack.span));
  changes.spans.forEach((each, index) => {
    const struck = mustStrike(plan, each);
    if (each.chord === null || (!struck && (heard.has(index) || (index === 0 && ringsOnInto(plan))))) return;
    const bar = grid[each.bar];
    const at = each.start;
    const there = byNominal.get(at);
    place({
      at: struck ? at : starts[index]!,
      nominal: at,
      bar: each.bar,
      chord: each.chord,
      span: index,
      limit: limits[index]!,
      pulse:
        there?.pulse ?? bar?.pulses.find((p) => at >= p.at && at < p.at + p.length)?.length ?? each.length,
      pushed: false,
      exact: struck,
      length: there?.length ?? 'plain',
      weight: struck ? 'accent' : 'plain',
      figure: struck ? 'the new colour on its beat' : CHANGE,
    });
  });
  return apart([...byNominal.values()], (attack) => attack.figure === CHANGE || attack.exact);
}

function fromStroke(stroke: Stroke) {
  const { at, nominal, bar, hit, cell } = stroke;
  return { at, nominal, bar, exact: false, length: hit.length, weight: hit.weight, figure: cell.name };
}

const nextRound = (span: Span, length: Ticks): Span => ({ ...span, start: ticks(length + span.start) });

const isLive = (span: Span): boolean => span.treatment?.origin === 'live';

/**
 * Whether a span must be struck on its first beat whatever the rhythm says: a live change of colour is
 * heard at once, and where music resumes under a ringing chord that has become wrong, the right one
 * is struck.
 */
function mustStrike(plan: RoundPlan, span: Span): boolean {
  if (isLive(span)) return true;
  const { carry, from } = plan;
  if (span.start !== from || span.chord === null || carry.ringsUntil === null) return false;
  return carry.ringsUntil > from && carry.voicing !== null && !fits(carry.voicing, span.chord);
}

/** Whether a push of the round before still sounds the first chord of this one. */
function ringsOnInto({ from, carry, changes }: RoundPlan): boolean {
  const chord = changes.spans[0]?.chord;
  if (from !== 0 || !chord || carry.ringsUntil === null || carry.ringsUntil <= 0) return false;
  return carry.voicing === null || fits(carry.voicing, chord);
}

/**
 * Whether a sounding voicing can stand for a chord: the same root, and every degree one that the chord
 * has, or an unaltered tension over a chord that says nothing about it.
 */
export function fits(voicing: Voicing, chord: Chord): boolean {
  const root = pitchClass(chord.root);
  const asked = new Map<number, number>();
  for (const degree of chord.degrees) asked.set(degreeSemitones(degree) % 12, numberOf(degree));
  const spoken = new Set(asked.values());
  return voicing.pitches.every((pitch, index) => {
    const degree = voicing.degrees[index]!;
    const above = (((pitch - root) % 12) + 12) % 12;
    if (above !== degreeSemitones(degree) % 12) return false;
    return asked.has(above) || (!/[b#]/.test(degree) && !spoken.has(numberOf(degree)));
  });
}

const numberOf = (degree: string): number => Number(degree.replace(/[b#]/g, ''));

/** Until when each span's harmony sounds: a chord written anew goes on. `starts` as they sound. */
function limitsOf(spans: readonly Span[], starts: readonly Ticks[]): readonly Ticks[] {
  const limits: Ticks[] = [];
  for (let i = spans.length - 1; i >= 0; i--) {
    const [span, next] = [spans[i]!, spans[i + 1]];
    const goesOn = next !== undefined && next.chord?.text === span.chord?.text && !isLive(next);
    limits[i] = goesOn ? limits[i + 1]! : (starts[i + 1] ?? ticks(span.start + span.length));
  }
  return limits;
}

/** Seconds a short chord lasts, as far as the beat allows. Our choice: shorter is a click, longer no longer short. */
const SHORT = 0.16;
/** No chord is shorter. */
const SHORTEST = 0.05;

/**
 * When an attack ends: as its rhythm says, but at the latest when the next begins or its harmony ends.
 * @param start the onset as played
 * @param next the onset of the next attack as played, or null
 */
export function endOf(attack: Attack, start: Ticks, next: Ticks | null, plan: RoundPlan): Ticks {
  const { tempo, seed } = plan.settings;
  const inTicks = (seconds: number) => ticksIn(seconds as Seconds, tempo);
  const random = randomFor(seed, 'comp', plan.round, attack.bar, attack.nominal, 'length');
  const wish = {
    short: Math.min(inTicks(SHORT), 0.5 * attack.pulse) * (0.85 + 0.3 * random.next()),
    plain: attack.pulse * (0.7 + 0.5 * random.next()),
    held: attack.pulse * (2 + 2 * random.next()),
  }[attack.length];
  const target = attack.pushed ? Math.max(start + wish, attack.at + 1.2 * attack.pulse) : start + wish;
  const latest = Math.min(attack.limit, next ?? Infinity);
  return ticks(
    Math.round(Math.max(start + 1, Math.min(latest, Math.max(target, start + inTicks(SHORTEST))))),
  );
}
