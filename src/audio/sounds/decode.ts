import { PULSE, RATE, type Entry } from './manifest.ts';

/** A recording ready to be played at a context's rate; its first frame is its onset. */
export interface Recording {
  readonly key: number;
  readonly buffer: AudioBuffer;
  readonly gain: number;
  readonly cents: number;
}

/**
 * Cuts a file into its sounds. Decoders differ in how much of the encoder's delay they take off, so
 * the file begins with a pulse and every sound is counted from where that turns up.
 * @throws RangeError when the file has no pulse
 */
export async function decode(
  file: ArrayBuffer,
  entries: readonly Entry[],
  sampleRate: number,
): Promise<readonly Recording[]> {
  const whole = await new OfflineAudioContext(1, 1, sampleRate).decodeAudioData(file);
  const scale = whole.sampleRate / RATE;
  const pulse = findPulse(whole, 2 * PULSE * scale);
  const channels = Array.from({ length: whole.numberOfChannels }, (_, c) => whole.getChannelData(c));
  return entries.map(({ key, start, frames, gain, cents, mono }) => {
    const first = Math.round(pulse + start * scale);
    const length = Math.round(frames * scale);
    const kept = mono ? channels.slice(0, 1) : channels;
    const buffer = new AudioBuffer({ numberOfChannels: kept.length, length, sampleRate });
    kept.forEach((channel, c) => buffer.copyToChannel(channel.subarray(first, first + length), c));
    return { key, buffer, gain, cents };
  });
}

/** The frame, with a fraction, at which the pulse within the first `within` frames is highest. */
function findPulse(file: AudioBuffer, within: number): number {
  const head = file.getChannelData(0).subarray(0, Math.round(within));
  let best = 0;
  for (let i = 1; i < head.length; i++) if (head[i]! > head[best]!) best = i;
  const [a, b, c] = [head[best - 1] ?? 0, head[best] ?? 0, head[best + 1] ?? 0];
  if (b < 0.2) throw new RangeError(`no pulse in the first ${head.length} frames of the sounds`);
  return best + (a - c) / (2 * (a - 2 * b + c));
}
