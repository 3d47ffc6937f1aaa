/** Low-passes stand a third of an octave apart, the first of them here, Hz. */
const FIRST = 400;
const PER_OCTAVE = 3;
/** Above this share of the sample rate a low-pass is left out. */
const OPEN = 0.4;
/** Quality of the low-passes in dB: no bump at the corner (Butterworth). */
const FLAT = -3.0103;

/**
 * The low-passes that make a part's soft notes dark. They stay in place and all voices of like
 * brightness share one: filters of one part sum to the same as one filter a voice, for less.
 *
 * Sounds of one channel and of two have filters of their own: a filter whose input comes to have another
 * number of channels forgets what it has heard, and what rings in it would break off.
 */
export class Shades {
  readonly #output: AudioNode;
  readonly #filters = new Map<string, AudioNode>();

  constructor(output: AudioNode) {
    this.#output = output;
  }

  /** Where to connect a voice of this brightness, Hz, and of so many channels. */
  at(brightness: number, channelCount: number): AudioNode {
    const { context } = this.#output;
    const step = Math.max(0, Math.round(PER_OCTAVE * Math.log2(brightness / FIRST)));
    const frequency = FIRST * 2 ** (step / PER_OCTAVE);
    if (frequency > OPEN * context.sampleRate) return this.#output;
    const place = `${step} ${channelCount}`;
    const made = this.#filters.get(place);
    if (made !== undefined) return made;
    const fixed = { channelCount, channelCountMode: 'explicit' } as const;
    const filter = new BiquadFilterNode(context, { frequency, Q: FLAT, ...fixed });
    filter.connect(this.#output);
    this.#filters.set(place, filter);
    return filter;
  }
}
