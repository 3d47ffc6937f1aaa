import { describe, expect, it } from 'vitest';
import { userEvent } from 'vitest/browser';
import { beats } from '../../src/engine/index.ts';
import { openPage } from './open.ts';

const TWO_FIVE = 'Dm7 | G7 | Cmaj7 | % |';

async function scalesOfG7() {
  const opened = await openPage(TWO_FIVE);
  (opened.beat(/^bar 2, beat 2/).element() as HTMLElement).focus();
  await userEvent.keyboard('n');
  return opened;
}

describe('a player', () => {
  it('picks another scale by keyboard, and takes it back', async () => {
    const { screen, session, beat } = await scalesOfG7();
    await expect.element(screen.getByRole('dialog', { name: 'Scale over G7 in bar 2' })).toHaveFocus();
    await userEvent.keyboard('{Tab}{ArrowDown}');
    const [pick] = session.project.scales;
    expect(pick).toMatchObject({ bar: 1, at: 0 });
    await expect.element(beat(/^bar 2, beat 1, G7, G .* scale, picked$/)).toBeInTheDocument();
    await userEvent.keyboard('{Escape}');
    await expect.element(beat(/^bar 2, beat 2/)).toHaveFocus();
    session.undo();
    expect(session.project.scales).toEqual([]);
    await expect.element(beat(/^bar 2, beat 1, G7, G mixolydian scale$/)).toBeInTheDocument();
  });

  it('picks any scale of the table, and gives the place back to the suggestion', async () => {
    const { screen, session } = await scalesOfG7();
    await screen.getByLabelText('Another scale').selectOptions('locrian');
    expect(session.project.scales).toEqual([{ bar: 1, at: beats(0), scale: 'locrian' }]);
    await expect.element(screen.getByText('The seventh mode of A♭ major.')).toBeInTheDocument();
    await screen.getByRole('button', { name: 'As suggested' }).click();
    expect(session.project.scales).toEqual([]);
  });

  it('keeps the pick with its bar when bars are written before it', async () => {
    const { session } = await openPage(TWO_FIVE);
    session.pickScale(beats(4), 'lydian-dominant');
    session.type(`Am7 | ${TWO_FIVE}`);
    expect(session.project.scales).toMatchObject([{ bar: 2, scale: 'lydian-dominant' }]);
  });

  it('sees the colour before the pick where a treatment lies over it', async () => {
    const { session, beat } = await openPage(TWO_FIVE);
    session.pickScale(beats(4), 'mixolydian-flat-six');
    await expect.element(beat(/^bar 2, beat 1, G7, G mixolydian ♭6 scale, picked$/)).toBeInTheDocument();
    session.place({ from: beats(4), to: beats(8) }, 'altered');
    await expect.element(beat(/^bar 2, beat 1, G7, altered, G altered scale$/)).toBeInTheDocument();
    expect(session.project.scales).toHaveLength(1);
  });

  it('sees the notes spelled by degree, or so that they are easily read', async () => {
    const { screen, session } = await openPage('Ab7alt');
    expect(screen.container.querySelector('.stage .notes')?.textContent).not.toContain('𝄫');
    session.preferences.set({ spelling: 'degree' });
    await expect.element(screen.getByLabelText('Now', { exact: true })).toHaveTextContent('E𝄫');
  });
});

describe('a treatment', () => {
  it('sounds in every round from the second to the eighth, or by a chance in tenths', async () => {
    const { screen, session, beat } = await openPage(TWO_FIVE);
    session.place({ from: beats(4), to: beats(8) }, 'altered');
    (beat(/^bar 2, beat 1/).element() as HTMLElement).focus();
    await userEvent.keyboard('t');
    const tray = screen.getByRole('dialog');
    await expect
      .element(tray.getByText('Both fifths and both ninths are altered; root, third and seventh stay.'))
      .toBeInTheDocument();
    const when = () => session.layers.placed[0]?.when;
    await tray.getByRole('radio', { name: 'Every nth' }).click();
    expect(when()).toEqual({ type: 'every', nth: 2 });
    await expect.element(tray.getByRole('button', { name: 'Every: less' })).toBeDisabled();
    for (let nth = 3; nth <= 8; nth++) {
      await tray.getByRole('button', { name: 'Every: more' }).click();
      expect(when()).toEqual({ type: 'every', nth });
    }
    await expect.element(tray.getByRole('button', { name: 'Every: more' })).toBeDisabled();
    await tray.getByRole('radio', { name: 'By chance' }).click();
    await tray.getByRole('button', { name: 'Chance: less' }).click();
    expect(when()).toEqual({ type: 'chance', chance: 0.4 });
  });
});
