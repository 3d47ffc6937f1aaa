import { describe, expect, it } from 'vitest';
import { userEvent } from 'vitest/browser';
import { beats, DELETED_BAR, PPQ, type PlacedHit } from '../../src/engine/index.ts';
import { placeWords, gridOf, stepPlace } from '../../src/ui/ribbon/hit-grid.ts';
import { beatAt } from '../../src/ui/ribbon/layout.ts';
import { openPage, sessionOf } from './open.ts';

const CHART = 'Dm7 G7 | Cmaj7 | Dm7 G7 | Cmaj7';

const hit = (bar: number, at: number, set: Partial<PlacedHit> = {}): PlacedHit => ({
  id: `h${bar}${at}`,
  bar,
  at: beats(at),
  accent: 'strong',
  length: 'long',
  by: 'band',
  stop: false,
  ...set,
});

/** Presses in the row of hits over one place of a beat, and lets go over another. */
function press(from: Element, within: number, to: Element = from, there = within) {
  const grid = from.closest<HTMLElement>('[role=grid]')!;
  grid.setPointerCapture = () => undefined;
  const send = (type: string, cell: Element, share: number) => {
    const box = cell.getBoundingClientRect();
    const place = { clientX: box.left + box.width * share, clientY: box.top + 8 };
    cell.dispatchEvent(
      new PointerEvent(type, { bubbles: true, pointerId: 1, button: 0, isPrimary: true, ...place }),
    );
  };
  send('pointerdown', from, within);
  send('pointermove', to, there);
  send('pointerup', to, there);
}

describe('hits by keyboard', () => {
  it('are placed on and off the beat, opened, changed, moved, taken away and brought back', async () => {
    const { screen, beat, session } = await openPage(CHART);
    (beat(/^bar 1, beat 2/).element() as HTMLElement).focus();
    await userEvent.keyboard('h');
    await userEvent.keyboard('{Shift>}h{/Shift}');
    expect(session.project.hits).toMatchObject([
      { bar: 0, at: beats(1), accent: 'strong', length: 'short', by: 'band', stop: false },
      { bar: 0, at: beats(1.5) },
    ]);
    await expect
      .element(beat(/^bar 1, beat 2, .*hit on beat 2, short and strong, hit on and of 2/))
      .toBeInTheDocument();
    (beat(/^bar 1, beat 2/).element() as HTMLElement).focus();
    await userEvent.keyboard('h');
    await expect.element(screen.getByRole('dialog', { name: 'Hit in bar 1' })).toBeVisible();
    await screen.getByRole('radio', { name: 'Long, light' }).click();
    await screen.getByRole('button', { name: 'On: less' }).click();
    await screen.getByRole('radio', { name: 'Comping alone' }).click();
    await screen.getByRole('radio', { name: 'Rests' }).click();
    expect(session.project.hits).toMatchObject([
      { at: Math.round((2 * PPQ) / 3), accent: 'light', length: 'long', by: 'comp', stop: true },
      { at: beats(1.5), stop: true },
    ]);
    await screen.getByRole('button', { name: 'Done' }).click();
    (beat(/^bar 1, beat 2/).element() as HTMLElement).focus();
    await userEvent.keyboard('{Delete}');
    expect(session.project.hits).toHaveLength(1);
    await userEvent.keyboard('{Control>}z{/Control}');
    expect(session.project.hits).toHaveLength(2);
  });
});

describe('hits by pointing', () => {
  it('are placed by a press, moved by a drag, opened by another press', async () => {
    const { screen, beat, session } = await openPage(CHART);
    session.preferences.set({ hits: true });
    const cell = beat(/^bar 2, beat 3/).element();
    await expect
      .poll(() => getComputedStyle(cell.closest('[role=grid]')!).getPropertyValue('--y-head'))
      .not.toBe('0px');
    press(cell, 0.52);
    expect(session.project.hits).toMatchObject([{ bar: 1, at: beats(2.5) }]);
    press(cell, 0.5, beat(/^bar 2, beat 4/).element(), 0.02);
    expect(session.project.hits).toMatchObject([{ bar: 1, at: beats(3) }]);
    press(beat(/^bar 2, beat 4/).element(), 0.01);
    await expect.element(screen.getByRole('dialog', { name: 'Hit in bar 2' })).toBeVisible();
    await screen.getByRole('button', { name: 'Remove' }).click();
    expect(session.project.hits).toEqual([]);
  });
});

describe('a hit', () => {
  it('follows its bar when the chart is edited, and waits where its bar is gone', () => {
    const { session } = sessionOf(CHART, { hits: [hit(1, 2)] });
    session.editing.addBar(0);
    expect(session.project.hits).toMatchObject([{ bar: 2, at: beats(2) }]);
    session.editing.removeBar(2);
    expect(session.project.hits).toMatchObject([{ bar: DELETED_BAR }]);
    session.undo();
    expect(session.project.hits).toMatchObject([{ bar: 2 }]);
  });

  it('is heard from the next beat on', async () => {
    const { session, player } = sessionOf(CHART);
    await session.play();
    player.at = beats(0.5);
    session.setHits([hit(0, 2)], 'Hit');
    expect(player.replaced.at(-1)).toBe(beats(1));
    const notes = player.source!.notes(beats(2), beats(2.1));
    expect(notes.some(({ why }) => why === 'written hit')).toBe(true);
  });

  it('has places by the feel: triplets where it swings, sixteenths where it is straight', () => {
    const { session } = sessionOf('C7 | 6/8 C7');
    const { bars } = session.form;
    const sixths = (feel: string, tick: number) =>
      gridOf(beatAt(bars, tick)!, bars, feel).map((place) => ((place - tick) * 12) / PPQ);
    expect(sixths('swing', 0)).toEqual([0, 4, 6, 8]);
    expect(sixths('bossa', 0)).toEqual([0, 3, 4, 6, 8, 9]);
    expect(sixths('swing', beats(4))).toEqual([0, 6, 12]);
    expect(placeWords(beats(1.5), bars)).toBe('and of 2');
    expect(placeWords(beats(2), bars)).toBe('beat 3');
    expect(placeWords(beats(4.5), bars)).toBe('second eighth of 1');
    expect(stepPlace(beats(1), -1, bars, 'swing')).toBe(Math.round((2 * PPQ) / 3));
    expect(stepPlace(beats(0), -1, bars, 'swing')).toBe(0);
  });
});
