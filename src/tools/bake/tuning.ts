import type { Sound } from './shape.ts';

/** Frequency of a MIDI key in equal temperament at A4 = 440 Hz (ISO 16:1975), Hz. */
const frequency = (key: number) => 440 * 2 ** ((key - 69) / 12);

/** Its lowest harmonics, which are what a tuner listens to: strings stretch the upper ones. */
function lowest(sound: Sound, rate: number, key: number): Sound {
  const corner = Math.tan((Math.PI * 2.5 * frequency(key)) / rate);
  const once = (x: Float32Array<ArrayBuffer>) => {
    // A Butterworth low-pass by the bilinear transform.
    const norm = 1 / (1 + Math.SQRT2 * corner + corner ** 2);
    const [b, a1, a2] = [
      corner ** 2 * norm,
      2 * (corner ** 2 - 1) * norm,
      (1 - Math.SQRT2 * corner + corner ** 2) * norm,
    ];
    let [x1, x2, y1, y2] = [0, 0, 0, 0];
    return x.map((x0) => {
      const y0 = b * (x0 + 2 * x1 + x2) - a1 * y1 - a2 * y2;
      [x2, x1, y2, y1] = [x1, x0, y1, y0];
      return y0;
    });
  };
  return sound.map((channel) => once(once(channel)));
}

/**
 * How far a sound lies above equal temperament around a moment, by the period at which it is most
 * like itself: the peak of the normalized squared difference near the expected period, refined by
 * a parabola and then read over several periods, so that they share the error.
 * @param from where the look begins, seconds
 * @param seconds how much is compared
 * @returns cents
 */
export function centsAt(sound: Sound, rate: number, key: number, from: number, seconds: number): number {
  return read(lowest(sound, rate, key)[0]!, rate, key, from, seconds);
}

function read(x: Float32Array, rate: number, key: number, from: number, seconds: number): number {
  const expected = rate / frequency(key);
  const first = Math.round(from * rate);
  const window = Math.round(Math.max(seconds * rate, 4 * expected));
  let period = expected;
  for (let periods = 1; periods * period < 0.08 * rate; periods *= 2) {
    if (first + window + periods * period * 1.03 + 2 > x.length) break;
    // The first look spans half a semitone each way, later ones an eighth of a period.
    const span = periods === 1 ? expected * 0.03 : Math.max(2, period / 8);
    period = bestLag(x, first, window, period * periods, span) / periods;
  }
  return 1200 * Math.log2(expected / period);
}

function bestLag(x: Float32Array, from: number, window: number, near: number, span: number): number {
  const likeness = (lag: number) => {
    let product = 0;
    let power = 0;
    for (let i = from; i < from + window; i++) {
      const [a, b] = [x[i]!, x[i + lag]!];
      product += a * b;
      power += a * a + b * b;
    }
    return (2 * product) / power;
  };
  let best = Math.round(near);
  let most = -Infinity;
  for (let lag = Math.floor(near - span); lag <= Math.ceil(near + span); lag++) {
    const here = likeness(lag);
    if (here > most) [best, most] = [lag, here];
  }
  const [a, b, c] = [likeness(best - 1), most, likeness(best + 1)];
  return best + (a - c) / (2 * (a - 2 * b + c));
}

/** Moments, in seconds, at which a drifting pitch is read, and how much is compared at each. */
const READINGS = [0.02, 0.06, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.7, 1, 1.5, 2];
const WINDOW = 0.09;

/** The sound played at the speed that keeps it at the pitch of `key` throughout. */
export function straighten(sound: Sound, rate: number, key: number): Sound {
  const low = lowest(sound, rate, key)[0]!;
  const readings = READINGS.map((at) => ({ at, cents: read(low, rate, key, at, WINDOW) }));
  // A reading tells of the middle of what it compared.
  const middle = (at: number) => at + Math.max(WINDOW, 4 / frequency(key)) / 2;
  const cents = (time: number) => {
    const next = readings.findIndex(({ at }) => middle(at) > time);
    if (next === 0) return readings[0]!.cents;
    if (next < 0) return readings.at(-1)!.cents;
    const [a, b] = [readings[next - 1]!, readings[next]!];
    return a.cents + ((time - middle(a.at)) / (middle(b.at) - middle(a.at))) * (b.cents - a.cents);
  };
  const length = sound[0]!.length;
  const places: number[] = [];
  for (let at = 0; at < length - 1; at += 2 ** (-cents(at / rate) / 1200)) places.push(at);
  return sound.map((channel) => Float32Array.from(places, (at) => between(channel, at)));
}

/** Taps each side of the point looked up. */
const TAPS = 16;

/** The value between frames, by a sinc under a Hann window. */
function between(x: Float32Array, at: number): number {
  const frame = Math.floor(at);
  const part = at - frame;
  if (part < 1e-9) return x[frame]!;
  let sum = 0;
  for (let i = 1 - TAPS; i <= TAPS; i++) {
    const off = part - i;
    const window = 0.5 + 0.5 * Math.cos((Math.PI * off) / (TAPS + 1));
    sum += (x[frame + i] ?? 0) * (Math.sin(Math.PI * off) / (Math.PI * off)) * window;
  }
  return sum;
}
