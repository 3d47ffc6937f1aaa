import { frequency } from '../../engine/index.ts';

/** As many partials are weighed. */
const PARTIALS = 11;
/**
 * Partials that two strings a fifth, a fourth or a third apart leave out of the series they share (2:3, 3:4,
 * 4:5, 5:6; computed): where these are silent, the "note" is nobody's.
 */
const TELLING: readonly number[] = [1, 7, 11];
/** The least share of power in them that one string has: -30 dB (our choice, by measure). */
const LEAST = 1e-3;

/** Whether the partials over a pitch are those of one string. */
export function isOneString(samples: Float32Array, key: number, rate: number): boolean {
  let [telling, all] = [0, 0];
  for (let n = 1; n <= PARTIALS; n++) {
    const pitch = frequency(key) * n;
    if (pitch > rate * 0.45) break;
    const power = powerAt(samples, pitch, rate);
    all += power;
    if (TELLING.includes(n)) telling += power;
  }
  return telling >= LEAST * all;
}

/** Goertzel's algorithm under a Hann window. */
function powerAt(samples: Float32Array, pitch: number, rate: number): number {
  const turn = 2 * Math.cos((2 * Math.PI * pitch) / rate);
  let [one, two] = [0, 0];
  for (let i = 0; i < samples.length; i++) {
    const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / samples.length);
    const next = samples[i]! * window + turn * one - two;
    two = one;
    one = next;
  }
  return one * one + two * two - turn * one * two;
}
