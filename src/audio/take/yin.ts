/** What one look at the sound has found. */
export interface Reading {
  /** Hz. */
  readonly pitch: number;
  /** 0 (repeats exactly) to 1 and more (noise): the dip of the normalised difference. */
  readonly aperiodicity: number;
}

/** Pitches that are looked for, Hz: a seven-string guitar's B with a tone to spare, to above the 24th fret. */
const [LOWEST, HIGHEST] = [58, 1480];
/** The first dip below this is the period (de Cheveigné and Kawahara 2002, step 4, with 0.1). */
const THRESHOLD = 0.1;
/** How much sound is compared with its delayed self, seconds (their choice is 25 ms; ours for quick notes). */
const WINDOW = 0.0214;

/**
 * YIN: the period of a sound is the delay after which it differs least from itself (A. de Cheveigné and
 * H. Kawahara, YIN, a fundamental frequency estimator for speech and music, Journal of the Acoustical
 * Society of America 111(4), 2002; steps 2 to 5, the step numbers stand below).
 */
export class Yin {
  /** How many samples one look needs. */
  readonly span: number;
  readonly #rate: number;
  readonly #window: number;
  readonly #shortest: number;
  readonly #difference: Float32Array;

  /** @param rate samples a second; about 24000 is enough for a guitar */
  constructor(rate: number) {
    this.#rate = rate;
    this.#window = Math.round(WINDOW * rate);
    this.#shortest = Math.max(2, Math.floor(rate / HIGHEST));
    this.#difference = new Float32Array(Math.ceil(rate / LOWEST) + 2);
    this.span = this.#window + this.#difference.length;
  }

  /** Looks at `span` samples from `from` on; null where they are silent. */
  read(samples: Float32Array, from: number): Reading | null {
    const d = this.#difference;
    const last = d.length - 2;
    let best = this.#shortest;
    let sum = 0;
    let reached = 0;
    /** Steps 2 and 3 as far as they are needed: the difference over the mean of those at shorter delays. */
    const reach = (tau: number) => {
      for (; reached < tau; d[reached] = sum > 0 ? (d[reached]! * reached) / sum : 1) {
        sum += d[++reached] = this.#differenceAt(samples, from, reached);
      }
    };
    d[0] = 1;
    for (let tau = this.#shortest; tau <= last; tau++) {
      reach(tau + 1);
      if (d[tau]! < d[best]!) best = tau;
      // Step 4: down to the bottom of the first dip that is deep enough.
      if (d[tau]! >= THRESHOLD) continue;
      while (tau < last && d[tau + 1]! < d[tau]!) reach(++tau + 1);
      best = tau;
      break;
    }
    if (sum === 0) return null;
    const { at, depth } = bottom(d[best - 1]!, d[best]!, d[best + 1]!);
    return { pitch: this.#rate / (best + at), aperiodicity: Math.max(0, depth) };
  }

  #differenceAt(samples: Float32Array, from: number, tau: number): number {
    let difference = 0;
    for (let i = from, end = from + this.#window; i < end; i++) {
      const delta = samples[i]! - samples[i + tau]!;
      difference += delta * delta;
    }
    return difference;
  }
}

/** Step 5: the bottom of the parabola through three points, from the middle one. */
function bottom(left: number, middle: number, right: number): { at: number; depth: number } {
  const curve = left - 2 * middle + right;
  if (!(curve > 0)) return { at: 0, depth: middle };
  const at = Math.max(-1, Math.min(1, (left - right) / (2 * curve)));
  return { at, depth: middle - ((left - right) * at) / 4 };
}
