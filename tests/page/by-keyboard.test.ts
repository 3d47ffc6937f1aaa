import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { visit } from '../helpers/page.ts';

/** What the stage says to a screen reader: the chord that sounds, then the one that comes. */
const onStage = (page: Page) => page.locator('section[aria-label="Now"] .spoken').allTextContents();
const stop = (page: Page) => page.getByRole('button', { name: 'Stop', exact: true });

/** Presses a key until `there` is true of the element that has the focus. */
async function pressTo(page: Page, key: string, there: (element: Element) => boolean) {
  for (let presses = 0; presses < 80; presses++) {
    if (await page.evaluate(`(${there.toString()})(document.activeElement)`)) return;
    await page.keyboard.press(key);
  }
  throw new Error(`${key} never came to an element that ${there.toString()}`);
}

describe('by keyboard alone', () => {
  it('the vamp player has C7alt in A flat at 90', async () => {
    const { page, complaints, close } = await visit();
    await page.keyboard.press('o');
    await pressTo(page, 'Tab', (element) => element instanceof HTMLInputElement && element.type === 'search');
    await page.keyboard.type('vamp in Ab');
    await page.keyboard.press('Enter');
    const tempo = page.getByRole('spinbutton', { name: 'Tempo in beats a minute' });
    for (let presses = 0; presses < 60 && (await tempo.inputValue()) !== '90'; presses++) {
      await page.keyboard.press(Number(await tempo.inputValue()) > 90 ? '-' : '+');
    }
    expect(await tempo.inputValue()).toBe('90');
    await page.keyboard.press('Space');
    await stop(page).waitFor();
    expect((await onStage(page))[0]).toBe('A♭7alt');
    expect(complaints).toEqual([]);
    await close();
  });

  it('the switcher alters beats 3 and 4 of bar 2 every other chorus', async () => {
    const { page, complaints, close } = await visit();
    await pressTo(page, 'e', (element) => element instanceof HTMLTextAreaElement);
    await page.keyboard.press('Control+A');
    await page.keyboard.type('Dm7 | G7 | Cmaj7 | %');
    await page.keyboard.press('Escape');
    await pressTo(page, 'Tab', (element) => element.getAttribute('role') === 'gridcell');
    await page.keyboard.press('Home');
    for (let beat = 0; beat < 6; beat++) await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('t');
    await page.keyboard.press('t');
    await pressTo(
      page,
      'Tab',
      (element) =>
        element instanceof HTMLInputElement && element.labels?.[0]?.textContent.trim() === 'Always',
    );
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Escape');
    for (let presses = 0; presses < 90; presses++) await page.keyboard.press('+');
    await page.keyboard.press('Shift+Enter');
    await stop(page).waitFor();
    const heard = await page.evaluate(async () => {
      const seen = new Map<string, Set<string>>();
      const end = performance.now() + 14_000;
      while (performance.now() < end && seen.size < 4) {
        const stage = document.querySelector('section[aria-label="Now"]')!;
        const chord = stage.querySelector('.spoken')!.textContent;
        const round = /round (\d)/.exec(stage.textContent)?.[1];
        if (round !== undefined) seen.set(round, (seen.get(round) ?? new Set()).add(chord));
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
      return Object.fromEntries([...seen].map(([round, chords]) => [round, [...chords]]));
    });
    expect(heard['1']).toContain('G7');
    expect(heard['1']).not.toContain('G7alt');
    expect(heard['2']).toEqual(['Dm7', 'G7', 'G7alt', 'Cmaj7']);
    expect(heard['3']).not.toContain('G7alt');
    expect(complaints).toEqual([]);
    await close();
  });

  it('the teacher loops two altered beats with a bar of landing at 60 %, and hears it go up by 5', async () => {
    const { page, complaints, close } = await visit();
    await page.keyboard.press('o');
    await pressTo(page, 'Tab', (element) => element instanceof HTMLInputElement && element.type === 'search');
    await page.keyboard.type('the dominant two beats long');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Escape');
    const tempo = page.getByRole('spinbutton', { name: 'Tempo in beats a minute' });
    const full = Number(await tempo.inputValue());
    await pressTo(page, 'Tab', (element) => element.getAttribute('role') === 'gridcell');
    await page.keyboard.press('Home');
    for (let beat = 0; beat < 10; beat++) await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('l');
    await page.keyboard.press('p');
    await pressTo(
      page,
      'Tab',
      (element) => (element as HTMLInputElement).labels?.[0]?.textContent === 'Landing',
    );
    await page.keyboard.type('4');
    await pressTo(
      page,
      'Tab',
      (element) =>
        element instanceof HTMLInputElement && element.labels?.[0]?.textContent.includes('by steps') === true,
    );
    await page.keyboard.press('Space');
    await page.getByText('From 60 % of the chart’s tempo').waitFor();
    // Four rounds at 60 % take longer than a test should: the teacher asks for one.
    await pressTo(
      page,
      'Tab',
      (element) => (element as HTMLInputElement).labels?.[0]?.textContent === 'After',
    );
    await page.keyboard.press('Control+A');
    await page.keyboard.type('1');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Escape');
    await pressTo(page, 'Tab', (element) => element.getAttribute('role') === 'gridcell');
    await page.keyboard.press('Shift+Enter');
    await stop(page).waitFor();
    const heard = await page.evaluate(async () => {
      const chords = new Set<string>();
      const tempi: string[] = [];
      const end = performance.now() + 20_000;
      while (performance.now() < end && tempi.length < 3) {
        const stage = document.querySelector('section[aria-label="Now"]')!;
        chords.add(stage.querySelector('.spoken')!.textContent);
        const bpm = stage.querySelector('.tempo')?.textContent;
        if (bpm !== undefined && bpm !== tempi.at(-1)) tempi.push(bpm);
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
      return { chords: [...chords].toSorted(), tempi: tempi.map((bpm) => parseInt(bpm)) };
    });
    const slow = Math.round(full * 0.6);
    expect(heard).toEqual({ chords: ['Cmaj7', 'G7alt'], tempi: [slow, slow + 5, slow + 10] });
    expect(await page.getByRole('switch', { name: 'Loop' }).textContent()).toContain('bar 3, beats 3 to 4');
    expect(complaints).toEqual([]);
    await close();
  });
});
