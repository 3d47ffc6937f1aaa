import { frequency, randomFor } from '../../src/engine/index.ts';

/**
 * A plucked string (K. Karplus and A. Strong, Digital synthesis of plucked-string and drum timbres, Computer
 * Music Journal 7(2), 1983), tuned to the fraction of a sample by an all-pass as in Jaffe and Smith, the same
 * issue.
 * @param key MIDI key, fractions allowed
 * @param bright 0 (dull) to 1 (bright): how much of the noise the plectrum leaves in
 * @param seed of the noise it begins with
 */
export function pluck(
  key: number,
  seconds: number,
  rate: number,
  { bright = 0.5, seed = 1, level = 0.4 } = {},
): Float32Array {
  const random = randomFor(seed, 'pluck', String(key));
  const period = rate / frequency(key);
  const length = Math.floor(period - 0.5 - 0.1);
  const fraction = period - 0.5 - length;
  const allpass = (1 - fraction) / (1 + fraction);
  const string = new Float32Array(length);
  let last = 0;
  for (let i = 0; i < length; i++) {
    last = bright * (2 * random.next() - 1) + (1 - bright) * last;
    string[i] = last;
  }
  const mean = string.reduce((sum, x) => sum + x, 0) / length;
  const peak = string.reduce((most, x) => Math.max(most, Math.abs(x - mean)), 0);
  for (let i = 0; i < length; i++) string[i] = ((string[i]! - mean) / peak) * level;
  const loss = 0.001 ** (1 / (frequency(key) * (key < 64 ? 4 : 2.5)));
  const out = new Float32Array(Math.round(seconds * rate));
  let [previous, before, after] = [0, 0, 0];
  for (let i = 0; i < out.length; i++) {
    const x = string[i % length]!;
    out[i] = x;
    const damped = loss * 0.5 * (x + previous);
    previous = x;
    after = allpass * damped + before - allpass * after;
    before = damped;
    string[i % length] = after;
  }
  return out;
}

/** Sounds one after the other, each let go as the next begins, with some silence first. */
export function phrase(
  sounds: readonly { readonly at: number; readonly sound: Float32Array }[],
  seconds: number,
  rate: number,
): Float32Array {
  const out = new Float32Array(Math.round(seconds * rate));
  sounds.forEach(({ at, sound }, i) => {
    const from = Math.round(at * rate);
    const to = Math.min(out.length, Math.round((sounds[i + 1]?.at ?? seconds) * rate));
    const fade = 0.004 * rate;
    for (let n = from; n < to && n - from < sound.length; n++) {
      out[n]! += sound[n - from]! * Math.min(1, (to - n) / fade);
    }
  });
  return out;
}
