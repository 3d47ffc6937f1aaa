import { Limiter, limiterDelay, limiterFor } from '../mixer/index.ts';
import { LoudnessMeter } from './loudness.ts';

/**
 * The loudness of a sound file, LUFS. Our choice: the level the Audio Engineering Society recommends at
 * most for music that is streamed (AES TD1004.1.15-10, −16 to −20 LUFS; from memory), at which a trio
 * keeps its strokes: the limiter has to catch a few of them only.
 */
export const TARGET_LUFS = -16;

/** How near the gain is brought to the target, LU, and in how many rounds at most. */
const NEAR = 0.1;
const ROUNDS = 4;
/** No quiet recording is lifted by more, as a factor: 30 dB. */
const MOST_GAIN = 31.6;

/** Frames handled in one go: a few milliseconds of work, so that the page and the music go on. */
const CHUNK = 32768;

/** Called between two pieces of work; may wait, and may throw to end it all. */
export type Pause = () => Promise<void>;

/** Left and right, equally long. */
export type Stereo = readonly [Float32Array<ArrayBuffer>, Float32Array<ArrayBuffer>];

/** A stereo sound that is there as a whole. */
export interface WholeSound {
  readonly sampleRate: number;
  readonly length: number;
  getChannelData(channel: number): Float32Array<ArrayBuffer>;
}

/**
 * The factor that brings a sound to {@link TARGET_LUFS} once the limiter has taken its peaks; 1 for
 * silence.
 */
export async function gainFor(sound: WholeSound, pause: Pause): Promise<number> {
  const plain = new LoudnessMeter(sound.sampleRate);
  for (const [left, right] of pieces(sound)) {
    plain.add(left, right);
    await pause();
  }
  if (plain.integrated === -Infinity) return 1;
  let gain = limited(10 ** ((TARGET_LUFS - plain.integrated) / 20));
  for (let round = 1; round < ROUNDS; round++) {
    const meter = new LoudnessMeter(sound.sampleRate);
    for (const [left, right] of mastered(sound, gain)) {
      meter.add(left, right);
      await pause();
    }
    const off = TARGET_LUFS - meter.integrated;
    if (Math.abs(off) < NEAR) break;
    gain = limited(gain * 10 ** (off / 20));
  }
  return gain;
}

const limited = (gain: number) => Math.min(MOST_GAIN, gain);

/** The sound times a factor, through the limiter: as many frames as went in, piece by piece. */
export function* mastered(sound: WholeSound, gain: number): Generator<Stereo> {
  const options = limiterFor(sound.sampleRate);
  const limiter = new Limiter(options);
  let late = limiterDelay(options);
  for (const [left, right] of pieces(sound, late)) {
    const louder = (x: number) => gain * x;
    const [l, r] = [left.map(louder), right.map(louder)];
    limiter.process(l, r, l, r);
    const skipped = Math.min(late, l.length);
    late -= skipped;
    yield [l.subarray(skipped), r.subarray(skipped)];
  }
}

/** A sound in pieces, with silence after it. */
function* pieces(sound: WholeSound, after = 0): Generator<Stereo> {
  const [left, right] = [sound.getChannelData(0), sound.getChannelData(1)];
  for (let at = 0; at < sound.length; at += CHUNK) {
    yield [left.subarray(at, at + CHUNK), right.subarray(at, at + CHUNK)];
  }
  if (after > 0) yield [new Float32Array(after), new Float32Array(after)];
}
