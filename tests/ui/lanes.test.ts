import { describe, expect, it } from 'vitest';
import { userEvent } from 'vitest/browser';
import { beats } from '../../src/engine/index.ts';
import { openPage } from './open.ts';

const MINOR = 'Dm7b5 G7 | Cm6 | A7 | Dm7 | Db7 | Cmaj7 |';

describe('on request, under each chord', () => {
  it('stands what it does in its key, and the reason is told of the beat that is meant', async () => {
    const { screen, beat } = await openPage('Dm7 G7 | Cmaj7 A7 | Dm7 G7 | Cmaj7 |');
    expect(screen.container.querySelectorAll('.function')).toHaveLength(0);
    (beat(/^bar 2, beat 3/).element() as HTMLElement).focus();
    await userEvent.keyboard('r');
    await expect
      .element(beat(/^bar 2, beat 3, A7, V7\/ii in C major/))
      .toHaveAccessibleDescription(/^V7\/ii in C major A7 is the dominant of /);
    const functions = [...screen.container.querySelectorAll('.function')].map((item) =>
      item.textContent.trim().replaceAll(/\s+/g, ' '),
    );
    expect(functions).toEqual(['C: ii7', 'V7', 'Imaj7', 'V7/ii', 'ii7', 'V7', 'Imaj7']);
    await userEvent.keyboard('r');
    await expect.element(screen.getByText(/dominant of ii/)).not.toBeInTheDocument();
  });

  it('the reason follows the mouse, and goes back to the beat that is meant', async () => {
    const { screen, session, beat } = await openPage(MINOR);
    session.preferences.set({ functions: true });
    await beat(/^bar 3, beat 1/).hover();
    const why = () => screen.container.querySelector('#why')?.textContent;
    await expect.poll(why).toContain('A7');
    await screen.getByRole('button', { name: 'Play', exact: true }).hover();
    await expect.poll(why).toContain('Dm7♭5');
  });

  it('says so where no chord sounds', async () => {
    const { screen, session } = await openPage('N.C. | C |');
    session.preferences.set({ functions: true });
    await expect.element(screen.getByText('No chord sounds here.')).toBeInTheDocument();
  });
});

describe('on request, at each change of chord', () => {
  it('stands which notes move where, also round the end of the form', async () => {
    const { screen, session, beat } = await openPage('G7 | Cmaj7 |');
    session.preferences.set({ targets: true });
    session.place({ from: beats(0), to: beats(4) }, 'altered');
    await expect
      .element(beat(/^bar 1, beat 4.*A♭, the ♭9 of G7alt, falls a semitone to G/))
      .toBeInTheDocument();
    const lanes = [...screen.container.querySelectorAll('.targets')].map(({ textContent }) => textContent);
    expect(lanes).toHaveLength(2);
    expect(lanes[0]).toContain('♭9→5');
    expect(lanes[0]).toContain('A♭→G');
  });

  it('nothing stands where the harmony stays', async () => {
    const { screen, session } = await openPage('C7alt | % | Fmaj7 | Fmaj7 |');
    session.preferences.set({ targets: true });
    await expect.poll(() => screen.container.querySelectorAll('.targets').length).toBe(2);
  });

  it('the stage says where the guide tones go', async () => {
    const { screen } = await openPage('C7 | Fmaj7 |');
    (screen.getByRole('gridcell').first().element() as HTMLElement).focus();
    await userEvent.keyboard('g');
    const items = screen.getByRole('list', { name: 'Guide tones' }).getByRole('listitem');
    await expect.element(items.first()).toHaveTextContent('♭7 B♭ → 3 A');
    await expect.element(items.nth(1)).toHaveTextContent('3 E = 7 E');
  });
});
