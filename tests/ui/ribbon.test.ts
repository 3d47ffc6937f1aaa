import { describe, expect, it } from 'vitest';
import { userEvent } from 'vitest/browser';
import { beats } from '../../src/engine/index.ts';
import { openPage } from './open.ts';

const TWO_FIVE = 'Dm7 G7 | Cmaj7 | Dm7 G7 | Cmaj7';

/** Where a beat's row lies on the screen: the rail, the chords or the treatment lane. */
function point(cell: Element, row: 'rail' | 'chords' | 'lane', within = 0.5) {
  const box = cell.getBoundingClientRect();
  const style = getComputedStyle(cell.closest('[role=grid]')!);
  const px = (name: string) => parseFloat(style.getPropertyValue(name));
  const y = { rail: px('--y-rail') / 2, chords: px('--y-chord') + 10, lane: px('--y-lane') + 10 }[row];
  return { clientX: box.left + box.width * within, clientY: box.top + y };
}

/** Presses on one beat's row and lets go on another's. */
function drag(from: Element, to: Element, row: 'rail' | 'lane') {
  const send = (type: string, cell: Element) =>
    cell.dispatchEvent(
      new PointerEvent(type, {
        bubbles: true,
        pointerId: 1,
        button: 0,
        isPrimary: true,
        ...point(cell, row),
      }),
    );
  from.closest<HTMLElement>('[role=grid]')!.setPointerCapture = () => undefined;
  send('pointerdown', from);
  send('pointermove', to);
  send('pointerup', to);
}

describe('the ribbon says', () => {
  it('of every beat what sounds there', async () => {
    const { beat, session } = await openPage(TWO_FIVE);
    await expect.element(beat(/^bar 1, beat 3, G7, G mixolydian/)).toBeInTheDocument();
    session.place({ from: beats(2), to: beats(4) }, 'altered');
    await expect.element(beat(/^bar 1, beat 4, G7, altered, G altered/)).toBeInTheDocument();
  });

  it('how many lines it has, also those out of view', async () => {
    const { screen } = await openPage(Array.from({ length: 200 }, () => 'C7').join(' | '));
    const grid = screen.getByRole('grid');
    await expect.element(grid).toHaveAttribute('aria-rowcount', '50');
    expect(grid.element().querySelectorAll('[role=row]').length).toBeLessThan(20);
  });
});

describe('by keyboard', () => {
  it('a beat is reached, a stretch selected and altered, and taken back', async () => {
    const { beat, session } = await openPage(TWO_FIVE);
    await beat(/^bar 1, beat 1/).click({ position: { x: 4, y: 4 } });
    session.setLoop(null);
    (beat(/^bar 1, beat 1/).element() as HTMLElement).focus();
    await userEvent.keyboard('{ArrowRight}{ArrowRight}{Shift>}{ArrowRight}{/Shift}t');
    expect(session.layers.placed).toMatchObject([
      { kind: 'altered', bar: 0, at: beats(2), length: beats(2), when: { type: 'always' } },
    ]);
    await userEvent.keyboard('{Control>}z{/Control}');
    expect(session.layers.placed).toEqual([]);
  });

  it('the end of a line and the next line are reached', async () => {
    const { beat } = await openPage(Array.from({ length: 12 }, () => 'C7').join(' | '));
    (beat(/^bar 1, beat 1/).element() as HTMLElement).focus();
    await userEvent.keyboard('{End}');
    await expect.element(beat(/^bar 4, beat 4/)).toHaveFocus();
    await userEvent.keyboard('{ArrowDown}');
    await expect.element(beat(/^bar 8, beat 4/)).toHaveFocus();
    await userEvent.keyboard('{Home}');
    await expect.element(beat(/^bar 5, beat 1/)).toHaveFocus();
  });

  it('only one beat lies in the order of tabbing', async () => {
    const { screen } = await openPage(TWO_FIVE);
    expect(screen.container.querySelectorAll('[role=gridcell][tabindex="0"]').length).toBe(1);
  });

  it('a chord is edited where it stands; the text says the same', async () => {
    const { beat, session } = await openPage(TWO_FIVE);
    (beat(/^bar 2, beat 1/).element() as HTMLElement).focus();
    await userEvent.keyboard('{Enter}');
    await userEvent.keyboard('Em7 A7{Enter}');
    expect(session.text).toBe('Dm7 G7 | Em7 A7 | Dm7 G7 | Cmaj7');
    await expect.element(beat(/^bar 2, beat 1, Em7/)).toHaveFocus();
  });

  it('Escape leaves a chord as it was', async () => {
    const { beat, session } = await openPage(TWO_FIVE);
    (beat(/^bar 2, beat 1/).element() as HTMLElement).focus();
    await userEvent.keyboard('{Enter}F7{Escape}');
    expect(session.text).toBe(TWO_FIVE);
  });

  it('the selected beats loop, and once more they do not', async () => {
    const { beat, session } = await openPage(TWO_FIVE);
    (beat(/^bar 1, beat 3/).element() as HTMLElement).focus();
    await userEvent.keyboard('{Shift>}{ArrowRight}{ArrowRight}{/Shift}l');
    expect(session.loop).toEqual({ from: beats(2), to: beats(5) });
    await userEvent.keyboard('l');
    await userEvent.keyboard('{ArrowLeft}{ArrowLeft}{Shift>}{ArrowRight}{ArrowRight}{/Shift}l');
    expect(session.loop).toEqual({ from: beats(2), to: beats(5) });
    await userEvent.keyboard('{ArrowLeft}{ArrowLeft}{Shift>}{ArrowRight}{ArrowRight}{/Shift}l');
    expect(session.loop).toBeNull();
  });
});

describe('by pointing', () => {
  it('dragging along the lane alters a stretch to the beat', async () => {
    const { beat, session } = await openPage(TWO_FIVE);
    drag(beat(/^bar 1, beat 3/).element(), beat(/^bar 1, beat 4/).element(), 'lane');
    expect(session.layers.placed).toMatchObject([{ bar: 0, at: beats(2), length: beats(2) }]);
  });

  it('a press in the lane alters the dominant under it; another press opens what is there', async () => {
    const { screen, beat, session } = await openPage(TWO_FIVE);
    const cell = beat(/^bar 1, beat 3/).element();
    drag(cell, cell, 'lane');
    expect(session.layers.placed).toMatchObject([{ bar: 0, at: beats(2), length: beats(2) }]);
    drag(cell, cell, 'lane');
    await expect.element(screen.getByRole('dialog', { name: 'Treatment in bar 1' })).toBeVisible();
    await screen.getByRole('radio', { name: 'Flat nine', exact: true }).click();
    await screen.getByRole('button', { name: 'For: less' }).click();
    await screen.getByRole('radio', { name: 'Every nth' }).click();
    expect(session.layers.placed).toMatchObject([
      { kind: 'flat-nine', length: beats(1), when: { type: 'every', nth: 2 } },
    ]);
    await screen.getByRole('button', { name: 'Remove' }).click();
    expect(session.layers.placed).toEqual([]);
  });

  it('what is no dominant cannot be altered, and the page says so', async () => {
    const { screen, beat, session } = await openPage(TWO_FIVE);
    const cell = beat(/^bar 2, beat 1/).element();
    drag(cell, cell, 'lane');
    expect(session.layers.placed).toEqual([]);
    await expect.element(screen.getByText(/No dominant lies here/)).toBeVisible();
  });

  it('dragging along the rail loops a stretch to the beat', async () => {
    const { beat, session } = await openPage(TWO_FIVE);
    drag(beat(/^bar 1, beat 3/).element(), beat(/^bar 2, beat 2/).element(), 'rail');
    expect(session.loop).toEqual({ from: beats(2), to: beats(6) });
  });

  it('a press on a bar’s number loops it, one on another takes it in, one inside plays all again', async () => {
    const { beat, session } = await openPage(TWO_FIVE);
    const press = (cell: Element) => drag(cell, cell, 'rail');
    press(beat(/^bar 2, beat 1/).element());
    expect(session.loop).toEqual({ from: beats(4), to: beats(8) });
    press(beat(/^bar 4, beat 3/).element());
    expect(session.loop).toEqual({ from: beats(4), to: beats(16) });
    press(beat(/^bar 3, beat 2/).element());
    expect(session.loop).toBeNull();
  });

  it('a press on a chord opens it', async () => {
    const { screen, beat } = await openPage(TWO_FIVE);
    const cell = beat(/^bar 1, beat 3/).element();
    cell.dispatchEvent(new MouseEvent('click', { bubbles: true, detail: 1, ...point(cell, 'chords') }));
    await expect.element(screen.getByRole('textbox', { name: 'Chord 2 of bar 1' })).toHaveValue('G7');
  });

  it('the tools of a chord split it, add a bar and take one away', async () => {
    const { screen, beat, session } = await openPage('C7 | F7');
    const open = () => {
      const cell = beat(/^bar 1, beat 1/).element();
      cell.dispatchEvent(new MouseEvent('click', { bubbles: true, detail: 1, ...point(cell, 'chords') }));
    };
    open();
    await screen.getByRole('button', { name: 'New bar' }).click();
    expect(session.form.bars.length).toBe(3);
    open();
    await screen.getByRole('button', { name: 'Split' }).click();
    expect(session.chart.bars[0]!.slots.length).toBe(2);
    open();
    await screen.getByRole('button', { name: 'Remove bar' }).click();
    expect(session.form.bars.length).toBe(2);
  });
});

describe('where a chord cannot be read', () => {
  it('the ribbon marks the place and shows the rest', async () => {
    const { beat, screen } = await openPage('Dm7 | H7 | Cmaj7');
    await expect.element(beat(/^bar 2, beat 1, unreadable chord H7/)).toBeInTheDocument();
    await expect.element(beat(/^bar 3, beat 1, Cmaj7/)).toBeInTheDocument();
    expect(screen.container.querySelectorAll('.chord.gap.wrong').length).toBe(1);
  });
});

describe('an empty chart', () => {
  it('says what to do', async () => {
    const { screen } = await openPage('');
    await expect.element(screen.getByText(/Nothing is written yet/)).toBeVisible();
  });
});
