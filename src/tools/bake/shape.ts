import type { Sustain } from './plan.ts';
import type { Stereo } from './soundfont.ts';

/** One or two channels, equally long. */
export type Sound = readonly Float32Array<ArrayBuffer>[];

/** The largest magnitude in any channel. */
export const peakOf = (sound: Sound) =>
  sound.reduce((most, channel) => channel.reduce((peak, x) => Math.max(peak, Math.abs(x)), most), 0);

/** Root mean square over all channels between two times in seconds. */
export function rms(sound: Sound, rate: number, from: number, to: number): number {
  const [first, last] = [Math.round(from * rate), Math.round(to * rate)];
  let sum = 0;
  for (const channel of sound) for (let i = first; i < last; i++) sum += (channel[i] ?? 0) ** 2;
  return Math.sqrt(sum / (sound.length * (last - first)));
}

/** A fully correlated pair, panned by the source, as the one channel it was, at the pair's power. */
export function fold([left, right]: Stereo): Sound {
  const power = (channel: Float32Array) => channel.reduce((sum, x) => sum + x * x, 0);
  const [l, r] = [power(left), power(right)];
  const [a, b] = [Math.sqrt(l / (l + r)), Math.sqrt(r / (l + r))];
  return [left.map((x, i) => (a * x + b * right[i]!) / Math.SQRT2)];
}

/** Whether what the channels differ in lies 17 dB or more below what they share (our choice). */
export function isMono([left, right]: Sound): boolean {
  if (left === undefined || right === undefined) return true;
  let [middle, side] = [0, 0];
  left.forEach((x, i) => {
    middle += (x + right[i]!) ** 2;
    side += (x - right[i]!) ** 2;
  });
  return side < 0.02 * middle;
}

/** How far below the peak, as a factor, the first frame of a sound lies: -40 dB. */
const ONSET = 0.01;
/** Where a sound is taken to have died away, relative to the peak: -54 dB. */
const SILENCE = 0.002;

/**
 * The sound from its first audible frame to where it has died away, at most `seconds` long, its end
 * faded over `fade` seconds.
 */
export function trim(sound: Sound, rate: number, seconds: number, fade: number): Sound {
  const peak = peakOf(sound);
  const loud = (limit: number) => (i: number) =>
    sound.some((channel) => Math.abs(channel[i]!) >= peak * limit);
  const length = sound[0]!.length;
  let from = 0;
  while (!loud(ONSET)(from)) from++;
  let to = length;
  while (!loud(SILENCE)(to - 1)) to--;
  to = Math.min(to, from + Math.round(seconds * rate));
  const frames = Math.min(Math.round(fade * rate), to - from);
  return sound.map((channel) =>
    channel.slice(from, to).map((x, i) => {
      const left = to - from - i;
      return left >= frames ? x : x * Math.sin((Math.PI / 2) * (left / frames)) ** 2;
    }),
  );
}

/** Lifts what has died away too fast up to `wanted`, by a gain that moves evenly in dB. */
export function lift(sound: Sound, rate: number, wanted: Sustain): Sound {
  const top = peakOf(sound);
  const lack = (at: number, below: number) => {
    const level = 20 * Math.log10(rms(sound, rate, at - 0.05, at + 0.05) / top);
    return Math.min(wanted.most, Math.max(0, -below - level));
  };
  const quarter = lack(0.25, wanted.quarter);
  const one = Math.max(quarter, lack(1, wanted.one));
  const points = [
    [0, 0],
    [0.04, 0],
    [0.25, quarter],
    [1, one],
    [Infinity, one],
  ] as const;
  const gain = (time: number) => {
    const next = points.findIndex(([at]) => at > time);
    const [from, to] = [points[next - 1]!, points[next]!];
    const share = to[0] === Infinity ? 0 : (time - from[0]) / (to[0] - from[0]);
    return 10 ** ((from[1] + share * (to[1] - from[1])) / 20);
  };
  return sound.map((channel) => channel.map((x, i) => x * gain(i / rate)));
}

/**
 * Gains that lay the levels of neighbouring keys on a straight line in dB, each moved by at most
 * `most` dB.
 * @param levels dB, by key
 * @returns factors, in the order given
 */
export function evened(
  levels: readonly { readonly key: number; readonly level: number }[],
  most = 6,
): number[] {
  const count = levels.length;
  const mean = (value: (x: { key: number; level: number }) => number) =>
    levels.reduce((sum, x) => sum + value(x), 0) / count;
  const [key, level] = [mean((x) => x.key), mean((x) => x.level)];
  const slope = mean((x) => (x.key - key) * (x.level - level)) / (mean((x) => (x.key - key) ** 2) || 1);
  return levels.map((x) => {
    const off = level + slope * (x.key - key) - x.level;
    return 10 ** (Math.min(most, Math.max(-most, off)) / 20);
  });
}
