/**
 * Speeds at which a stroke is taken anew, as if the stick met another place: a ninth of a semitone either
 * way at most (our choice: enough to take the machine out of a ride, too little to be heard as a pitch).
 */
const SPEEDS = [0.9935, 0.998, 1.002, 1.0065] as const;
/** Longer sounds, such as crashes, are struck too seldom to need it, seconds. */
const LONGEST = 2.5;

/**
 * Other takes of one recorded stroke. They are made once instead of being played at another speed, since
 * a browser plays a sound at its own speed for a third of the work.
 */
export function takesOf(stroke: AudioBuffer): readonly AudioBuffer[] {
  if (stroke.duration > LONGEST) return [stroke];
  return SPEEDS.map((speed) => {
    const { numberOfChannels, sampleRate } = stroke;
    const length = Math.max(1, Math.floor(stroke.length / speed));
    const take = new AudioBuffer({ numberOfChannels, length, sampleRate });
    for (let c = 0; c < numberOfChannels; c++) {
      take.copyToChannel(resampled(stroke.getChannelData(c), speed, length), c);
    }
    return take;
  });
}

/** Samples read at another speed, by cubic curves through four neighbours (Catmull and Rom). */
function resampled(samples: Float32Array, speed: number, length: number): Float32Array<ArrayBuffer> {
  const at = (i: number) => samples[i] ?? 0;
  return Float32Array.from({ length }, (_, i) => {
    const place = i * speed;
    const k = Math.floor(place);
    const t = place - k;
    const [a, b, c, d] = [at(k - 1), at(k), at(k + 1), at(k + 2)];
    return b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
  });
}
