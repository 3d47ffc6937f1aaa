/** A sweep that stands out of room and guitar: up in 12 ms through what every loudspeaker gives back, Hz. */
const CLICK = { seconds: 0.012, from: 900, to: 6000 } as const;
/** Seconds from click to click: uneven, so that one is not taken for the next. */
const APART: readonly number[] = [0, 0.31, 0.58, 0.93, 1.21, 1.55];
/** The longest way round that is looked for, seconds; a radio headphone takes 0.3. */
const LONGEST = 0.5;
/** How far the best match must stand out from the rest, as a factor (our choice, by measure). */
const CLEAR = 7;
/** How far single clicks may stray from their common delay, seconds, and how many must not. */
const STRAY = 0.001;
const AGREE = 4;

/** The clicks, with the loudest sample at `level`. */
export function clicks(rate: number, level: number): Float32Array<ArrayBuffer> {
  const one = click(rate);
  const all = new Float32Array(Math.ceil((APART.at(-1)! + CLICK.seconds) * rate));
  for (const at of APART) {
    const from = Math.round(at * rate);
    one.forEach((x, i) => (all[from + i] = x * level));
  }
  return all;
}

/** How long a recording must go on from the first click, seconds. */
export const CLICKS_LAST = APART.at(-1)! + CLICK.seconds + LONGEST;

/**
 * How much later than they were sent the clicks are found in a recording, by cross-correlation.
 * @param heard from the moment on at which the first click was sent
 * @returns seconds; null where the clicks cannot be told from the rest
 */
export function delayOf(heard: Float32Array, rate: number): number | null {
  const one = click(rate);
  const lags = Math.round(LONGEST * rate);
  const each = APART.map((at) => matches(heard, one, Math.round(at * rate), lags));
  const together = new Float32Array(lags);
  for (const match of each) match.forEach((x, lag) => (together[lag]! += x));
  const best = loudest(together, 0, lags);
  const around = Math.round(0.01 * rate);
  const rest = together.filter((_, lag) => Math.abs(lag - best) > around);
  const usual = Math.sqrt(rest.reduce((sum, x) => sum + x * x, 0) / Math.max(1, rest.length));
  if (!(Math.abs(together[best]!) > CLEAR * usual)) return null;
  const near = Math.round(0.004 * rate);
  const own = each.map((match) => loudest(match, Math.max(0, best - near), Math.min(lags, best + near + 1)));
  const agree = own.filter((lag) => Math.abs(lag - best) <= STRAY * rate).length;
  return agree < AGREE ? null : best / rate;
}

function click(rate: number): Float32Array {
  const { seconds, from, to } = CLICK;
  return Float32Array.from({ length: Math.round(seconds * rate) }, (_, i) => {
    const t = i / rate;
    const phase = 2 * Math.PI * (from * t + ((to - from) * t * t) / (2 * seconds));
    return Math.sin(phase) * (0.5 - 0.5 * Math.cos((2 * Math.PI * t) / seconds));
  });
}

/** How well a click fits at each lag from `from` on. */
function matches(heard: Float32Array, one: Float32Array, from: number, lags: number): Float32Array {
  return Float32Array.from({ length: lags }, (_, lag) => {
    let sum = 0;
    for (let i = 0; i < one.length; i++) sum += one[i]! * (heard[from + lag + i] ?? 0);
    return sum;
  });
}

/** A loudspeaker may turn the sound upside down, so the sign does not count. */
function loudest(values: Float32Array, from: number, to: number): number {
  let best = from;
  for (let i = from; i < to; i++) if (Math.abs(values[i]!) > Math.abs(values[best]!)) best = i;
  return best;
}
