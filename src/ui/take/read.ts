import {
  bpm,
  midi,
  TEMPO_RANGE,
  ticks,
  TREATMENT_KINDS,
  type HeardNote,
  type Midi,
  type Seconds,
  type Standing,
  type TakeDrill,
  type TakeEvent,
  type TakeMoment,
} from '../../engine/index.ts';

// What is kept on the device may come from another device, so each value is looked at.

type Raw = Readonly<Record<string, unknown>>;

const isNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);
const isTick = (value: unknown): value is number => Number.isSafeInteger(value);
const isTempo = (value: unknown): value is number =>
  isNumber(value) && value >= TEMPO_RANGE.min && value <= TEMPO_RANGE.max;

/** The numbers under some names; null where one is missing. */
export function readNumbers(raw: Raw, names: readonly string[]): Readonly<Record<string, number>> | null {
  const found = names.map((name) => [name, raw[name]] as const);
  return found.every(([, value]) => isNumber(value))
    ? (Object.fromEntries(found) as Record<string, number>)
    : null;
}

/** How the music moved; null where that is not known. */
export function readMoments(raw: unknown): readonly TakeMoment[] | null {
  if (!Array.isArray(raw) || raw.length === 0) return null;
  const moments = raw.map((one: unknown) => {
    const [tick, at, tempo] = Array.isArray(one) ? (one as unknown[]) : [];
    return isNumber(tick) && isNumber(at) && isTempo(tempo) ? { tick, at, tempo: bpm(tempo) } : null;
  });
  return moments.includes(null) ? null : (moments as TakeMoment[]);
}

/** The notes; those that are none are left out. */
export function readNotes(raw: unknown): readonly HeardNote[] {
  if (!Array.isArray(raw)) return [];
  return raw.flatMap((one: unknown) => {
    const [at, length, pitch, cents, clarity, level] = Array.isArray(one) ? (one as unknown[]) : [];
    const isKey =
      pitch === null || (Number.isInteger(pitch) && (pitch as number) >= 0 && (pitch as number) < 128);
    if (!isKey || ![at, length, cents, clarity, level].every(isNumber)) return [];
    return [
      {
        at: at as Seconds,
        length: length as Seconds,
        pitch: pitch === null ? null : midi(pitch as number),
        cents: cents as number,
        clarity: clarity as number,
        level: level as number,
      },
    ];
  });
}

/** What happened meanwhile; null where it makes no sense. */
export function readEvents(raw: unknown): readonly TakeEvent[] | null {
  if (!Array.isArray(raw)) return null;
  const events = raw.map((one: unknown) => readEvent((one ?? {}) as Raw));
  return events.includes(null) ? null : (events as TakeEvent[]);
}

function readEvent({ type, at, length, kind, plan, follow, finish }: Raw): TakeEvent | null {
  if (!isTick(at)) return null;
  const when = ticks(at);
  if (type === 'release' || type === 'again') return { type, at: when };
  if (type === 'finish') return { type, at: when, finish: finish === 'section' ? 'section' : 'round' };
  if (type === 'touch') {
    const known = TREATMENT_KINDS.find((one) => one === kind);
    if (known === undefined || !(length === null || isTick(length))) return null;
    return { type, at: when, length: length === null ? null : ticks(length), kind: known };
  }
  const follows = Array.isArray(follow) && follow.every((bar) => bar === null || isTick(bar));
  if (type !== 'revise' || !isTick(plan) || !follows) return null;
  return { type, at: when, plan, follow: follow as (number | null)[] };
}

/** Where practice had come to; null where nothing is said. */
export function readStanding(raw: unknown): Standing | null {
  const { ladder, keys } = (raw ?? {}) as { ladder?: Raw; keys?: Raw };
  const tempo = ladder?.['tempo'];
  const [round, from, step] = [ladder?.['round'], keys?.['round'], keys?.['step']];
  if (!isTick(round) || !isTick(from) || !isTick(step) || !isTempo(tempo)) return null;
  return { ladder: { round, tempo: bpm(tempo) }, keys: { round: from, step } };
}

/** How a drill was heard; null where none was. */
export function readHeardDrill(raw: unknown): TakeDrill | null {
  const { neck, alone } = (raw ?? {}) as { neck?: Raw; alone?: unknown };
  const { tuning, capo, lastFret } = neck ?? {};
  const isKey = (key: unknown) => isTick(key) && key >= 0 && key < 128;
  const isTuning = Array.isArray(tuning) && tuning.length > 0 && tuning.length <= 24 && tuning.every(isKey);
  if (!isTuning || !isTick(capo) || !isTick(lastFret) || capo < 0 || lastFret < capo || lastFret > 60)
    return null;
  return { neck: { tuning: tuning as Midi[], capo, lastFret }, alone: alone === true };
}
