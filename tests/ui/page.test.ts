import { afterEach, describe, expect, it, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { beats, newProject, PPQ } from '../../src/engine/index.ts';
import { drillingOf } from '../../src/ui/drills/drilling.svelte.ts';
import { openPage } from './open.ts';

/** Until the page has looked where the music is, and what it saw is drawn. */
const frame = () => new Promise((resolve) => setTimeout(() => requestAnimationFrame(resolve), 40));
const blur = () => (document.activeElement as HTMLElement | null)?.blur();

afterEach(() => vi.restoreAllMocks());

describe('the first press', () => {
  it('plays, the next one stops', async () => {
    const { screen, player } = await openPage('C7alt | % | % | %');
    await screen.getByRole('button', { name: 'Play', exact: true }).click();
    expect(player.source).not.toBeNull();
    await screen.getByRole('button', { name: 'Stop', exact: true }).click();
    expect(player.source).toBeNull();
  });

  it('may be the space bar, wherever one has clicked, but not in a field', async () => {
    const { screen, session } = await openPage('C7alt');
    await screen.getByRole('button', { name: 'Faster' }).click();
    await userEvent.keyboard(' ');
    expect(session.playing.on).toBe(true);
    expect(session.settings.tempo).toBe(122);
    await userEvent.keyboard(' ');
    expect(session.playing.on).toBe(false);
    await screen.getByRole('textbox', { name: 'Chart as text' }).click();
    await userEvent.keyboard(' ');
    expect(session.playing.on).toBe(false);
  });

  it('leaves a button reached by Tab its own space bar', async () => {
    const { screen, session } = await openPage('C7alt');
    await userEvent.keyboard('{Tab}');
    (screen.getByRole('button', { name: 'Faster' }).element() as HTMLElement).focus();
    await userEvent.keyboard(' ');
    expect(session.playing.on).toBe(false);
    expect(session.settings.tempo).toBe(122);
  });
});

describe('the stage', () => {
  it('shows what sounds, what comes and when, and the scale', async () => {
    const { screen, session, player } = await openPage('Dm7 G7 | Cmaj7 |');
    session.place({ from: beats(2), to: beats(4) }, 'altered');
    await session.play();
    player.at = beats(1);
    await frame();
    const stage = screen.getByRole('region', { name: 'Now' });
    await expect.element(stage.getByText('Dm7', { exact: true }).first()).toBeInTheDocument();
    await expect.element(stage.getByText('Next, on the next beat')).toBeInTheDocument();
    await expect.element(stage.getByText('G7alt', { exact: true }).first()).toBeInTheDocument();
    player.at = beats(2.5);
    await frame();
    await expect.element(stage.getByText('G altered')).toBeInTheDocument();
    expect([...stage.element().classList]).toContain('altered');
    const notes = [...stage.element().querySelectorAll('.notes li')].map((note) => note.textContent.trim());
    expect(notes).toEqual(['G 1', 'A♭ ♭9', 'A♯ ♯9', 'B 3', 'D♭ ♭5', 'D♯ ♯5', 'F ♭7']);
  });

  it('counts in', async () => {
    const { screen, session, player } = await openPage('C7');
    session.preferences.set({ countIn: 1 });
    await session.play();
    expect(player.at).toBe(beats(-4));
    await frame();
    await expect.element(screen.getByText('Count-in', { exact: true }).first()).toBeInTheDocument();
  });
});

describe('a phone on the music stand', () => {
  it('shows a page that stands still, whatever is said of the beat that comes', async () => {
    const { screen, session, player } = await openPage('Dm7 | G7 | Bb7 | Cmaj7');
    await page.viewport(360, 740);
    await session.play();
    const places = new Set<string>();
    const words = new Set<string>();
    for (let beat = 0; beat < 16; beat++) {
      player.at = beats(beat);
      await frame();
      words.add(screen.container.querySelector('#alter-preview')!.textContent);
      const boxes = ['main', '.dock', '.next > span', '[role="grid"]'].map((name) => {
        const { top, bottom } = screen.container.querySelector(name)!.getBoundingClientRect();
        return name === '.next > span' ? top : `${top} ${bottom}`;
      });
      places.add(boxes.join(', '));
    }
    expect(words.size).toBeGreaterThan(3);
    expect([...places]).toHaveLength(1);
  });
});

describe('the playhead', () => {
  it('is where the music is, by transform alone', async () => {
    const { screen, session, player } = await openPage('C7 | F7');
    await session.play();
    const head = screen.container.querySelector<HTMLElement>('.playhead')!;
    const x = async (beat: number) => {
      player.at = beats(beat);
      await frame();
      return new DOMMatrix(getComputedStyle(head).transform).e;
    };
    const [start, middle, end] = [await x(0), await x(2), await x(4)];
    expect(start).toBe(0);
    expect(end - middle).toBeCloseTo(middle - start, 1);
    expect(middle).toBeGreaterThan(50);
    session.playing.stop();
    await frame();
    expect(head.hidden).toBe(true);
  });

  it('is carried along by the browser: while the music goes on nothing is written', async () => {
    const { screen, session, player } = await openPage('C7 | F7 | Bb7 | Eb7');
    await session.play();
    const begun = performance.now();
    player.speed = () => 2 * PPQ;
    player.position = () => ((performance.now() - begun) / 1000) * 2 * PPQ;
    const head = screen.container.querySelector<HTMLElement>('.playhead')!;
    await expect.poll(() => head.getAnimations()[0]?.playState).toBe('running');
    const [animation] = head.getAnimations();
    const { startTime } = animation!;
    let written = 0;
    const watching = new MutationObserver(() => written++);
    watching.observe(head, { attributes: true });
    await expect.poll(() => player.position()!, { timeout: 3000 }).toBeGreaterThan(beats(2));
    watching.disconnect();
    expect(written).toBe(0);
    expect(head.getAnimations()).toEqual([animation]);
    expect(animation!.startTime).toBe(startTime);
    // It has come as far as the music.
    expect(Number(animation!.currentTime)).toBeGreaterThan(beats(1.8));
  });

  it('stands still at its chord while a drill over that chord is played', async () => {
    const { screen, session, player } = await openPage('Dm7 | G7alt | Cmaj7 |');
    const drilling = drillingOf(session);
    drilling.begin(0);
    await drilling.toggle(true);
    player.speed = () => 2 * PPQ;
    const head = screen.container.querySelector<HTMLElement>('.playhead')!;
    await expect.poll(() => head.getAnimations()[0]?.currentTime).toBe(beats(4));
    expect(head.getAnimations()[0]!.playState).toBe('paused');
  });
});

describe('altering live', () => {
  it('says a beat ahead what will happen, and shows it in the ribbon', async () => {
    const { screen, session, player, beat } = await openPage('G7 | % | Cmaj7 | %');
    await session.play();
    player.at = beats(0.5);
    await frame();
    const alter = screen.getByRole('button', { name: /^Alter/ });
    await expect.element(alter).toHaveTextContent('Next beat: G7 becomes G7alt on beats 2 and 3.');
    blur();
    await userEvent.keyboard('a');
    await expect.element(beat(/^bar 1, beat 2, G7, altered/)).toBeInTheDocument();
    await expect.element(beat(/^bar 1, beat 3, G7, altered/)).toBeInTheDocument();
    await expect.element(beat(/^bar 1, beat 4, G7, G mixolydian/)).toBeInTheDocument();
  });

  it('says what happens on the first beat of a loop while its last one sounds', async () => {
    const { screen, session, player } = await openPage('Dm7 G7 | Cmaj7 | Dm7 G7 | Cmaj7 |');
    session.setLoop({ from: beats(10), to: beats(12) });
    await session.play();
    player.at = beats(1.5);
    await frame();
    const alter = screen.getByRole('button', { name: /^Alter/ });
    await expect.element(alter).toHaveTextContent('Next beat: G7 becomes G7alt on beats 3 and 4.');
  });

  it('with the key held lasts as long as it is held', async () => {
    const { screen, session, player } = await openPage('G7 | % | % | %');
    await session.play();
    player.at = beats(0.5);
    await frame();
    blur();
    await userEvent.keyboard('{a>}');
    await expect
      .element(screen.getByRole('button', { name: /^Alter/ }))
      .toHaveTextContent('Altered for as long as you hold.');
    player.at = beats(8.5);
    await userEvent.keyboard('{/a}');
    expect(session.playing.touches).toEqual([{ at: beats(1), length: beats(8), kind: 'altered' }]);
  });

  it('by a pedal that sends page keys', async () => {
    const { session, player } = await openPage('G7 | %');
    await session.play();
    player.at = beats(0.5);
    blur();
    await userEvent.keyboard('{PageDown}');
    expect(session.playing.touches.length).toBe(1);
  });

  it('with the band at rest says what to do', async () => {
    const { screen } = await openPage('G7 | %');
    blur();
    await userEvent.keyboard('a');
    await expect.element(screen.getByText(/The band must be playing/)).toBeVisible();
  });
});

describe('keys', () => {
  it('can be given to another action, and then are gone from the first', async () => {
    const { screen, session } = await openPage('C7');
    await screen.getByRole('button', { name: 'Help' }).click();
    await screen.getByRole('button', { name: /Add a key: Play or stop/ }).click();
    await userEvent.keyboard('a');
    expect(session.preferences.values.keys.play).toContain('A');
    expect(session.preferences.values.keys.alter).not.toContain('A');
  });

  it('of one letter can be switched off', async () => {
    const { session } = await openPage('G7');
    session.preferences.set({ letterKeys: false });
    blur();
    await userEvent.keyboard('+');
    expect(session.settings.tempo).toBe(120);
    await userEvent.keyboard(' ');
    expect(session.playing.on).toBe(true);
  });
});

describe('the chart as text', () => {
  it('names each problem where it is, and a press goes there', async () => {
    const { screen } = await openPage('Dm7 | G7 |\nH7 | Cmaj7 |');
    const problem = screen.getByRole('button', { name: /^Line 2, column 1/ });
    await expect.element(problem).toBeVisible();
    await problem.click();
    const field = screen.getByRole('textbox', { name: 'Chart as text' }).element() as HTMLTextAreaElement;
    expect(document.activeElement).toBe(field);
    expect([field.selectionStart, field.selectionEnd]).toEqual([11, 12]);
    expect(screen.container.querySelector('pre .error')?.textContent).toBe('H');
  });

  it('and the ribbon are one: each shows what is done in the other', async () => {
    const { screen, beat, session } = await openPage('C7');
    await screen.getByRole('textbox', { name: 'Chart as text' }).fill('F7 | Bb7');
    await expect.element(beat(/^bar 2, beat 1, Bb7/)).toBeInTheDocument();
    session.editing.replaceChord(0, 0, 'Eb7');
    await expect.element(screen.getByRole('textbox', { name: 'Chart as text' })).toHaveValue('Eb7 | Bb7');
  });
});

describe('a chart to choose', () => {
  const presets = [
    { id: 'a', title: 'A vamp', sentence: 'Stay.', project: newProject({ title: 'A vamp', text: 'Ab7alt' }) },
    { id: 'b', title: 'A blues', sentence: 'Twelve.', project: newProject({ title: 'A blues', text: 'F7' }) },
  ];

  it('is found by its words, opened with a press, and taken back with another', async () => {
    const { screen, session } = await openPage('C7', {}, presets);
    await screen.getByRole('button', { name: 'Charts' }).click();
    await screen.getByRole('searchbox', { name: 'Find a chart' }).fill('twelve');
    expect(screen.container.querySelectorAll('#panel li').length).toBe(1);
    await screen.getByRole('button', { name: /^A blues/ }).click();
    expect(session.text).toBe('F7');
    await screen.getByRole('status').getByRole('button', { name: 'Take back' }).click();
    expect(session.text).toBe('C7');
  });
});

describe('when the sound fails', () => {
  it('the page says why and what to do', async () => {
    const { screen, player } = await openPage('C7');
    player.tell({ type: 'failed', message: 'No sound device. Plug one in and press Play.' });
    await expect.element(screen.getByRole('alert')).toHaveTextContent(/Plug one in/);
  });

  it('loading is shown as it goes', async () => {
    const { screen, player } = await openPage('C7');
    player.tell({ type: 'loading', done: 12, total: 40 });
    const bar = screen.getByRole('progressbar', { name: 'Loading sounds' });
    await expect.element(bar).toHaveAttribute('max', '40');
    expect((bar.element() as HTMLProgressElement).value).toBe(12);
  });
});

describe('chords are announced', () => {
  it('only when asked for', async () => {
    const { screen, session, player } = await openPage('Dm7 | G7');
    const said = () => screen.container.querySelector('[aria-live="polite"].spoken')?.textContent;
    await session.play();
    player.at = beats(1);
    await frame();
    expect(said()).toBe('');
    session.preferences.set({ announce: true });
    player.at = beats(4);
    await frame();
    expect(said()).toBe('G7');
  });
});
