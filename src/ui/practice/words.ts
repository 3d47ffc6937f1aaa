import {
  beatLength,
  ladderRounds,
  prettyText,
  type KeyOrder,
  type Ladder,
  type Metre,
  type Ticks,
} from '../../engine/index.ts';

/** The orders of keys in musicians' words. */
export const ORDERS: Readonly<Record<KeyOrder, string>> = {
  'falling-fifths': 'Falling fifths',
  'rising-semitones': 'Rising semitones',
  'falling-semitones': 'Falling semitones',
  'whole-tones': 'Whole tones',
  'minor-thirds': 'Minor thirds',
  shuffled: 'Shuffled',
};

/** Felt beats in a length of `metre`, rounded. */
export const beatsIn = (length: Ticks, metre: Metre): number => Math.round(length / beatLength(metre));

/** Seconds in words a player plans with: "45 seconds", "12 minutes", "2 hours". */
export function duration(seconds: number): string {
  const plural = (count: number, what: string) => `${count} ${what}${count === 1 ? '' : 's'}`;
  if (seconds < 90) return plural(Math.max(5, Math.round(seconds / 5) * 5), 'second');
  if (seconds < 5400) return plural(Math.round(seconds / 60), 'minute');
  return plural(Math.round(seconds / 1800) / 2, 'hour');
}

/**
 * How long a ladder takes until its last tempo has been played for as many rounds as the others.
 * @param quarters length of a round in quarter notes
 * @returns seconds
 */
export function ladderSeconds(ladder: Ladder, quarters: number): number {
  const { from, to, step, rounds } = ladder;
  let seconds = 0;
  for (let rung = 0; rung <= ladderRounds(ladder) / rounds; rung++) {
    const tempo = to >= from ? Math.min(to, from + rung * step) : Math.max(to, from - rung * step);
    seconds += (rounds * quarters * 60) / tempo;
  }
  return seconds;
}

/** "C, F, B♭ …" */
export const keyNames = (tonics: readonly string[]): string => `${tonics.map(prettyText).join(', ')} …`;
