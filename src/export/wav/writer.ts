import { randomFor, type Random } from '../../engine/index.ts';
import { LAYOUTS, MOST_BYTES, type WavDepth } from './data.ts';
import { header, type WavFormat } from './header.ts';

/** Writes a sound to the bytes of a WAV file, piece by piece. */
export interface WavWriter {
  /** One array of samples a channel, all equally long; 1 is full scale. */
  add(channels: readonly Float32Array[]): void;
  /**
   * The pieces of the file, in order.
   * @throws RangeError when not as many frames were added as were announced
   */
  end(): readonly Uint8Array<ArrayBuffer>[];
}

/**
 * A writer of a WAV file of a known length. To 16 and 24 bits the samples are rounded with triangular
 * dither of one step either way, which makes the error of rounding a steady, faint noise that has
 * nothing to do with the music (Lipshitz, Wannamaker and Vanderkooy, Quantization and Dither: A
 * Theoretical Survey, Journal of the Audio Engineering Society 40(5), 1992; from memory). The noise is
 * seeded: the same sound gives the same bytes.
 * @throws RangeError when the file would be longer than a WAV file can be
 */
export function wavWriter(format: WavFormat, frames: number, seed = 1): WavWriter {
  const { channels, depth } = format;
  const bytes = LAYOUTS[depth].bytes * channels;
  if (!(frames >= 0 && frames * bytes + 100 <= MOST_BYTES)) {
    throw new RangeError(`a WAV file cannot hold ${frames} frames of ${bytes} bytes`);
  }
  const random = randomFor(seed, 'dither');
  const pieces = [header(format, frames)];
  let written = 0;
  return {
    add(samples) {
      const length = samples[0]!.length;
      const piece = new Uint8Array(length * bytes);
      samples.forEach((channel, c) => write(channel, piece, c, channels, depth, random));
      pieces.push(piece);
      written += length;
    },
    end() {
      if (written !== frames) throw new RangeError(`${frames} frames were announced, ${written} came`);
      if ((frames * bytes) % 2 === 1) pieces.push(new Uint8Array(1));
      return pieces;
    },
  };
}

/** One channel's samples into their places among those of all. */
function write(
  channel: Float32Array,
  piece: Uint8Array<ArrayBuffer>,
  which: number,
  channels: number,
  depth: WavDepth,
  random: Random,
): void {
  const view = new DataView(piece.buffer);
  const size = LAYOUTS[depth].bytes;
  const step = size * channels;
  let at = which * size;
  for (let i = 0; i < channel.length; i++, at += step) {
    if (depth === 'float') {
      view.setFloat32(at, channel[i]!, true);
    } else if (depth === 16) {
      view.setInt16(at, whole(channel[i]!, 2 ** 15, random), true);
    } else {
      const value = whole(channel[i]!, 2 ** 23, random);
      view.setUint16(at, value & 0xffff, true);
      view.setInt8(at + 2, value >> 16);
    }
  }
}

/** A sample in whole steps, dithered; never beyond full scale. */
function whole(sample: number, scale: number, random: Random): number {
  const dithered = Math.round(sample * scale + random.next() - random.next());
  return Math.min(scale - 1, Math.max(-scale, dithered));
}
