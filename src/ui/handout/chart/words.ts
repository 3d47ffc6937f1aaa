import { type Bar, type Chord } from '../../../engine/index.ts';
import { SIGN_WORDS } from './heights.ts';
import type { OnChart } from './rows.ts';

/** A chart in words, bar by bar, for whoever does not see it. */
export function chartInWords(
  bars: readonly Bar[],
  on: OnChart,
  shown: { readonly nameOf: (chord: Chord) => string; readonly text: string },
): string {
  return bars.map((bar) => `${barInWords(bar, on, shown)}.`).join(' ');
}

function barInWords(
  bar: Bar,
  { coloured, looped, hits }: OnChart,
  { nameOf, text }: { readonly nameOf: (chord: Chord) => string; readonly text: string },
): string {
  const chords =
    bar.simile > 0
      ? 'as before'
      : bar.slots
          .map(({ chord, silence, from, to }) =>
            chord !== null ? nameOf(chord) : silence === 'no-chord' ? 'no chord' : text.slice(from, to),
          )
          .join(', ');
  const said = coloured.filter((stretch) => stretch.bar === bar.index).map(({ word }) => word);
  const struck = hits.filter((hit) => hit.bar === bar.index).length;
  return [
    bar.mark === null ? '' : `section ${bar.mark}`,
    bar.ending !== null && bar.endingStart ? `ending ${bar.ending.join(' and ')}` : '',
    bar.repeatStart ? 'repeat from here' : '',
    `bar ${bar.index + 1}: ${chords}`,
    ...new Set(said),
    struck === 0 ? '' : struck === 1 ? 'one hit' : `${struck} hits`,
    looped.some((stretch) => stretch.bar === bar.index) ? 'in the loop' : '',
    ...bar.signs.map((sign) => SIGN_WORDS[sign]),
    bar.repeatEnd > 0 ? `repeat, ${bar.repeatEnd} times in all` : '',
  ]
    .filter(Boolean)
    .join(', ');
}
