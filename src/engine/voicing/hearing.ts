/**
 * On a chord with more altered tones than free voices all of them are to be heard within two bars.
 * Any three attacks in a row sound them all between them, by a rule of the search. Where two
 * neighbouring bars have only two attacks, those two must do it alone: the second answers the first.
 * Only a loop of one such chord with one attack a bar and an odd number of bars cannot do so at every seam.
 * @param bars the bar of each attack, counted up, where it is known
 * @param long whether the attack's chord has such tones
 * @param stays whether the attack's chord is that of the attack before
 * @returns for each attack whether it answers the one before
 */
export function answering(
  bars: readonly (number | undefined)[],
  long: readonly boolean[],
  stays: readonly boolean[],
  loop: boolean,
): readonly boolean[] {
  const answers = bars.map(() => false);
  // Nothing is known of what came before the sounding chord, so the first attack answers that.
  if (!loop && stays[0] && long[0]) answers[0] = true;
  for (const attacks of runsOf(stays, loop)) {
    const at = long[attacks[0]!] ? barsAlong(attacks, bars) : null;
    if (at === null) continue;
    for (let i = 1; i < attacks.length; i++) {
      // Each pair of bars that holds both attacks, by its first bar.
      for (let bar = at[i]! - 1; bar <= at[i - 1]!; bar++) {
        const earlier = i >= 2 && at[i - 2]! >= bar;
        const later = i + 1 < attacks.length && at[i + 1]! <= bar + 1;
        if (!earlier && !later) answers[attacks[i]!] = true;
      }
    }
  }
  return answers;
}

/** Attacks in a row on one chord, as lists of indices; through the seam of a loop they count on. */
function runsOf(stays: readonly boolean[], loop: boolean): readonly (readonly number[])[] {
  const count = stays.length;
  const starts = stays.flatMap((stay, i) => (!stay || (i === 0 && !loop) ? [i] : []));
  // One chord all the way round: twice round shows every pair of neighbouring bars.
  if (starts.length === 0) return [[...stays.keys(), ...stays.keys()]];
  return starts.map((start, r) => {
    const end = starts[r + 1] ?? (loop ? starts[0]! + count : count);
    return Array.from({ length: end - start }, (_, i) => (start + i) % count);
  });
}

/** The bars of a run, counted on through the seam; null where one is not known. */
function barsAlong(
  attacks: readonly number[],
  bars: readonly (number | undefined)[],
): readonly number[] | null {
  const [first, final] = [bars[0], bars[bars.length - 1]];
  if (first === undefined || final === undefined) return null;
  const at: number[] = [];
  let turns = 0;
  for (const [i, attack] of attacks.entries()) {
    const bar = bars[attack];
    if (bar === undefined) return null;
    if (i > 0 && attack <= attacks[i - 1]!) turns++;
    at.push(bar + turns * (final - first + 1));
  }
  return at;
}
