import type { Mixer } from '../mixer/index.ts';
import type { Balance, Guest } from '../types.ts';

/** How long the fade at the end is, seconds; the mixer's gate shuts in the same time. */
const FADE = 0.05;

/** Plays a recording with the music, from wherever the music begins. */
export class Accompaniment {
  guest: Guest | null = null;
  balance: Balance = { band: 1, guest: 1 };
  #playing: AudioBufferSourceNode | null = null;

  /** Begins with the music, whose tick `from` lies at `begin` on the audio clock. */
  start(mixer: Mixer, from: number, begin: number): void {
    mixer.setBalance(this.guest === null ? { band: 1, guest: 1 } : this.balance);
    if (this.guest === null) return;
    const { sound } = this.guest;
    const into = this.guest.at(from);
    if (into >= sound.duration) return;
    const input = mixer.guest();
    const node = new AudioBufferSourceNode(input.context, { buffer: sound });
    node.connect(input);
    node.start(begin + Math.max(0, -into), Math.max(0, into));
    node.onended = () => node.disconnect();
    this.#playing = node;
  }

  stop(): void {
    this.#playing?.stop(this.#playing.context.currentTime + FADE);
    this.#playing = null;
  }
}
