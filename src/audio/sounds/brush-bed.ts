import { randomFor } from '../../engine/index.ts';

/** Seconds of the bed before it comes round: too long to be heard as a pattern (our choice). */
const LENGTH = 3.7;
/** Seconds of one piece of the recording, and how far apart pieces begin. */
const GRAIN = 0.18;
const HOP = GRAIN / 4;
/** Seconds over which the recording's own swell is measured and evened out. */
const SWELL = 0.03;
/** The share of the loudest moment below which nothing of the recording is taken. */
const FLOOR = 0.15;

/**
 * A steady swish without an end, from the recording of one brush stroke: short pieces of it from seeded
 * places, its swell evened out, laid over each other so that their power sums to a constant, and round
 * into the beginning. As loud as the loudest part of the stroke. The same every time.
 */
export function brushBed(stroke: AudioBuffer): AudioBuffer {
  const { sampleRate, numberOfChannels } = stroke;
  const frames = (seconds: number) => Math.round(seconds * sampleRate);
  const channels = Array.from({ length: numberOfChannels }, (_, c) => stroke.getChannelData(c));
  const swell = swellOf(channels, frames(SWELL));
  const loudest = swell.reduce((most, level) => Math.max(most, level), 0);
  const first = swell.findIndex((level) => level > FLOOR * loudest);
  const last = swell.findLastIndex((level) => level > FLOOR * loudest);
  const grain = Math.max(2, Math.min(frames(GRAIN), last - first));
  const hop = Math.max(1, Math.round((grain * HOP) / GRAIN));
  const length = Math.max(1, Math.round(frames(LENGTH) / hop)) * hop;
  const bed = new AudioBuffer({ numberOfChannels, length, sampleRate });
  const sums = channels.map(() => new Float32Array(length));
  const random = randomFor(1, 'brush bed');
  // Four pieces lie over each other; the squares of a half sine sum to two.
  const scale = loudest / Math.SQRT2;
  for (let at = 0; at < length; at += hop) {
    const from = first + Math.floor(random.next() * Math.max(1, last - first - grain));
    for (let i = 0; i < grain; i++) {
      const weight = (scale * Math.sin((Math.PI * (i + 0.5)) / grain)) / swell[from + i]!;
      const place = (at + i) % length;
      channels.forEach((channel, c) => (sums[c]![place]! += weight * channel[from + i]!));
    }
  }
  sums.forEach((sum, c) => bed.copyToChannel(sum, c));
  return bed;
}

/** The level around each frame, root mean square of all channels over `width` frames; never 0. */
function swellOf(channels: readonly Float32Array[], width: number): Float32Array {
  const length = channels[0]!.length;
  const sums = new Float64Array(length + 1);
  for (let i = 0; i < length; i++) {
    sums[i + 1] = sums[i]! + channels.reduce((sum, channel) => sum + channel[i]! ** 2, 0);
  }
  const half = Math.round(width / 2);
  return Float32Array.from({ length }, (_, i) => {
    const [from, to] = [Math.max(0, i - half), Math.min(length, i + half)];
    return Math.sqrt((sums[to]! - sums[from]!) / ((to - from) * channels.length)) + 1e-9;
  });
}
