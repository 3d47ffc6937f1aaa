import { barLength, ticks, velocity, type Metre, type NoteEvent } from '../units/index.ts';
import { BELL, CLICK, STICKS } from './click.ts';
import { pulsesOf, strongPulses } from './pulses.ts';
import type { BandSettings } from './types.ts';

/** Below this tempo every beat is counted from the start, else nobody could follow. Our choice. */
const SLOW = 80;

/**
 * The count before the music, at negative ticks: the strong beats only, then in the last bar every beat
 * ("one … two … one two three four", common practice). At slow tempi every beat throughout.
 * @param bars how many bars are counted, 0 for none
 * @throws RangeError when `bars` is not a whole number of at least 0
 */
export function countIn(metre: Metre, bars: number, settings: BandSettings): NoteEvent[] {
  if (!Number.isInteger(bars) || bars < 0) {
    throw new RangeError(`a count-in has a whole number of bars, not ${bars}`);
  }
  const { lengths, groups } = pulsesOf(metre);
  const strong = strongPulses(groups);
  const notes: NoteEvent[] = [];
  for (let bar = 0; bar < bars; bar++) {
    let at = (bar - bars) * barLength(metre);
    lengths.forEach((length, pulse) => {
      if (bar === bars - 1 || settings.tempo < SLOW || strong.has(pulse)) {
        notes.push({
          at: ticks(at),
          length: ticks(Math.round(length / 4)),
          pitch: settings.count === 'sticks' ? STICKS : pulse === 0 ? BELL : CLICK,
          name: null,
          degree: null,
          velocity: velocity(pulse === 0 ? 92 : 78),
          part: 'click',
          counts: true,
          why: `count-in: ${pulse + 1}`,
        });
      }
      at += length;
    });
  }
  return notes;
}
