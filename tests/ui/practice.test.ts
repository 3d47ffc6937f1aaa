import { describe, expect, it } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { beats, bpm, NO_PRACTICE, ticks, type Practice } from '../../src/engine/index.ts';
import { sounding } from '../../src/ui/stage/sounding.ts';
import { openPage, sessionOf } from './open.ts';

const CHART = 'Dm7 | G7 | Cmaj7 | A7';
const BAR = beats(4);
const practised = (practice: Partial<Practice>) => ({ practice: { ...NO_PRACTICE, ...practice } });
const looped = { bar: 1, at: ticks(0), length: BAR };

/** Plays and looks at tick `at` of the performance. */
async function playingAt(text: string, set: Parameters<typeof sessionOf>[1], at: number) {
  const { session, player } = sessionOf(text, set);
  await session.play();
  player.at = at;
  session.playing.look();
  return { session, player };
}

describe('what is practised', () => {
  it('shows in the ribbon where the run-up and the landing lie, and where the music is', async () => {
    const set = { loop: looped, ...practised({ runUp: beats(2), landing: beats(4) }) };
    const { session, player } = await playingAt(CHART, set, beats(1));
    expect(session.playing.now).toMatchObject({ tick: beats(3), bar: 0, beat: 3 });
    expect(session.playing.formTick()).toBe(beats(3));
    player.at = beats(2);
    session.playing.look();
    expect(session.playing.now).toMatchObject({ tick: beats(4) });
    player.at = beats(9);
    session.playing.look();
    expect(session.playing.now).toMatchObject({ tick: beats(11) });
  });

  it('says what comes after the rest: another chord, or that the one that sounds stays', async () => {
    const rests = practised({ rest: 1 });
    const { session: vamp } = await playingAt('C7alt | %', rests, beats(1));
    expect(sounding(vamp, 0)).toMatchObject({ next: null });
    const { session } = await playingAt('Dm7 | G7', rests, beats(4));
    expect(sounding(session, 0)).toMatchObject({ next: { chord: { text: 'Dm7' } }, until: 8 });
  });

  it('waits where the next round begins while the band rests, then counts it in', async () => {
    const set = { loop: looped, ...practised({ rest: 1, countIn: 1 }) };
    const { session, player } = await playingAt(CHART, set, beats(4.5));
    expect(session.playing.now).toMatchObject({ tick: beats(4), rests: true, countIn: 0 });
    expect(session.playing.formTick()).toBeNull();
    player.at = beats(8.5);
    session.playing.look();
    expect(session.playing.now).toMatchObject({ tick: beats(4), rests: false, countIn: 4 });
    player.at = beats(11.5);
    session.playing.look();
    expect(session.playing.now).toMatchObject({ rests: false, countIn: 1 });
    player.at = beats(12);
    session.playing.look();
    expect(session.playing.now).toMatchObject({ countIn: 0, beat: 0 });
    expect(session.round).toBe(1);
  });

  it('shows chords, scales and key of the round that sounds, and edits the chart as typed', async () => {
    const set = practised({ keys: { order: 'falling-fifths', rounds: 1 } });
    const { session } = await playingAt(CHART, set, 4 * BAR + beats(4));
    expect(session.key.tonic).toBe('F');
    expect(session.sources.changes.spans[1]!.chord!.text).toBe('C7');
    expect(session.sources.form.bars[1]!.bar.slots[0]!.chord!.text).toBe('C7');
    expect(session.editing.chordText(1, 0)).toBe('G7');
    session.transpose({ tonic: 'G', mode: 'major' });
    expect(session.text).toBe('Em7 | A7 | Dmaj7 | B7');
    expect(session.key.tonic).toBe('G');
  });

  it('keeps a live touch where it lies in the form', async () => {
    const set = { loop: looped, ...practised({ runUp: beats(4) }) };
    const { session, player } = await playingAt(CHART, set, beats(3.5));
    session.playing.press('altered');
    player.at = beats(4.5);
    session.playing.release(beats(2));
    expect(session.playing.heard).toEqual([{ from: beats(4), to: beats(6), kind: 'altered' }]);
    expect(session.changes.spans.find(({ treatment }) => treatment !== null)).toMatchObject({
      start: beats(4),
      length: beats(2),
    });
  });
});

describe('a ladder', () => {
  const ladder = { from: bpm(72), to: bpm(120), step: 6, rounds: 2 };

  it('begins the band at its first tempo and shows that of the round', async () => {
    const { session, player } = await playingAt(CHART, practised({ ladder }), 0);
    expect(player.tempo).toBe(72);
    player.at = 4 * BAR;
    session.playing.look();
    expect(session.practising.tempo).toBe(72);
    player.at = 8 * BAR;
    session.playing.look();
    expect(session.practising.tempo).toBe(78);
  });

  it('goes on from a tempo set by hand; the chart’s own stays', async () => {
    const { session, player } = await playingAt(CHART, practised({ ladder }), 8 * BAR);
    session.setTempo(100);
    expect(player.tempo).toBe(100);
    expect(session.settings.tempo).toBe(120);
    expect(player.source!.tempi!(ticks(0), ticks(20 * BAR)).at(-1)).toMatchObject({ tempo: 106 });
  });

  it('is a rung down and the round once more on one key', async () => {
    const { session, player } = await playingAt(CHART, practised({ ladder }), 9 * BAR + 5);
    expect(session.practising.tempo).toBe(78);
    session.practising.easier();
    player.at = 9 * BAR + beats(1);
    session.playing.look();
    expect(session.practising.tempo).toBe(72);
    expect(session.playing.now).toMatchObject({ bar: 0, beat: 0, tick: 0 });
    expect(session.round).toBe(2);
    expect(player.source!.tempi!(ticks(9 * BAR + 6), ticks(9 * BAR + beats(2)))).toEqual([
      { at: 9 * BAR + beats(1), tempo: 72 },
    ]);
  });

  it('gives the tempo back to the chart when it is taken away, also by undo', async () => {
    const { session, player } = await playingAt(CHART, practised({ ladder }), 0);
    session.practising.set({ ladder: null }, 'Ladder');
    expect(player.tempo).toBe(120);
    expect(session.practising.tempo).toBe(120);
    session.undo();
    expect(session.practising.tempo).toBe(72);
    session.redo();
    expect(player.tempo).toBe(120);
  });
});

describe('the practice sheet', () => {
  it('loops the chord under the cursor and where it goes', async () => {
    const { screen, session, beat } = await openPage('Dm7 / G7 / | Cmaj7');
    (beat(/^bar 1, beat 4/).element() as HTMLElement).focus();
    await userEvent.keyboard('p');
    await screen.getByRole('button', { name: /^Loop G7 and where it goes/ }).click();
    expect(session.loop).toEqual({ from: beats(2), to: beats(4) });
    expect(session.project.practice).toMatchObject({ runUp: beats(2), landing: beats(4) });
  });

  it('sets a ladder of 60 % and says how long it takes', async () => {
    const { screen, session } = await openPage(CHART);
    await userEvent.keyboard('p');
    await screen.getByRole('checkbox', { name: 'Change the tempo by steps' }).click();
    expect(session.project.practice.ladder).toEqual({ from: 72, to: 120, step: 5, rounds: 4 });
    await expect.element(screen.getByText(/From 60 % of the chart’s tempo up to 120/)).toBeVisible();
    await screen.getByRole('button', { name: 'By: more' }).click();
    expect(session.project.practice.ladder!.step).toBe(6);
    session.undo();
    expect(session.project.practice.ladder).toBeNull();
  });

  it('switches a round plain, a round altered; where all is altered as written, to plain', async () => {
    const { screen, session } = await openPage('C7alt | %');
    await userEvent.keyboard('p');
    await screen.getByRole('combobox', { name: 'Each dominant' }).selectOptions('rounds');
    expect(session.layers.rules).toMatchObject([{ kind: 'plain', when: { type: 'every', nth: 2 } }]);
  });

  it('hides what is altered from eyes that want to hear it', async () => {
    const { screen, session } = await openPage('G7 | Cmaj7');
    session.addRule();
    await expect.element(screen.getByRole('gridcell', { name: /altered/ }).first()).toBeInTheDocument();
    await userEvent.keyboard('p');
    await screen.getByRole('checkbox', { name: /Hide what is altered/ }).click();
    await expect.poll(() => screen.getByRole('gridcell', { name: /altered/ }).elements()).toHaveLength(0);
    expect(screen.container.querySelector('section[aria-label="Now"] .spoken')!.textContent).toBe('G7');
  });

  it('names the keys to come', async () => {
    const { screen } = await openPage(CHART, { key: { tonic: 'C', mode: 'major' } });
    await userEvent.keyboard('p');
    await screen.getByRole('combobox', { name: 'Order of keys' }).selectOptions('falling-fifths');
    await expect.element(screen.getByText(/C, F, B♭, E♭, A♭ …/)).toBeVisible();
    await page.viewport(360, 740);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(360);
  });
});
