import { AxeBuilder } from '@axe-core/playwright';
import { describe, expect, it } from 'vitest';
import { SCHEMES, SIZES } from '../../src/tools/browser.mjs';
import { visit } from '../helpers/page.ts';

describe('the first visit', () => {
  it('says where one is', async () => {
    const { page, close } = await visit();
    expect(await page.title()).toContain('Vampwright');
    expect(await page.getByRole('main').count()).toBe(1);
    expect(await page.getByRole('heading', { level: 1 }).count()).toBe(1);
    expect(await page.locator('html').getAttribute('lang')).toBe('en');
    await close();
  });

  it('meets nothing that fails, and asks nobody but its own host', async () => {
    const { complaints, foreign, close } = await visit();
    expect(complaints).toEqual([]);
    expect(foreign).toEqual([]);
    await close();
  });

  it('makes no sound before it is asked to', async () => {
    const { page, close } = await visit();
    expect(
      await page.evaluate(() => performance.getEntriesByType('resource').map(({ name }) => name)),
    ).not.toContainEqual(expect.stringMatching(/\.(mp3|ogg|opus|webm|m4a|wav)$/));
    await close();
  });
});

describe.each(Object.entries(SIZES))('on a %s', (_, viewport) => {
  it.each(SCHEMES)('reads well for everybody in the %s', async (colorScheme) => {
    const { page, close } = await visit({ viewport, colorScheme });
    const { violations } = await new AxeBuilder({ page })
      .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
      .analyze();
    expect(violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html}`))).toEqual([]);
    await close();
  });

  it('needs no scrolling sideways', async () => {
    const { page, close } = await visit({ viewport });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
      viewport.width,
    );
    await close();
  });
});
