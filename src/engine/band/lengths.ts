import { randomFor, ticks, ticksIn, type Seconds, type Ticks } from '../units/index.ts';
import type { Attack } from './attacks.ts';
import { nextOpen } from './trade.ts';
import type { RoundPlan } from './types.ts';

/** Seconds a short chord lasts, as far as the beat allows. Our choice: shorter is a click, longer no longer short. */
const SHORT = 0.16;
/** No chord is shorter. */
const SHORTEST = 0.05;

/**
 * When an attack ends: as its rhythm says, but at the latest when the next begins its harmony ends,
 * or the bars begin that are left to the player.
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
  const rings = attack.pushed && !(attack.written && attack.length === 'short');
  const target = rings ? Math.max(start + wish, attack.at + 1.2 * attack.pulse) : start + wish;
  const open = attack.pushed || attack.exact ? null : nextOpen(plan, attack.bar);
  const latest = Math.min(attack.limit, next ?? Infinity, open ?? Infinity);
  return ticks(
    Math.round(Math.max(start + 1, Math.min(latest, Math.max(target, start + inTicks(SHORTEST))))),
  );
}
