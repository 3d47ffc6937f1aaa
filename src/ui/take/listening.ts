import {
  beats,
  courseOf,
  ticks,
  type Bpm,
  type Course,
  type NoteSource,
  type Ticks,
} from '../../engine/index.ts';
import type { Take } from './take.ts';

/** A take as it is listened to. */
export interface Listening {
  /** The band as it played, at the tempi it went at, up to where the take ends. */
  readonly source: NoteSource;
  /** Where it begins, and at which tempo. */
  readonly at: Ticks;
  readonly tempo: Bpm;
  readonly end: Ticks;
  /** Seconds from there to the end. */
  readonly seconds: number;
  readonly course: Course;
}

/** Listens from a tick of the performance on; from the beginning when left out. */
export function listenTo(take: Take, from: number = take.course[0]!.tick): Listening {
  const { course: moments, performance, length } = take;
  const course = courseOf(moments, take.lag);
  const at = ticks(Math.round(Math.max(from, moments[0]!.tick)));
  const end = ticks(Math.max(at + beats(1), Math.floor(course.tickAt(length))));
  const known = moments.findLast(({ tick }) => tick <= at) ?? moments[0]!;
  const changes = moments.slice(1).map(({ tick, tempo }) => ({ at: ticks(Math.round(tick)), tempo }));
  return {
    at,
    end,
    course,
    tempo: known.tempo,
    seconds: Math.max(0, length - course.secondsAt(at)),
    source: {
      lineup: performance.lineup,
      notes: (first, last) => performance.notes(first, ticks(Math.max(first, Math.min(last, end)))),
      tempi: (first, last) => changes.filter((change) => change.at >= first && change.at < last),
    },
  };
}
