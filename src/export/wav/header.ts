import { LAYOUTS, PCM_GUID, SPEAKERS, type WavDepth } from './data.ts';

/** What a file is made of. */
export interface WavFormat {
  readonly channels: 1 | 2;
  /** Hz. */
  readonly sampleRate: number;
  readonly depth: WavDepth;
}

/** The bytes before the samples, for `frames` of them. */
export function header(format: WavFormat, frames: number): Uint8Array<ArrayBuffer> {
  const { channels, sampleRate, depth } = format;
  const { tag, bytes, formatSize } = LAYOUTS[depth];
  const dataSize = frames * channels * bytes;
  const isPcm = depth === 16;
  const size = 12 + 8 + formatSize + (isPcm ? 0 : 12) + 8;
  const file = new DataView(new ArrayBuffer(size));
  let at = 0;
  const word = (text: string) => [...text].forEach((c) => file.setUint8(at++, c.charCodeAt(0)));
  const two = (value: number) => (file.setUint16(at, value, true), (at += 2));
  const four = (value: number) => (file.setUint32(at, value, true), (at += 4));

  word('RIFF');
  four(size - 8 + dataSize + (dataSize % 2));
  word('WAVE');
  word('fmt ');
  four(formatSize);
  two(tag);
  two(channels);
  four(sampleRate);
  four(sampleRate * channels * bytes);
  two(channels * bytes);
  two(8 * bytes);
  if (formatSize > 16) two(formatSize - 18);
  if (depth === 24) {
    two(24);
    four(SPEAKERS[channels]!);
    PCM_GUID.forEach((byte) => file.setUint8(at++, byte));
  }
  if (!isPcm) {
    word('fact');
    four(4);
    four(frames);
  }
  word('data');
  four(dataSize);
  return new Uint8Array(file.buffer);
}
