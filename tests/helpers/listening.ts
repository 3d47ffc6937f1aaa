/** Measures of rendered sound, made apart from the code they judge. Times in seconds, levels in dB of full scale. */

export const decibels = (factor: number) => 20 * Math.log10(Math.max(factor, 1e-12));

/** The first channel's samples between two times. */
export function cut(sound: AudioBuffer, from: number, to: number, channel = 0): Float32Array<ArrayBuffer> {
  const rate = sound.sampleRate;
  return sound.getChannelData(channel).slice(Math.round(from * rate), Math.round(to * rate));
}

/** The largest sample of either channel between two times, as a factor. */
export function peak(sound: AudioBuffer, from = 0, to = sound.duration): number {
  let most = 0;
  for (let c = 0; c < sound.numberOfChannels; c++) {
    for (const x of cut(sound, from, to, c)) most = Math.max(most, Math.abs(x));
  }
  return most;
}

/** Root mean square of both channels between two times, as a factor. */
export function rms(sound: AudioBuffer, from = 0, to = sound.duration): number {
  let [sum, count] = [0, 0];
  for (let c = 0; c < sound.numberOfChannels; c++) {
    const part = cut(sound, from, to, c);
    for (const x of part) sum += x * x;
    count += part.length;
  }
  return Math.sqrt(sum / count);
}

/** The largest difference between two sounds of one length, as a factor. */
export function difference(a: Float32Array, b: Float32Array): number {
  return a.reduce((most, x, i) => Math.max(most, Math.abs(x - b[i]!)), 0);
}

/** Frames at which sound begins after at least `gap` frames of silence; `floor` is what counts as sound. */
export function onsets(samples: Float32Array, gap = 200, floor = 1e-4): number[] {
  const found: number[] = [];
  let quiet = gap;
  samples.forEach((x, i) => {
    if (Math.abs(x) < floor) quiet++;
    else {
      if (quiet >= gap) found.push(i);
      quiet = 0;
    }
  });
  return found;
}

/**
 * How far a sound lies above a key of equal temperament at A4 = 440 Hz (ISO 16:1975): the fundamental
 * whose first three harmonics together carry the most power, by a Fourier sum at every candidate.
 * @returns cents
 */
export function centsAbove(key: number, samples: Float32Array, rate: number): number {
  const window = samples.map((x, i) => x * (0.5 - 0.5 * Math.cos((2 * Math.PI * i) / samples.length)));
  const power = (cents: number) => {
    const pitch = 440 * 2 ** ((key - 69) / 12 + cents / 1200);
    let sum = 0;
    for (let harmonic = 1; harmonic <= 3; harmonic++) {
      // Goertzel's algorithm.
      const turn = 2 * Math.cos((2 * Math.PI * pitch * harmonic) / rate);
      let [one, two] = [0, 0];
      for (let i = 0; i < window.length; i++) {
        const next = window[i]! + turn * one - two;
        two = one;
        one = next;
      }
      sum += one * one + two * two - turn * one * two;
    }
    return sum;
  };
  let [best, step] = [0, 8];
  for (let span = 64; step > 0.05; step /= 4, span /= 4) {
    const middle = best;
    let most = -1;
    for (let cents = middle - span; cents <= middle + span; cents += step) {
      const here = power(cents);
      if (here > most) [most, best] = [here, cents];
    }
  }
  return best;
}

/** The frequency around which a sound's power lies (root of its second moment), Hz: brightness. */
export function brightness(samples: Float32Array, rate: number): number {
  let [slope, power] = [0, 0];
  for (let i = 1; i < samples.length; i++) {
    slope += (samples[i]! - samples[i - 1]!) ** 2;
    power += samples[i]! ** 2;
  }
  return (rate / Math.PI) * Math.asin(Math.min(1, Math.sqrt(slope / power) / 2));
}

/**
 * The true peak, as a factor: sampled eight times as often, by a sinc of 32 samples under a Kaiser
 * window (finer than the fourfold sampling ITU-R BS.1770 asks for).
 */
export function truePeak(sound: AudioBuffer): number {
  const [RATIO, HALF, BETA] = [8, 16, 7];
  const bessel = (x: number) => {
    let [sum, term] = [1, 1];
    for (let k = 1; k < 30; k++) sum += term *= (x / 2 / k) ** 2;
    return sum;
  };
  const phases = Array.from({ length: RATIO }, (_, p) =>
    Float64Array.from({ length: 2 * HALF }, (__, k) => {
      const off = k - HALF + 1 - p / RATIO;
      const window = bessel(BETA * Math.sqrt(Math.max(0, 1 - (off / HALF) ** 2))) / bessel(BETA);
      return off === 0 ? 1 : (Math.sin(Math.PI * off) / (Math.PI * off)) * window;
    }),
  );
  let most = 0;
  for (let c = 0; c < sound.numberOfChannels; c++) {
    const x = sound.getChannelData(c);
    for (let i = HALF; i < x.length - HALF; i++) {
      // Far from the loudest sample nothing between samples is louder.
      if (Math.abs(x[i]!) < 0.4 * most && Math.abs(x[i + 1]!) < 0.4 * most) continue;
      for (const taps of phases) {
        let sum = 0;
        for (let k = 0; k < 2 * HALF; k++) sum += taps[k]! * x[i - HALF + 1 + k]!;
        most = Math.max(most, Math.abs(sum));
      }
    }
  }
  return most;
}

/**
 * Loudness by ITU-R BS.1770 over the whole sound, ungated, at 48 kHz: both channels through the
 * standard's two filters (its table of coefficients), then mean power.
 * @returns LUFS
 */
export function loudness(sound: AudioBuffer): number {
  if (sound.sampleRate !== 48000)
    throw new RangeError(`the filters are for 48000 Hz, not ${sound.sampleRate}`);
  let power = 0;
  for (let c = 0; c < sound.numberOfChannels; c++) {
    const shelf = biquad(
      Float64Array.from(sound.getChannelData(c)),
      [1.53512485958697, -2.69169618940638, 1.19839281085285],
      [-1.69065929318241, 0.73248077421585],
    );
    const weighted = biquad(shelf, [1, -2, 1], [-1.99004745483398, 0.99007225036621]);
    power += weighted.reduce((sum, x) => sum + x * x, 0) / weighted.length;
  }
  return -0.691 + 10 * Math.log10(power);
}

/**
 * What a small loudspeaker, as in a laptop, makes of a sound: it falls by 24 dB an octave below 200 Hz
 * (two high-passes of second order that make a Butterworth filter of fourth; the corner is our choice).
 */
export function throughSmallSpeaker(sound: AudioBuffer): AudioBuffer {
  const { length, sampleRate, numberOfChannels } = sound;
  const out = new AudioBuffer({ numberOfChannels, length, sampleRate });
  const turn = (2 * Math.PI * 200) / sampleRate;
  for (let c = 0; c < numberOfChannels; c++) {
    let samples = Float64Array.from(sound.getChannelData(c));
    for (const q of [0.5412, 1.3066]) {
      const alpha = Math.sin(turn) / (2 * q);
      const norm = 1 + alpha;
      const side = (1 + Math.cos(turn)) / 2 / norm;
      samples = biquad(
        samples,
        [side, -2 * side, side],
        [(-2 * Math.cos(turn)) / norm, (1 - alpha) / norm],
      ) as Float64Array<ArrayBuffer>;
    }
    out.copyToChannel(Float32Array.from(samples), c);
  }
  return out;
}

type Feed = readonly [number, number, number];

function biquad(x: Float64Array, [b0, b1, b2]: Feed, [a1, a2]: readonly [number, number]): Float64Array {
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  return x.map((x0) => {
    const y0 = b0 * x0 + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2;
    [x2, x1, y2, y1] = [x1, x0, y1, y0];
    return y0;
  });
}
