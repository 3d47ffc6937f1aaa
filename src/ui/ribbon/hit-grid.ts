import { beatLength, FEEL_NAMES, ticks, type FormBar, type Ticks } from '../../engine/index.ts';
import { beatAt, type Beat } from './layout.ts';

/** Where in a beat hits can stand, as shares of it, and what musicians call the place. Common practice. */
const PLACES = {
  compound: [
    [0, ''],
    [1 / 3, 'second eighth of '],
    [2 / 3, 'last eighth of '],
  ],
  swung: [
    [0, ''],
    [1 / 3, 'middle triplet of '],
    [1 / 2, 'and of '],
    [2 / 3, 'last triplet of '],
  ],
  straight: [
    [0, ''],
    [1 / 4, 'second sixteenth of '],
    [1 / 3, 'middle triplet of '],
    [1 / 2, 'and of '],
    [2 / 3, 'last triplet of '],
    [3 / 4, 'last sixteenth of '],
  ],
} as const;

/** A beat narrower than this on the screen, px, is tapped in halves; what lies between is reached by steps. */
const WIDE = 96;

function placesIn(
  beat: Beat,
  bars: readonly FormBar[],
  feel: string,
): readonly (readonly [number, string])[] {
  const { metre } = bars[beat.bar]!.bar;
  if (beatLength(metre) > beatLength({ ...metre, count: 1 })) return PLACES.compound;
  return FEEL_NAMES.get(feel)?.swing === 'straight' ? PLACES.straight : PLACES.swung;
}

/** The places in a beat at which a hit can stand, on the form's beat line. */
export function gridOf(beat: Beat, bars: readonly FormBar[], feel: string): readonly Ticks[] {
  return placesIn(beat, bars, feel)
    .map(([share]) => ticks(beat.start + Math.round(share * beatLength(bars[beat.bar]!.bar.metre))))
    .filter((tick) => tick < beat.start + beat.length);
}

/** The place in a beat a player means by "off the beat": the last of three, else its middle. */
export function offBeat(beat: Beat, bars: readonly FormBar[], feel: string): Ticks {
  const grid = gridOf(beat, bars, feel);
  const middle = ticks(beat.start + beat.length / 2);
  return grid.includes(middle) ? middle : grid.at(-1)!;
}

/**
 * The place of the grid nearest to a tick of the form.
 * @param px width of a beat on the screen
 */
export function nearestPlace(tick: number, bars: readonly FormBar[], feel: string, px: number): Ticks | null {
  const beat = beatAt(bars, tick);
  if (beat === null) return null;
  const fine = gridOf(beat, bars, feel);
  const grid = px >= WIDE ? fine : [fine[0]!, offBeat(beat, bars, feel)];
  const end = ticks(beat.start + beat.length);
  const after = beatAt(bars, end)?.start === end ? [end] : [];
  return [...grid, ...after].reduce((best, place) =>
    Math.abs(place - tick) < Math.abs(best - tick) ? place : best,
  );
}

/** The next place of the grid from a tick on, within its bar; the same where there is none. */
export function stepPlace(tick: Ticks, by: 1 | -1, bars: readonly FormBar[], feel: string): Ticks {
  const beat = beatAt(bars, tick);
  if (beat === null) return tick;
  const { start, bar } = bars[beat.bar]!;
  const edge = by > 0 ? beat.start + beat.length : beat.start - 1;
  const beyond = edge >= start && edge < start + bar.length ? beatAt(bars, edge) : null;
  const places = [beat, ...(beyond === null ? [] : [beyond])].flatMap((each) => gridOf(each, bars, feel));
  const onward = places.filter((place) => (place - tick) * by > 0).sort((a, b) => (a - b) * by);
  return onward[0] ?? tick;
}

/** "beat 2", "and of 2", "last triplet of 2". */
export function placeWords(tick: Ticks, bars: readonly FormBar[]): string {
  const beat = beatAt(bars, tick);
  if (beat === null) return '';
  const share = (tick - beat.start) / beatLength(bars[beat.bar]!.bar.metre);
  const places = [...placesIn(beat, bars, ''), ...PLACES.straight];
  const name = places.find(([at]) => Math.abs(at - share) < 0.01)?.[1];
  if (name === '') return `beat ${beat.beat + 1}`;
  return name === undefined ? `within beat ${beat.beat + 1}` : `${name}${beat.beat + 1}`;
}
