import {
  fail,
  ok,
  type HeardNote,
  type LayDrill,
  type Performance,
  type Project,
  type Result,
  type TakeMoment,
  type TakeScript,
} from '../../engine/index.ts';
import type { Band } from '../band.ts';
import type { Exchange, Kept } from '../ports.ts';
import { readEvents, readHeardDrill, readMoments, readNotes, readNumbers, readStanding } from './read.ts';

/** The player over the band, as it is kept. */
export interface Take {
  readonly id: string;
  /** The chart it belongs to. */
  readonly chart: string;
  /** When it was recorded, milliseconds since 1970. */
  readonly at: number;
  /** Seconds. */
  readonly length: number;
  /** How much later than played everything is heard in it, seconds. */
  readonly lag: number;
  readonly course: readonly TakeMoment[];
  readonly script: TakeScript;
  readonly notes: readonly HeardNote[];
  /** Spots the player has marked, ticks of the performance. */
  readonly marks: readonly number[];
  /** The band, playing as it did. */
  readonly performance: Performance;
}

/** Takes with drills, which a reader that knows none would play otherwise. */
const WITH_DRILLS = 2;

/** True for a take over a drill, which {@link readTake} needs a way to lay. */
export const hasDrill = ({ data }: Kept): boolean => data['format'] === WITH_DRILLS;

/** What of a take is kept beside its sound. */
export function writeTake(
  take: Omit<Take, 'id' | 'chart' | 'at' | 'performance'>,
  exchange: Exchange,
): Kept['data'] {
  const { length, lag, course, script, notes, marks } = take;
  return {
    format: script.plans.some(({ drill }) => drill !== null) ? WITH_DRILLS : 1,
    length,
    lag,
    marks,
    course: course.map(({ tick, at, tempo }) => [tick, at, tempo]),
    notes: notes.map((note) => [
      round(note.at, 1e4),
      round(note.length, 1e4),
      note.pitch,
      note.cents,
      round(note.clarity, 100),
      round(note.level, 1e4),
    ]),
    countIn: script.countIn,
    from: script.from,
    events: script.events,
    plans: script.plans.map(({ project, drill, standing }) => ({
      chart: exchange.write(project),
      ...(drill && { drill }),
      standing,
    })),
  };
}

const round = (value: number, steps: number) => Math.round(value * steps) / steps;

/**
 * A take from what is kept; a reason where it makes no sense.
 * @param lay for takes with drills
 */
export function readTake(
  { id, chart, at, data }: Kept,
  exchange: Exchange,
  band: Pick<Band, 'performanceOf'>,
  lay: LayDrill | null = null,
): Result<Take, string> {
  const numbers = readNumbers(data, ['length', 'lag', 'countIn', 'from']);
  const course = readMoments(data['course']);
  const notes = readNotes(data['notes']);
  const events = readEvents(data['events']);
  const plans = readPlans(data['plans'], exchange);
  const marks = Array.isArray(data['marks']) ? data['marks'].filter((mark) => Number.isFinite(mark)) : [];
  const isKnown = data['format'] === 1 || data['format'] === WITH_DRILLS;
  if (!isKnown || numbers === null || course === null || events === null || plans === null) {
    return fail('it was kept by another version of this page, or is damaged');
  }
  const script = { countIn: numbers['countIn']!, from: numbers['from']!, events, plans } as TakeScript;
  const performance = band.performanceOf(script, lay);
  if (!performance.ok) return fail(performance.error);
  return ok({
    ...{ id, chart, at, course, script, notes, marks: marks as number[] },
    length: numbers['length']!,
    lag: numbers['lag']!,
    performance: performance.value,
  });
}

function readPlans(raw: unknown, exchange: Exchange): TakeScript['plans'] | null {
  if (!Array.isArray(raw) || raw.length === 0) return null;
  const plans = raw.map((one: unknown) => {
    const { chart, drill, standing } = (one ?? {}) as Readonly<Record<string, unknown>>;
    const read = typeof chart === 'string' ? exchange.read(chart) : null;
    const project: Project | null = read?.ok ? read.value.project : null;
    return project === null
      ? null
      : { project, drill: readHeardDrill(drill), standing: readStanding(standing) };
  });
  return plans.includes(null) ? null : (plans as TakeScript['plans']);
}
