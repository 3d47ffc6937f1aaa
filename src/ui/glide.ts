import { indexAt } from './ribbon/layout.ts';

/** A way across the page that the music takes, from point to point as straight as it goes. */
export interface Path {
  /** Where each tick lies, px, in order; two at the least, each later than the one before. */
  readonly points: readonly { readonly start: number; readonly x: number }[];
  /** Px from the top. */
  readonly y: number;
}

/** What is further from the music than this has not strayed: the music has jumped. Ms; our choice. */
const JUMP = 80;
/** So far it may stray from the music before it is set right, px. */
const STRAY = 0.75;
/** How much one look counts against those before it: the clock of the sound moves in steps. Our choice. */
const WEIGHT = 0.1;
/** What differs less from the speed it goes at is seen as it strays. */
const SAME_SPEED = 0.01;

/**
 * Moves something along with the music. The browser carries it on by itself, also while the page is at work: as
 * long as the music goes as foreseen, nothing is written.
 */
export class Glide {
  readonly #element: HTMLElement;
  #path: Path | null = null;
  /** Its own clock is the music's: one of its milliseconds is one tick of the path. */
  #animation: Animation | null = null;
  /** It was at tick `#tick` of the music at `#since`, ms, and goes on by `#rate`, ticks per ms. */
  #tick = 0;
  #since = 0;
  #rate = 0;
  #strays = 0;

  constructor(element: HTMLElement) {
    this.#element = element;
  }

  /**
   * Shows it where the music is; to be called again and again.
   * @param path one object for as long as it is the same
   * @param speed ticks per second; 0 where the music stands
   */
  follow(path: Path, tick: number, speed: number): void {
    const now = performance.now();
    const rate = speed / 1000;
    if (path !== this.#path) this.#take(path);
    else {
      const shown = this.#shown(now);
      const off = tick - shown;
      const goesOn = Math.abs(rate - this.#rate) <= SAME_SPEED * this.#rate;
      if (goesOn && Math.abs(off) <= JUMP * this.#rate) {
        this.#strays += (off - this.#strays) * WEIGHT;
        if (Math.abs(xAt(path, shown + this.#strays) - xAt(path, shown)) <= STRAY) return;
        tick = shown + this.#strays;
      }
    }
    this.#set(tick, rate, now);
  }

  hide(): void {
    this.#element.hidden = true;
    this.#animation?.cancel();
    this.#animation = this.#path = null;
  }

  #shown(now: number): number {
    return this.#tick + (now - this.#since) * this.#rate;
  }

  #take(path: Path): void {
    const { points, y } = path;
    const first = points[0]!.start;
    const length = points.at(-1)!.start - first;
    const frames = points.map(({ start, x }) => ({
      offset: (start - first) / length,
      transform: `translate(${x}px, ${y}px)`,
    }));
    this.#animation?.cancel();
    this.#animation = this.#element.animate(frames, { duration: length, fill: 'both' });
    this.#element.hidden = false;
    this.#path = path;
  }

  #set(tick: number, rate: number, now: number): void {
    [this.#tick, this.#since, this.#rate, this.#strays] = [tick, now, rate, 0];
    const animation = this.#animation!;
    const into = tick - this.#path!.points[0]!.start;
    if (rate > 0) {
      animation.playbackRate = rate;
      // Said outright, so that it does not wait for its first frame to begin.
      animation.startTime = now - into / rate;
    } else {
      animation.pause();
      animation.currentTime = into;
    }
  }
}

/** Where a tick lies, px; before the path at its beginning, after it at its end. */
function xAt({ points }: Path, tick: number): number {
  const i = indexAt(points, tick);
  const [here, next] = [points[i]!, points[i + 1]];
  if (next === undefined || tick <= here.start) return here.x;
  return here.x + ((tick - here.start) / (next.start - here.start)) * (next.x - here.x);
}
