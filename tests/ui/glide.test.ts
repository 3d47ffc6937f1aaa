import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Glide, type Path } from '../../src/ui/glide.ts';

/** Two bars: the second one is written wider than the first. Ticks and px. */
const LINE: Path = {
  points: [
    { start: 1000, x: 10 },
    { start: 5000, x: 50 },
    { start: 9000, x: 210 },
  ],
  y: 30,
};
const NEXT: Path = {
  points: [
    { start: 9000, x: 10 },
    { start: 13_000, x: 170 },
  ],
  y: 90,
};
/** Ticks per second: the second bar is gone through at 40 px a second. */
const SPEED = 1000;

let element: HTMLElement;
let glide: Glide;
let now = 0;
beforeEach(() => {
  element = document.createElement('div');
  element.hidden = true;
  document.body.append(element);
  glide = new Glide(element);
  now = performance.now();
  vi.spyOn(performance, 'now').mockImplementation(() => now);
});
afterEach(() => {
  vi.restoreAllMocks();
  element.remove();
});

const animation = () => element.getAnimations()[0]!;
/** Where it is drawn at the moment, were the screen's clock at `now`. */
function place() {
  const { playState, startTime, playbackRate } = animation();
  if (playState !== 'paused') {
    animation().pause();
    animation().currentTime = (now - Number(startTime)) * playbackRate;
  }
  const { e: x, f: y } = new DOMMatrix(getComputedStyle(element).transform);
  if (playState !== 'paused') animation().startTime = startTime;
  return { x, y };
}

describe('what glides with the music', () => {
  it('is shown where the music is, each stretch at its own pace', () => {
    for (const [tick, x] of [
      [1000, 10],
      [3000, 30],
      [5000, 50],
      [7000, 130],
      [9000, 210],
      [400, 10],
      [9900, 210],
    ]) {
      glide.follow(LINE, tick!, 0);
      expect(place().x).toBeCloseTo(x!, 3);
      expect(place().y).toBeCloseTo(30, 3);
    }
    expect(element.hidden).toBe(false);
  });

  it('goes on by itself at the speed of the music, through every stretch', () => {
    glide.follow(LINE, 3000, SPEED);
    const begun = now;
    for (const [ms, x] of [
      [0, 30],
      [1000, 40],
      [3000, 90],
      [5500, 190],
      [9000, 210],
    ]) {
      now = begun + ms!;
      expect(place().x).toBeCloseTo(x!, 1);
    }
  });

  it('is left alone while the music goes as foreseen, though the clock of the sound moves in steps', () => {
    glide.follow(LINE, 5000, SPEED);
    const begun = animation();
    const { startTime } = begun;
    for (let ms = 0; ms < 3500; ms += 16) {
      now += 16;
      // Steps of 60 ms, around where the music is.
      glide.follow(LINE, 5000 + Math.floor((ms + 16) / 60) * 60 + 30, SPEED);
    }
    expect(animation()).toBe(begun);
    expect(begun.startTime).toBe(startTime);
    expect(place().x).toBeCloseTo(50 + 3.5 * 40, -1);
  });

  it('is set right, softly, once it strays from the music', () => {
    glide.follow(LINE, 5000, SPEED);
    let tick = 5000;
    let largest = 0;
    for (let i = 0; i < 200; i++) {
      now += 16;
      // The sound's clock goes 3 % slower than that of the screen.
      tick += 16 * 0.97;
      const before = place().x;
      glide.follow(LINE, tick, SPEED);
      largest = Math.max(largest, Math.abs(place().x - before));
      expect(Math.abs(place().x - (50 + ((tick - 5000) / 4000) * 160))).toBeLessThan(1.2);
    }
    expect(largest).toBeGreaterThan(0.5);
    expect(largest).toBeLessThan(1);
  });

  it('is there at once where the music jumps', () => {
    glide.follow(LINE, 5000, SPEED);
    now += 16;
    glide.follow(LINE, 8000, SPEED);
    expect(place().x).toBeCloseTo(170, 1);
    now += 16;
    glide.follow(LINE, 5000, SPEED);
    expect(place().x).toBeCloseTo(50, 1);
  });

  it('follows a change of tempo at once, a pause and what comes after it', () => {
    glide.follow(LINE, 5000, SPEED);
    now += 1000;
    glide.follow(LINE, 6000, SPEED / 2);
    now += 1000;
    expect(place().x).toBeCloseTo(110, 1);
    glide.follow(LINE, 6500, 0);
    now += 1000;
    glide.follow(LINE, 6500, 0);
    expect(place().x).toBeCloseTo(110, 1);
    glide.follow(LINE, 6500, SPEED);
    now += 500;
    expect(place().x).toBeCloseTo(130, 1);
  });

  it('goes to the next line when the music does, and is gone when it stops', () => {
    glide.follow(LINE, 8990, SPEED);
    now += 20;
    glide.follow(NEXT, 9010, SPEED);
    now += 990;
    expect(place().x).toBeCloseTo(50, 1);
    expect(place().y).toBeCloseTo(90, 3);
    expect(element.getAnimations().length).toBe(1);
    glide.hide();
    expect(element.hidden).toBe(true);
    expect(element.getAnimations()).toEqual([]);
    glide.follow(NEXT, 11_000, SPEED);
    expect(element.hidden).toBe(false);
    expect(place().x).toBeCloseTo(90, 1);
  });
});
