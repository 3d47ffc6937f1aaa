import type { NoteEvent } from '../../engine/index.ts';
import type { Outside } from '../types.ts';

/** What a sequencer hands its notes to. Times are seconds of the audio clock. */
export interface Sink {
  play(note: NoteEvent, when: number, until: number): void;
  /** Takes back the notes from `tick` on, which lies at `when`. */
  takeBack(tick: number, when: number): void;
  /** Sets anew when each note that began before `tick` ends; null leaves it. */
  retime(tick: number, until: (note: NoteEvent) => number | null): void;
}

/**
 * The band with an instrument outside the page beside it: both are told the same, each in its own time.
 * @param heardAt when what is scheduled at a time of the audio clock is heard, ms of `performance.now()`
 */
export function alongside(band: Sink, outside: Outside, heardAt: (when: number) => number): Sink {
  return {
    play(note, when, until) {
      band.play(note, when, until);
      outside.play(note, heardAt(when), heardAt(until));
    },
    takeBack(tick, when) {
      band.takeBack(tick, when);
      outside.takeBack(tick);
    },
    retime(tick, until) {
      band.retime(tick, until);
      outside.retime(tick, (note) => {
        const when = until(note);
        return when === null ? null : heardAt(when);
      });
    },
  };
}

/** How far a new reading of the clocks may lie from the old before it is believed at once, ms. */
const JUMP = 30;
/** How much of a smaller difference is believed: the browser's readings stray by a few milliseconds. */
const TRUST = 0.1;

/** What the two clocks are read from. */
export type Clocks = Pick<
  AudioContext,
  'currentTime' | 'baseLatency' | 'outputLatency' | 'getOutputTimestamp'
>;

/**
 * From the audio clock to the page's: when what is scheduled at a time is heard. The way through the
 * mixer and out of the loudspeaker is in it, so that what is sent elsewhere for that moment is together
 * with what is heard.
 * @param delay seconds that the mixer takes
 * @param now the page's clock, milliseconds
 */
export function hearing(clocks: Clocks, delay: number, now = () => performance.now()) {
  let offset: number | null = null;
  return (when: number): number => {
    const measured = offsetOf(clocks, now());
    offset =
      offset === null || Math.abs(measured - offset) > JUMP ? measured : offset + TRUST * (measured - offset);
    return (when + delay) * 1000 + offset;
  };
}

/** The page's time of the audio clock's zero as it is heard, ms. */
function offsetOf(clocks: Clocks, now: number): number {
  const { contextTime = 0, performanceTime = 0 } = clocks.getOutputTimestamp();
  if (contextTime > 0 && performanceTime > 0) return performanceTime - contextTime * 1000;
  const latency = clocks.outputLatency || clocks.baseLatency || 0;
  return now - (clocks.currentTime - latency) * 1000;
}
