import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { visit, type Visit } from '../helpers/page.ts';

/** A sound given to the audio clock: when it is due, and that clock at the moment, seconds. */
interface Start {
  readonly when: number;
  readonly now: number;
}

declare global {
  interface Window {
    starts: Start[];
    clock: () => number;
    hide: () => void;
  }
}

/** Runs in the page before its own code: writes down every sound, and can act the hidden tab. */
function spy() {
  const starts: Start[] = [];
  let context: BaseAudioContext | null = null;
  window.starts = starts;
  window.clock = () => context?.currentTime ?? 0;
  const { start } = Object.getOwnPropertyDescriptors(AudioBufferSourceNode.prototype);
  AudioBufferSourceNode.prototype.start = function (when = 0, ...more) {
    if (this.context instanceof AudioContext) {
      ({ context } = this);
      starts.push({ when, now: this.context.currentTime });
    }
    (start.value as (...all: (number | undefined)[]) => void).call(this, when, ...more);
  };
  // What browsers do to a tab in the background: no frames, and the page's own timers once a second.
  let hidden = false;
  const timeout = window.setTimeout.bind(window);
  const interval = window.setInterval.bind(window);
  const frame = window.requestAnimationFrame.bind(window);
  const slow = (ms = 0) => (hidden ? Math.ceil(Math.max(1000, ms) / 1000) * 1000 : ms);
  window.setTimeout = ((run: () => void, ms?: number) => timeout(run, slow(ms))) as typeof setTimeout;
  window.setInterval = ((run: () => void, ms?: number) => {
    let last = 0;
    return interval(() => {
      if (hidden && performance.now() - last < 1000) return;
      last = performance.now();
      run();
    }, ms);
  }) as typeof setInterval;
  window.requestAnimationFrame = (run) => (hidden ? 0 : frame(run));
  window.hide = () => {
    hidden = true;
    Object.defineProperty(document, 'hidden', { get: () => true });
    Object.defineProperty(document, 'visibilityState', { get: () => 'hidden' });
    document.dispatchEvent(new Event('visibilitychange'));
  };
}

let open: Visit;
let page: Page;
beforeEach(async () => {
  open = await visit({}, '', undefined, spy);
  ({ page } = open);
});
afterEach(() => open.close());

const play = async () => {
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.waitForFunction(() => window.starts.length > 20);
};

/**
 * Everything was given to the clock before it was due, and no hole is longer than a bar at 100.
 * @param late how many may have been late, by a twentieth of a second at most
 */
async function expectInTime(late = 0) {
  const { starts, clock } = await page.evaluate(() => ({ starts: window.starts, clock: window.clock() }));
  const ahead = starts.map(({ when, now }) => when - now);
  expect(ahead.filter((seconds) => seconds < 0).length).toBeLessThanOrEqual(late);
  expect(Math.min(...ahead)).toBeGreaterThan(-0.05);
  const due = starts.map(({ when }) => when).sort((a, b) => a - b);
  const holes = due.slice(1).map((when, i) => when - due[i]!);
  expect(Math.max(...holes)).toBeLessThan(2.5);
  expect(due.at(-1)!).toBeGreaterThan(clock);
  return starts;
}

describe('the band keeps time', () => {
  it('in a hidden tab', async () => {
    await play();
    await page.evaluate(() => window.hide());
    await page.waitForTimeout(4000);
    const starts = await expectInTime();
    expect(starts.length).toBeGreaterThan(40);
    // Half a second and more is with the clock at all times, though timers run once a second.
    expect(Math.min(...starts.slice(20).map(({ when, now }) => when - now))).toBeGreaterThan(0.5);
  });

  it('while the page is blocked for half a second, again and again', async () => {
    await play();
    for (let i = 0; i < 4; i++) {
      await page.evaluate(() => {
        const end = performance.now() + 500;
        while (performance.now() < end);
      });
      await page.waitForTimeout(150);
    }
    await expectInTime();
  });
});

describe('after the computer slept', () => {
  it('the band is in time or has stopped, and there is no burst', async () => {
    await play();
    const session = await page.context().newCDPSession(page);
    await session.send('Page.setWebLifecycleState', { state: 'frozen' });
    await new Promise((resolve) => setTimeout(resolve, 6000));
    await session.send('Page.setWebLifecycleState', { state: 'active' });
    const before = await page.evaluate(() => ({ count: window.starts.length, clock: window.clock() }));
    await page.waitForTimeout(1500);
    const starts = await page.evaluate(() => window.starts);
    expect(Math.min(...starts.map(({ when, now }) => when - now))).toBeGreaterThan(-0.05);
    // A bar at 100 has some twenty strokes; what was missed would be sixty.
    const soon = starts.slice(before.count).filter(({ when }) => when < before.clock + 0.2);
    expect(soon.length).toBeLessThan(15);
    const stopped = await page.getByRole('button', { name: 'Play', exact: true }).isVisible();
    // As it wakes, a busy machine lets the clock go on between the page's looking at it and its striking.
    if (!stopped) await expectInTime(3);
    expect(open.complaints).toEqual([]);
  });
});
