import { describe, expect, it, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import {
  beats,
  bpm,
  NO_PRACTICE,
  ok,
  ticks,
  usualDrill,
  type KeptDrill,
  type NoteEvent,
  type PlayPlan,
  type Project,
} from '../../src/engine/index.ts';
import type { MidiChoices, ScorePort, StaffSheet } from '../../src/ui/ports.ts';
import { newProject } from '../../src/engine/index.ts';
import { openPage, openSheet, sessionOf } from './open.ts';
import { drillingOf } from '../../src/ui/drills/drilling.svelte.ts';
import type { FakePlayer } from './harness/player.ts';

const CHART = 'Dm7 | G7alt | Cmaj7 | A7 |';
const BAR = beats(4);

/** The sheet, open and drawn. */
async function openDrills(text = CHART, set: Partial<Project> = {}, scores?: ScorePort) {
  const opened = await openPage(text, set, [], scores === undefined ? {} : { scores });
  await openSheet(opened, 'Drills');
  const { screen } = opened;
  return {
    ...opened,
    drilling: drillingOf(opened.session),
    button: (name: string | RegExp) => screen.getByRole('button', { name }),
    notes: () => [...screen.container.querySelectorAll<HTMLElement>('[role="option"]')],
    systems: () => screen.container.querySelectorAll('.system svg').length,
  };
}

const drawn = async (sheet: Awaited<ReturnType<typeof openDrills>>) => {
  await expect.poll(() => sheet.notes().length).toBeGreaterThan(8);
};
const heardFrom = ({ source }: FakePlayer, from: number, to: number): readonly NoteEvent[] =>
  source?.notes(ticks(from), ticks(to)) ?? [];
const partsOf = (notes: readonly NoteEvent[]) => [...new Set(notes.map(({ part }) => part))].sort();

describe('the sheet of drills', () => {
  it('opens with the dominant that is practised, on a staff and on the strings', async () => {
    const sheet = await openDrills();
    await expect
      .element(sheet.screen.getByRole('heading', { name: 'Thirds, G altered' }))
      .toBeInTheDocument();
    await drawn(sheet);
    expect(sheet.drilling.place).toEqual({ bar: 1, at: 0 });
    expect(sheet.screen.container.querySelectorAll('.system .tab').length).toBeGreaterThan(0);
    expect(sheet.notes()[0]!.getAttribute('aria-label')).toBe('Bar 1: G, 1, string 6, fret 3');
    const told = sheet.screen.container.querySelector('#drill-words')!.textContent;
    expect(told).toMatch(
      /^Thirds, G altered, \d+ bars of 4\/4\. Bar 1, G7alt: eighth G 1, A♯ ♯9, A♭ ♭9, B 3,/,
    );
  });

  it('teaches where the chart has no chord yet', async () => {
    const { screen } = await openDrills('');
    await expect.element(screen.getByText(/the chart has none yet. Type one in it/)).toBeInTheDocument();
  });

  it('offers what can be made over one chord, or over all changes', async () => {
    const sheet = await openDrills();
    const kinds = () =>
      [
        ...sheet.screen
          .getByRole('combobox', { name: /^Drill/ })
          .element()
          .querySelectorAll('option'),
      ].map(({ value }) => value);
    await expect.poll(kinds).toContain('root-run');
    expect(kinds()).not.toContain('through');
    await sheet.screen.getByRole('radio', { name: 'All changes' }).click();
    await expect.poll(kinds).toContain('guide-tones');
    expect(kinds()).not.toContain('root-run');
    await expect
      .element(sheet.screen.getByRole('heading', { name: 'Scale through the changes' }))
      .toBeInTheDocument();
    sheet.session.setLoop({ from: beats(4), to: beats(12) });
    await expect.element(sheet.screen.getByText('What loops')).toBeInTheDocument();
    expect(sheet.drilling.drill!.changes.length).toBe(2 * BAR);
  });

  it('follows the beat that is chosen in the ribbon, and the chord that is chosen by name', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    await userEvent.click(sheet.beat(/^bar 4, beat 1/));
    await expect.element(sheet.screen.getByRole('heading', { name: /^Thirds, A / })).toBeInTheDocument();
    await userEvent.selectOptions(sheet.screen.getByRole('combobox', { name: /^Chord/ }), 'Dm7, bar 1');
    await expect.element(sheet.screen.getByRole('heading', { name: 'Thirds, D dorian' })).toBeInTheDocument();
  });

  it('says what is in the way and what to do', async () => {
    const sheet = await openDrills('Dm7 | G7 | Cmaj7 |');
    await drawn(sheet);
    const { screen, drilling } = sheet;
    drilling.take(null);
    drilling.set({ kind: 'phrases' });
    await expect.element(screen.getByText(/No chord here takes the altered scale/)).toBeInTheDocument();
    await expect.element(screen.getByText(/Alter a dominant/)).toBeInTheDocument();
  });

  it('is set in every respect, and drawn anew', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    await sheet.screen.getByRole('radio', { name: 'Triplets' }).click();
    await expect.poll(() => sheet.drilling.settings.rhythm).toBe('triplet');
    await sheet.screen.getByRole('radio', { name: 'In turns' }).click();
    await sheet.button('Form: more').click();
    await sheet.button('Begins on beat: more').click();
    await sheet.screen.getByText('Only between two notes').click();
    await sheet.button(/Lowest note, as it sounds: more/).click();
    expect(sheet.drilling.settings).toMatchObject({
      rhythm: 'triplet',
      direction: 'turns',
      hand: { type: 'form', number: 2 },
      startBeat: 2,
      range: { low: 41, high: 59 },
    });
    const { drill } = sheet.drilling;
    expect(drill!.notes[0]!.at).toBe(beats(1));
    await expect.poll(() => sheet.notes().length).toBe(drill!.notes.length);
  });
});

describe('drills that are kept', () => {
  const kept = (id: string, set: Partial<KeptDrill> = {}): KeptDrill => ({
    id,
    place: null,
    settings: usualDrill('through', 'changes'),
    printed: true,
    ...set,
  });

  it('are kept with the chart and taken back', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    await sheet.button('Keep this drill').click();
    await expect.element(sheet.screen.getByText(/Thirds, eighths, form 1/)).toBeInTheDocument();
    expect(sheet.kept.at(-1)!.drills).toMatchObject([
      { id: 'd1', place: { bar: 1, at: 0 }, settings: { kind: 'thirds' }, printed: true },
    ]);
    await expect.element(sheet.button('Kept')).toBeDisabled();
    sheet.session.undo();
    expect(sheet.session.project.drills).toEqual([]);
    await expect.element(sheet.button('Keep this drill')).toBeEnabled();
  });

  it('are shown, changed in their place, ordered, left off the handout and removed', async () => {
    const drills = [kept('a'), kept('b', { settings: usualDrill('guide-tones', 'changes') })];
    const sheet = await openDrills(CHART, { drills });
    await sheet.screen.getByText('Guide-tone line, eighths').click();
    await expect.element(sheet.screen.getByRole('heading', { name: 'Guide-tone line' })).toBeInTheDocument();
    sheet.drilling.set({ line: 'seventh' });
    await sheet.button('Keep it in place of drill 2').click();
    await expect.poll(() => sheet.session.project.drills[1]!.settings.line).toBe('seventh');
    await sheet.button('drill 2: up the list').click();
    await expect.poll(() => sheet.session.project.drills.map(({ id }) => id)).toEqual(['b', 'a']);
    await sheet.screen.getByLabelText('On the handout: drill 1').click();
    await expect
      .poll(() => sheet.session.project.drills.map(({ printed }) => printed))
      .toEqual([false, true]);
    await sheet.button('Remove drill 2').click();
    await expect.poll(() => sheet.session.project.drills.map(({ id }) => id)).toEqual(['b']);
    await sheet.button('Take back').last().click();
    await expect.poll(() => sheet.session.project.drills.map(({ id }) => id)).toEqual(['b', 'a']);
  });
});

describe('a drill that is heard', () => {
  it('is played over its own bars with the band, and stops where it is pressed again', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    await sheet.button('Play with the band').click();
    await expect.element(sheet.button('Play with the band')).toHaveAttribute('aria-pressed', 'true');
    const line = heardFrom(sheet.player, 0, BAR).filter(({ part }) => part === 'lead');
    expect(line.map(({ pitch }) => pitch)).toEqual(
      sheet.drilling.drill!.notes.filter(({ at }) => at < BAR).map(({ pitch }) => pitch),
    );
    expect(partsOf(heardFrom(sheet.player, 0, 2 * BAR))).toEqual(['bass', 'click', 'comp', 'drums', 'lead']);
    await sheet.button('Play with the band').click();
    await expect.poll(() => sheet.session.playing.on).toBe(false);
  });

  it('is played alone with the click', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    await sheet.button('Play alone').click();
    await expect.poll(() => sheet.session.playing.on).toBe(true);
    expect(partsOf(heardFrom(sheet.player, 0, 2 * BAR))).toEqual(['click', 'lead']);
  });

  it('over the changes joins the band that plays already, and stays with what is changed', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    sheet.drilling.take(null);
    await sheet.session.play();
    sheet.player.at = beats(1);
    await sheet.button('Play with the band').click();
    await expect.poll(() => partsOf(heardFrom(sheet.player, BAR, 2 * BAR))).toContain('lead');
    sheet.session.set({ density: 0.9 }, 'Density');
    sheet.drilling.set({ kind: 'chord-tones' });
    sheet.player.at = beats(9);
    sheet.session.playing.look();
    expect(partsOf(heardFrom(sheet.player, 3 * BAR, 4 * BAR))).toContain('lead');
    expect(sheet.drilling.heard).toBe(true);
  });

  it('goes on when its sheet is closed, and is over when something else is played', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    await sheet.button('Play with the band').click();
    await expect.poll(() => sheet.session.playing.on).toBe(true);
    await openSheet(sheet, 'Practice');
    await expect.element(sheet.screen.getByRole('heading', { name: 'Ladder' })).toBeInTheDocument();
    expect(sheet.session.playing.on).toBe(true);
    expect(sheet.drilling.heard).toBe(true);
    // Though its sheet is closed it goes with the chart.
    sheet.session.edit('Dm7 | A7alt | Cmaj7 | A7 |', 'Chord');
    const line = heardFrom(sheet.player, 2 * BAR, 3 * BAR).filter(({ part }) => part === 'lead');
    expect(line[0]).toMatchObject({ part: 'lead' });
    expect(sheet.session.played.written.spans[0]!.chord!.text).toBe('A7alt');
    await sheet.session.play();
    expect(sheet.drilling.heard).toBe(false);
    expect(partsOf(heardFrom(sheet.player, 0, BAR))).not.toContain('lead');
  });

  it('is what Space plays again while its sheet is open', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    await sheet.button('Play alone').click();
    await expect.poll(() => sheet.session.playing.on).toBe(true);
    await userEvent.keyboard(' ');
    await expect.poll(() => sheet.session.playing.on).toBe(false);
    await userEvent.keyboard(' ');
    await expect.poll(() => sheet.session.playing.on).toBe(true);
    expect(sheet.drilling.heard).toBe(true);
  });

  it('goes through the keys of a key round and shows the key that sounds', async () => {
    const practice = { ...NO_PRACTICE, keys: { order: 'rising-semitones' as const, rounds: 1 } };
    const sheet = await openDrills(CHART, { practice });
    await drawn(sheet);
    await sheet.button('Play alone').click();
    await expect.poll(() => sheet.session.playing.on).toBe(true);
    const round = sheet.session.played.written.length;
    sheet.player.at = round + beats(1);
    await expect
      .element(sheet.screen.getByRole('heading', { name: 'Thirds, A♭ altered' }))
      .toBeInTheDocument();
    expect(sheet.drilling.drill!.changes.spans[0]!.chord!.text).toBe('Ab7alt');
    sheet.session.playing.stop();
    await expect
      .element(sheet.screen.getByRole('heading', { name: 'Thirds, G altered' }))
      .toBeInTheDocument();
  });

  it('has the next key of a key round drawn when it comes', async () => {
    const practice = { ...NO_PRACTICE, keys: { order: 'rising-semitones' as const, rounds: 1 } };
    const sheet = await openDrills(CHART, { practice });
    await drawn(sheet);
    const made = vi.spyOn(document, 'createElementNS');
    await sheet.button('Play alone').click();
    await expect.poll(() => sheet.session.playing.on).toBe(true);
    const round = sheet.session.played.written.length;
    sheet.player.at = beats(2);
    await expect.poll(() => sheet.drilling.next?.title).toBe('Thirds, Ab altered');
    const { next } = sheet.drilling;
    // Its lines are drawn one after the other, in tasks of their own: all are there when no more come.
    let known = 0;
    const isStill = () => {
      const before = known;
      known = made.mock.calls.length;
      return known > 0 && known === before;
    };
    await expect.poll(isStill, { interval: 300 }).toBe(true);
    made.mockClear();
    sheet.player.at = round + beats(0.5);
    await expect.poll(() => sheet.drilling.drill).toBe(next);
    await expect.poll(() => sheet.systems()).toBeGreaterThan(0);
    await expect.poll(() => sheet.notes().length).toBe(next!.notes.length);
    const signs = made.mock.calls.filter(([, name]) => name === 'path');
    made.mockRestore();
    expect(signs).toEqual([]);
    expect(sheet.notes()[0]!.getAttribute('aria-label')).toMatch(/^Bar 1: A♭, 1/);
    sheet.session.playing.stop();
    await expect.poll(() => sheet.drilling.next).toBeNull();
  });

  it('climbs the ladder of practice', async () => {
    const ladder = { from: bpm(80), to: bpm(100), step: 10, rounds: 1 };
    const { session, player } = sessionOf(CHART, { practice: { ...NO_PRACTICE, ladder } });
    const drilling = drillingOf(session);
    drilling.begin(0);
    await drilling.toggle(true);
    expect(player.tempo).toBe(80);
    const round = session.played.written.length;
    expect(player.source!.tempi!(ticks(0), ticks(2 * round)).map(({ tempo }) => tempo)).toEqual([80, 90]);
  });

  it('stands in the ribbon where its chord does, with the scale that is practised', async () => {
    const { session, player } = sessionOf(CHART);
    const drilling = drillingOf(session);
    drilling.begin(0);
    await drilling.toggle(false);
    player.at = beats(9);
    session.playing.look();
    expect(session.playing.now).toMatchObject({ tick: BAR, bar: 2, beat: 1 });
    expect(session.playing.formTick()).toBe(BAR);
    session.playing.press('tritone-substitute');
    expect(session.changes.spans.map(({ chord }) => chord?.text)).toEqual(['Dm7', 'G7alt', 'Cmaj7', 'A7']);
  });

  it('is stopped with the chart that another one takes the place of', async () => {
    const { session } = sessionOf(CHART);
    const drilling = drillingOf(session);
    drilling.begin(0);
    await drilling.toggle(false);
    session.open(newProject({ title: 'Empty', text: '' }));
    expect(session.playing.on).toBe(false);
    expect(drilling.play).toBeNull();
    expect(drilling.trouble?.message).toMatch(/no chord/);
  });
});

describe('the music on the sheet', () => {
  it('lights the note that sounds and moves through the lines with it', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    await sheet.button('Play alone').click();
    await expect.poll(() => sheet.session.playing.on).toBe(true);
    const lit = sheet.screen.container.querySelector<HTMLElement>('.score .lit')!;
    const head = sheet.screen.container.querySelector<HTMLElement>('.score .head')!;
    const middle = (element: Element) => {
      const { left, width } = element.getBoundingClientRect();
      return left + width / 2;
    };
    const svgs = sheet.screen.container.querySelectorAll('.system svg').length;
    for (const index of [0, 3, 9, 20]) {
      const note = sheet.drilling.drill!.notes[index]!;
      sheet.player.at = note.at + beats(0.45);
      const element = sheet.screen.container.querySelector(`[data-note="${index}"]`)!;
      await expect.poll(() => lit.hidden).toBe(false);
      await expect.poll(() => Math.abs(middle(lit) - middle(element))).toBeLessThan(16);
      expect(Math.abs(lit.getBoundingClientRect().top - element.getBoundingClientRect().top)).toBeLessThan(2);
      expect(middle(head)).toBeGreaterThanOrEqual(middle(lit) - 2);
    }
    // Nothing is drawn anew meanwhile.
    expect(sheet.screen.container.querySelectorAll('.system svg').length).toBe(svgs);
    sheet.session.playing.stop();
    await expect.poll(() => lit.hidden).toBe(true);
  });

  it('has its choices in one row each on a phone, and shows what was chosen whole', async () => {
    const sheet = await openDrills();
    await page.viewport(360, 740);
    await sheet.screen.getByRole('radio', { name: 'All changes' }).click();
    await drawn(sheet);
    const panel = sheet.screen.container.querySelector<HTMLElement>('#panel')!;
    for (const row of panel.querySelectorAll<HTMLElement>('fieldset .row')) {
      const tops = [...row.children].map((choice) => choice.getBoundingClientRect().top);
      expect(new Set(tops).size, row.textContent).toBe(1);
    }
    const drill = sheet.screen.getByRole('combobox', { name: /^Drill/ }).element();
    expect(drill.getBoundingClientRect().width).toBeCloseTo(
      panel.querySelector('.music')!.getBoundingClientRect().width,
    );
  });

  it('is all that moves while the sheet covers the ribbon', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    await page.viewport(360, 740);
    await sheet.button('Play alone').click();
    const moving = (name: string) =>
      sheet.screen.container.querySelector<HTMLElement>(name)!.getAnimations().length;
    await expect.poll(() => moving('.score .head')).toBe(1);
    expect(moving('.playhead')).toBe(0);
    await page.viewport(1280, 800);
    await expect.poll(() => moving('.playhead')).toBe(1);
    await page.viewport(360, 740);
    await expect.poll(() => moving('.playhead')).toBe(0);
  });

  it('scrolls to the line that sounds', async () => {
    const sheet = await openDrills('C7alt | % |');
    await page.viewport(360, 640);
    await drawn(sheet);
    sheet.drilling.set({ kind: 'sevenths' });
    await sheet.button('Play alone').click();
    await expect.poll(() => sheet.session.playing.on).toBe(true);
    const body = sheet.screen.container.querySelector<HTMLElement>('#panel .body')!;
    const last = sheet.drilling.drill!.notes.at(-1)!;
    sheet.player.at = last.at + 1;
    const lit = () => sheet.screen.container.querySelector('.score .lit')!.getBoundingClientRect();
    const view = () => body.getBoundingClientRect();
    await expect
      .poll(() => lit().height > 0 && lit().bottom <= view().bottom && lit().top >= view().top - 1)
      .toBe(true);
    expect(body.scrollTop).toBeGreaterThan(100);
  });

  it('lets a note be heard that is clicked, and says why it is there', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    sheet.notes()[1]!.click();
    const { pitch } = sheet.drilling.drill!.notes[1]!;
    expect(sheet.player.auditioned).toEqual([[pitch, 'guitar']]);
    await expect.element(sheet.screen.getByText(/up within the group; string 5, fret 1/)).toBeInTheDocument();
    expect(sheet.notes()[1]!.getAttribute('aria-selected')).toBe('true');
  });

  it('is gone through with the arrows and heard with Enter', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    const list = sheet.screen.getByRole('listbox', { name: 'Notes of the drill' });
    (list.element() as HTMLElement).focus();
    await userEvent.keyboard('{ArrowRight}{ArrowRight}{ArrowDown}');
    await expect
      .poll(() => {
        const id = list.element().getAttribute('aria-activedescendant');
        return id === null ? '' : document.getElementById(id)?.getAttribute('aria-label');
      })
      .toMatch(/^Bar 2: /);
    await userEvent.keyboard('{Home}{Enter}');
    expect(sheet.player.auditioned).toEqual([[sheet.drilling.drill!.notes[0]!.pitch, 'guitar']]);
    await userEvent.keyboard('{End}');
    await expect.element(sheet.screen.getByText(/home to the root/)).toBeInTheDocument();
  });

  it('shows on the neck where the note lies that sounds', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    sheet.session.preferences.set({ neck: { ...sheet.session.preferences.values.neck, shown: true } });
    await sheet.button('Play alone').click();
    await expect.poll(() => sheet.session.playing.on).toBe(true);
    await expect.poll(() => sheet.screen.container.querySelector('.neck .played')).not.toBeNull();
    sheet.session.playing.stop();
    await expect.poll(() => sheet.screen.container.querySelector('.neck .played')).toBeNull();
  });

  it('is larger where that is wished, without tablature and degrees', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    const height = () => sheet.screen.container.querySelector('.system')!.getBoundingClientRect().height;
    const before = height();
    await sheet.button('Size of the notes: more').click();
    await expect.poll(height).toBeGreaterThan(before);
    await sheet.screen.getByLabelText('Tablature').click();
    await expect.poll(() => sheet.screen.container.querySelectorAll('.system .tab').length).toBe(0);
    await sheet.screen.getByLabelText('Degrees').click();
    await expect.poll(() => sheet.screen.container.querySelectorAll('.system .degrees').length).toBe(0);
  });

  it('is written for the instrument that reads it', async () => {
    const sheet = await openDrills();
    await drawn(sheet);
    sheet.session.preferences.set({ written: 'b-flat' });
    await expect
      .poll(() => sheet.notes()[0]?.getAttribute('aria-label'))
      .toBe('Bar 1: A, 1, string 6, fret 3');
    const symbols = [...sheet.screen.container.querySelectorAll('.system .chord-symbol')];
    expect(symbols[0]!.textContent).toBe('A7alt');
  });
});

describe('a drill as a file', () => {
  it('is handed over as MusicXML and as MIDI', async () => {
    const saved: { staff?: StaffSheet; midi?: readonly [PlayPlan, MidiChoices] } = {};
    const file = () => Promise.resolve(new Blob(['x']));
    const scores: ScorePort = {
      midi: (plan, choices) => ((saved.midi = [plan, choices]), file()),
      sheet: file,
      staff: (sheet) => ((saved.staff = sheet), file()),
      voicings: file,
      read: () => Promise.resolve(ok({ project: newProject(), notices: [] })),
    };
    const sheet = await openDrills(CHART, {}, scores);
    await drawn(sheet);
    await sheet.screen.getByText('For other programs').click();
    await sheet.button('Save as MusicXML').click();
    await expect.poll(() => saved.staff?.title).toBe('Thirds, G altered');
    expect(saved.staff).toMatchObject({
      written: { letters: 7, semitones: 12 },
      tuning: [40, 45, 50, 55, 59, 64],
    });
    await sheet.button(/Save as MIDI/).click();
    await expect.poll(() => saved.midi?.[1].parts).toContain('lead');
    expect(saved.midi![0].lead).toBeDefined();
  });
});
