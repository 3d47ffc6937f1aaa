import type { NoteEvent } from '../../engine/index.ts';
import type { Sample } from '../sounds/index.ts';
import type { Sweep, Touch } from './data.ts';

/** How one note is to sound. */
export interface Strike {
  readonly sample: Sample;
  /** Factor on the sample's own gain. */
  readonly level: number;
  /** Factor on the sample's speed. */
  readonly speed: number;
  /** Seconds of the sample left out at its head. */
  readonly skip: number;
  /** Where in a sample that goes round it begins, as a share of it. */
  readonly from: number;
}

/** Time constants after which a dying voice is cut: it is 56 dB down. */
const GONE = 6.5;

/**
 * One sounding note: a source and a gain, given back when it is over.
 */
export class Voice {
  readonly note: NoteEvent;
  readonly touch: Touch;
  /** When it begins, seconds on the context's clock. */
  readonly when: number;
  /** When it is let go, and when another note ends it; it dies at whichever comes first. */
  #letGo = Infinity;
  #ended = Infinity;
  #dying = Infinity;
  #silenced = false;
  readonly #source: AudioBufferSourceNode;
  readonly #gain: GainNode;
  /** Rises and settles, where the sound is held; in a node of its own, for the gain has its endings. */
  readonly #sweep: GainNode | null;
  readonly #level: number;
  /** When its recording is over, and when it is cut, if it is. */
  readonly #runsOut: number;
  #cut = Infinity;

  /**
   * @param when seconds on the context's clock, on a frame
   * @param onOver called once, when the voice has given its nodes back
   */
  constructor(
    context: BaseAudioContext,
    note: NoteEvent,
    touch: Touch,
    strike: Strike,
    when: number,
    output: AudioNode,
    onOver: (voice: Voice) => void,
  ) {
    this.note = note;
    this.touch = touch;
    this.when = when;
    const { buffer, gain, rate, goesRound: loop = false } = strike.sample;
    const speed = rate * strike.speed;
    this.#level = gain * strike.level;
    this.#runsOut = loop ? Infinity : when + (buffer.duration - strike.skip) / speed;
    this.#source = new AudioBufferSourceNode(context, { buffer, playbackRate: speed, loop });
    this.#gain = new GainNode(context, { gain: this.#level });
    this.#sweep = touch.sweep === undefined ? null : sweep(context, touch.sweep, when);
    if (this.#sweep === null) this.#source.connect(this.#gain);
    else this.#source.connect(this.#sweep).connect(this.#gain);
    this.#gain.connect(output);
    this.#source.onended = () => {
      this.free();
      onOver(this);
    };
    // On whole frames, where a sound at its own speed is played as it is.
    const from = loop ? strike.from * buffer.duration : strike.skip;
    this.#source.start(when, Math.round(from * buffer.sampleRate) / buffer.sampleRate);
  }

  /** When nothing of it is left. */
  get over(): number {
    return Math.min(this.#runsOut, this.#cut);
  }

  /** Whether it was silenced, heard or not. */
  get silenced(): boolean {
    return this.#silenced;
  }

  /** When another note ends it; infinite while none does. */
  get ended(): number {
    return this.#ended;
  }

  /** When it begins to die, for either reason. */
  get dying(): number {
    return this.#dying;
  }

  /** Lets it go at a time, instead of the time said before. */
  letGo(when: number, now: number): void {
    this.#letGo = this.touch.release === null ? Infinity : when;
    this.#die(now);
  }

  /** Another note ends it at a time; `Infinity` takes that back. */
  end(when: number, now: number): void {
    this.#ended = when;
    this.#die(now);
  }

  /** Ends it within milliseconds from `now`, whether or not it has begun. */
  silence(now: number): void {
    this.#silenced = true;
    this.#gain.gain.cancelScheduledValues(0);
    this.#gain.gain.setTargetAtTime(0, now, 0.005);
    this.#cutAt(now < this.when ? now : now + 0.035);
  }

  /** Gives its nodes back. */
  free(): void {
    this.#source.onended = null;
    this.#source.disconnect();
    this.#sweep?.disconnect();
    this.#gain.disconnect();
  }

  #die(now: number): void {
    const { release, damp } = this.touch;
    const dying = Math.min(this.#letGo, this.#ended);
    // What has begun to die is not brought back to life.
    if (this.#silenced || dying === this.#dying || this.#dying <= now) return;
    this.#dying = dying;
    const { gain } = this.#gain;
    gain.cancelScheduledValues(0);
    gain.setValueAtTime(this.#level, Math.min(now, this.when));
    if (dying === Infinity) {
      this.#cutAt(this.#runsOut);
      return;
    }
    const constant = this.#ended <= this.#letGo ? damp : (release ?? damp);
    const from = Math.max(dying, this.when);
    gain.setTargetAtTime(0, from, constant);
    this.#cutAt(from + GONE * constant);
  }

  #cutAt(when: number): void {
    this.#source.stop(when);
    this.#cut = when;
  }
}

/** A gain that rises as a brush is put down and settles as its pressure eases. */
function sweep(context: BaseAudioContext, { rise, rest, ease }: Sweep, when: number): GainNode {
  const node = new GainNode(context, { gain: 0 });
  node.gain.setValueAtTime(0, when);
  node.gain.linearRampToValueAtTime(1, when + rise);
  node.gain.setTargetAtTime(rest, when + rise, ease);
  return node;
}
