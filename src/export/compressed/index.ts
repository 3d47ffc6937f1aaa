/**
 * Sound files as small as a phone likes them, made by the codecs of the browser. Heavy: load it when such a
 * file is asked for.
 */
import {
  AudioSample,
  AudioSampleSource,
  BufferTarget,
  canEncodeAudio,
  Mp4OutputFormat,
  OggOutputFormat,
  Output,
  Quality,
  type OutputFormat,
} from 'mediabunny';

/** A codec with the file it goes into. */
interface Kind {
  readonly codec: 'aac' | 'opus';
  readonly format: () => OutputFormat;
  readonly type: string;
  readonly extension: string;
  /** Bits a second, both channels. */
  readonly bitrate: number;
}

/**
 * What is tried, in order. AAC in MPEG-4 is played by every phone, but not every browser can make it; Opus in
 * Ogg (RFC 7845) is free, and its coder comes with the browsers that make sound files at all. The rates are
 * our choice: those at which music in stereo is usually offered.
 */
const KINDS: readonly Kind[] = [
  {
    codec: 'aac',
    format: () => new Mp4OutputFormat({ fastStart: 'in-memory' }),
    type: 'audio/mp4',
    extension: 'm4a',
    bitrate: 192_000,
  },
  {
    codec: 'opus',
    format: () => new OggOutputFormat(),
    type: 'audio/ogg',
    extension: 'ogg',
    bitrate: 128_000,
  },
];

/** Hz: the rate Opus works at. */
const RATE = 48_000;
const CHANNELS = 2;

let found: Promise<Kind | null> | null = null;

/** The first that this browser can make; null where it can make none. */
function kindHere(): Promise<Kind | null> {
  found ??= (async () => {
    for (const kind of KINDS) {
      const { codec, bitrate } = kind;
      const quality = new Quality({ bitrate });
      const options = { numberOfChannels: CHANNELS, sampleRate: RATE, quality };
      if (await canEncodeAudio(codec, options).catch(() => false)) return kind;
    }
    return null;
  })();
  return found;
}

/** What a compressed file's name would end with here, e.g. "m4a"; null where the browser makes none. */
export async function compressedExtension(): Promise<string | null> {
  return (await kindHere())?.extension ?? null;
}

/** Takes the samples of a file piece by piece and compresses them. */
export interface CompressedWriter {
  readonly kind: { readonly type: string; readonly extension: string };
  /** One array of samples a channel, all equally long; 1 is full scale. Settled when there is room for more. */
  add(channels: readonly Float32Array[]): Promise<void>;
  /** The file. */
  end(): Promise<readonly ArrayBuffer[]>;
}

/**
 * A writer of a file with two channels at 48 kHz.
 * @param title what players show while they play it; empty for nothing
 * @throws Error where {@link compressedExtension} says that there is none
 */
export async function compressedWriter(title: string): Promise<CompressedWriter> {
  const kind = await kindHere();
  if (kind === null) throw new Error('this browser has no codec to compress sound with');
  const { codec, format, type, extension, bitrate } = kind;
  const target = new BufferTarget();
  const output = new Output({ format: format(), target });
  const source = new AudioSampleSource({ codec, quality: new Quality({ bitrate }) });
  output.addAudioTrack(source);
  if (title !== '') output.setMetadataTags({ title });
  await output.start();
  let frames = 0;
  return {
    kind: { type, extension },
    async add(channels) {
      const length = channels[0]!.length;
      const data = new Float32Array(CHANNELS * length);
      for (let c = 0; c < CHANNELS; c++) data.set(channels[c]!, c * length);
      const sample = new AudioSample({
        data,
        format: 'f32-planar',
        numberOfChannels: CHANNELS,
        sampleRate: RATE,
        timestamp: frames / RATE,
      });
      frames += length;
      await source.add(sample);
      sample.close();
    },
    async end() {
      await output.finalize();
      return [target.buffer!];
    },
  };
}
