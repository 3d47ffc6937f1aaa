import { PPQ } from '../units/index.ts';
import type { TakeMoment } from './types.ts';

/** The map between a recording's seconds and the ticks of its music. */
export interface Course {
  readonly tickAt: (seconds: number) => number;
  readonly secondsAt: (tick: number) => number;
}

/**
 * @param moments how the music moved, in order, at least one
 * @param lag how much later than it was played everything is heard in the recording, seconds
 * @throws RangeError without a moment
 */
export function courseOf(moments: readonly TakeMoment[], lag: number): Course {
  const first = moments[0];
  if (first === undefined) throw new RangeError('a recording has moved through at least one moment');
  const rate = ({ tempo }: TakeMoment) => (tempo * PPQ) / 60;
  return {
    tickAt(seconds) {
      const played = seconds - lag;
      const moment = moments.findLast(({ at }) => at <= played) ?? first;
      return moment.tick + (played - moment.at) * rate(moment);
    },
    secondsAt(tick) {
      const moment = moments.findLast((one) => one.tick <= tick) ?? first;
      return moment.at + (tick - moment.tick) / rate(moment) + lag;
    },
  };
}
