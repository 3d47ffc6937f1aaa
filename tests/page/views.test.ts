import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { SCHEMES, SIZES } from '../../src/tools/browser.mjs';
import { visit } from '../helpers/page.ts';

const WIDTHS = {
  ...SIZES,
  'large phone': { width: 430, height: 932 },
  'small desk': { width: 1120, height: 760 },
};
/** The regions that share the page; none lies over another. */
const REGIONS = ['header', '.strip', '.stage', '.neck', '.ribbon', '.dock'] as const;

interface Seen {
  /** Regions from top to bottom that are there, each "name x y width height" in steps of 8 px. */
  readonly regions: readonly string[];
  readonly wrong: readonly string[];
}

/** What is seen of the regions, and what of it is covered, cut off or wider than the page. */
function look(page: Page): Promise<Seen> {
  return page.evaluate((names) => {
    const step = (px: number) => Math.round(px / 8) * 8;
    const wrong: string[] = [];
    const there = names.flatMap((name) => {
      const box = document.querySelector(name)?.getBoundingClientRect();
      return box === undefined || box.width === 0 || box.height === 0 ? [] : [{ name, box }];
    });
    there.forEach(({ name, box }, index) => {
      if (box.left < -1 || box.top < -1 || box.right > innerWidth + 1 || box.bottom > innerHeight + 1) {
        wrong.push(`${name} reaches beyond the page`);
      }
      for (const other of there.slice(index + 1)) {
        const apart =
          box.right <= other.box.left + 1 ||
          other.box.right <= box.left + 1 ||
          box.bottom <= other.box.top + 1 ||
          other.box.bottom <= box.top + 1;
        if (!apart) wrong.push(`${name} lies over ${other.name}`);
      }
    });
    if (document.documentElement.scrollWidth > innerWidth) wrong.push('the page scrolls sideways');
    const controls = [
      ...document.querySelectorAll<HTMLElement>('header button, .dock button, .strip button'),
    ];
    const seen = controls.filter((one) => one.checkVisibility() && one.closest('[popover]') === null);
    for (const control of seen) {
      const name = (control.getAttribute('aria-label') ?? control.textContent).trim();
      const box = control.getBoundingClientRect();
      if (box.right > innerWidth + 1 || box.bottom > innerHeight + 1) wrong.push(`${name} is cut off`);
      if (box.width < 24 || box.height < 24) wrong.push(`${name} is too small to hit`);
      const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
      if (top === null || !(control.contains(top) || top.contains(control))) wrong.push(`${name} is covered`);
      if (control.scrollWidth > control.clientWidth + 2) wrong.push(`${name} has no room for its words`);
    }
    const regions = there.map(({ name, box }) =>
      [name, step(box.x), step(box.y), step(box.width), step(box.height)].join(' '),
    );
    return { regions, wrong };
  }, REGIONS);
}

/** What is seen once it moves no more. */
async function settled(page: Page): Promise<Seen> {
  await page.evaluate(() => document.fonts.ready);
  let before = await look(page);
  for (let looks = 0; looks < 20; looks++) {
    await page.waitForTimeout(80);
    const now = await look(page);
    if (JSON.stringify(now) === JSON.stringify(before)) return now;
    before = now;
  }
  throw new Error(`the page does not come to rest: ${before.regions.join(', ')}`);
}

const press = async (page: Page, key: string) => {
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
  await page.keyboard.press(key);
};

describe.each(Object.entries(WIDTHS))('on a %s', (_, viewport) => {
  it('no view covers, cuts off or crowds out another, and both themes lie alike', async () => {
    const places: Record<string, readonly string[]>[] = [];
    for (const colorScheme of SCHEMES) {
      const { page, close } = await visit({ viewport, colorScheme, reducedMotion: 'reduce' });
      const views: Record<string, readonly string[]> = {};
      const view = async (name: string) => {
        const { regions, wrong } = await settled(page);
        expect(wrong, name).toEqual([]);
        views[name] = regions;
      };
      await view('first visit');
      await page.getByRole('button', { name: 'Take the tour' }).click();
      await page.getByRole('button', { name: 'Skip' }).waitFor();
      await view('tour');
      await page.getByRole('button', { name: 'End the tour' }).click();
      if (await page.getByRole('button', { name: 'Close', exact: true }).isVisible()) await press(page, 'e');
      await view('ribbon');
      expect(views['ribbon']!.some((region) => region.startsWith('.strip'))).toBe(false);
      await page.getByRole('button', { name: 'Play', exact: true }).click();
      await page.getByRole('button', { name: 'Stop', exact: true }).waitFor();
      await press(page, 'l');
      await view('playing a loop');
      await press(page, 's');
      await page.locator('.app.stand').waitFor();
      await view('stand');
      places.push(views);
      await close();
    }
    expect(places[1]).toEqual(places[0]);
    expect(Object.keys(places[0]!)).toEqual(['first visit', 'tour', 'ribbon', 'playing a loop', 'stand']);
  });
});
