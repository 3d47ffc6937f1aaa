import type { Session } from './session.svelte.ts';

/** A pause of this length has rested the hands, ms. Our choice. */
const RESTED = 120_000;
/** Once reminded, it is left alone for as long, ms. Our choice. */
const AGAIN = 600_000;

/** Reminds of a rest once the band has played for long without one. Common practice against strain. */
export class RestReminder {
  readonly #session: Session;
  readonly #clock: () => number;
  #since: number | null = null;
  #last = 0;
  #reminded = -Infinity;

  /** @param clock milliseconds that only go forward */
  constructor(session: Session, clock: () => number = () => performance.now()) {
    this.#session = session;
    this.#clock = clock;
  }

  /** To be called at each beat. */
  look(): void {
    const after = this.#session.preferences.values.restAfter;
    if (!this.#session.playing.on) return;
    const now = this.#clock();
    if (this.#since === null || now - this.#last > RESTED) this.#since = now;
    this.#last = now;
    const long = now - this.#since;
    if (after === 0 || long < after * 60_000 || now - this.#reminded < AGAIN) return;
    this.#reminded = now;
    this.#session.say(
      `You have played for ${Math.round(long / 60_000)} minutes. Let your hands and ears rest for a few.`,
    );
  }
}

/** Keeps the screen awake until the function it gives is called; does nothing where the browser cannot. */
export function keepAwake(): () => void {
  let lock: WakeLockSentinel | null = null;
  let ended = false;
  const open = () => !ended;
  const ask = async () => {
    if (!open() || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return;
    try {
      const granted = await navigator.wakeLock.request('screen');
      if (open()) lock = granted;
      else await granted.release();
    } catch {
      // A device that saves its battery may refuse; the music goes on.
    }
  };
  // A hidden page loses its lock; it is asked for again when it comes back.
  const onVisible = () => void ask();
  document.addEventListener('visibilitychange', onVisible);
  void ask();
  return () => {
    ended = true;
    document.removeEventListener('visibilitychange', onVisible);
    void lock?.release();
  };
}
