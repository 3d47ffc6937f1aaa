import axe from 'axe-core';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { render } from 'vitest-browser-svelte';
import {
  beats,
  bpm,
  drillAgain,
  fail,
  midi,
  ok,
  ticks,
  usualDrill,
  type HeardNote,
  type NoteEvent,
  type Project,
  type Seconds,
} from '../../src/engine/index.ts';
import { decodeLink, encodeLink, FILE_ENDING, readProject, writeProject } from '../../src/storage/index.ts';
import App from '../../src/ui/App.svelte';
import { drillingOf } from '../../src/ui/drills/drilling.svelte.ts';
import type { Takes } from '../../src/ui/ports.ts';
import { closeTabs, freshName, got, tab } from '../helpers/device.ts';
import { FakeRecorder } from './harness/recorder.ts';
import { openSheet, sessionOf } from './open.ts';

const exchange = {
  write: writeProject,
  read: readProject,
  link: encodeLink,
  readLink: decodeLink,
  ending: FILE_ENDING,
};

type Played = readonly [beat: number, key: number | null];

/** Notes at quarter notes of 120, heard 40 ms late. */
const heard = (...played: readonly Played[]): HeardNote[] =>
  played.map(([beat, key]) => ({
    at: (beat / 2 + 0.04) as Seconds,
    length: 0.2 as Seconds,
    pitch: key === null ? null : midi(key),
    cents: 0,
    clarity: 1,
    level: 0.1,
  }));

async function open(text = 'G7alt | Cmaj7 |', set: Partial<Project> = {}, takes?: Takes) {
  await page.viewport(1280, 900);
  const recorder = new FakeRecorder();
  const name = freshName();
  const { port } = tab(name);
  const { session, player } = sessionOf(text, { id: 'mine', ...set }, { exchange });
  const screen = await render(App, {
    session,
    take: { recorder, takes: takes ?? port.takes, drills: () => Promise.resolve(drillAgain) },
  });
  await openSheet({ screen }, 'Take');
  const record = screen.getByRole('button', { name: 'Record over the band' });
  const says = (text: RegExp) => expect.element(screen.getByText(text).first()).toBeInTheDocument();
  /** Records a take with these notes. */
  async function take(...played: readonly Played[]) {
    recorder.recorded = ok({ ...got(recorder.recorded), notes: heard(...played) });
    await record.click();
    await expect.poll(() => session.playing.on).toBe(true);
    const source = player.source!;
    session.playing.stop();
    await expect.element(record).toBeEnabled();
    return source;
  }
  return { screen, session, player, recorder, record, says, take, takes: port.takes };
}

const list = (source: { notes(from: number, to: number): readonly NoteEvent[] }) =>
  source.notes(0, beats(15)).map(({ part, at, pitch }) => `${part} ${at} ${pitch}`);

afterEach(async () => {
  await closeTabs();
  vi.restoreAllMocks();
  delete document.documentElement.dataset['theme'];
});

describe('recording', () => {
  it('asks for the microphone at the press of record and not before, and lets it go afterwards', async () => {
    const { recorder, take } = await open();
    expect(recorder.asked).toBe(0);
    await take([0, 56]);
    expect(recorder.asked).toBe(1);
    expect(recorder.open_).toBe(false);
  });

  it('says plainly that the microphone is refused, and the band still plays', async () => {
    const { screen, session, recorder, record, says } = await open();
    recorder.opened = fail({ message: 'The microphone is refused.', remedy: 'Allow it.' });
    await record.click();
    await says(/The microphone is refused\. Allow it\./);
    expect(session.playing.on).toBe(false);
    await screen.getByRole('button', { name: 'Play', exact: true }).click();
    expect(session.playing.on).toBe(true);
  });

  it('is seen from the stand, where its sheet is not', async () => {
    const { screen, session, record } = await open();
    await record.click();
    await expect.poll(() => session.playing.on).toBe(true);
    await userEvent.keyboard('s');
    const sign = screen.getByText('Recording', { exact: true });
    await expect.element(sign).toBeVisible();
    await page.viewport(820, 1180);
    const next = () => screen.container.querySelector('.stage.large .next')!.getBoundingClientRect();
    const end = () => sign.element().getBoundingClientRect();
    await expect.poll(() => end().right <= next().left || end().bottom <= next().top).toBe(true);
    session.playing.stop();
    await expect.element(screen.getByText('Recording', { exact: true })).not.toBeInTheDocument();
  });

  it('plays the band, ends with it, and keeps the take on the device with its chart', async () => {
    const { screen, take, takes } = await open();
    await take([0, 56], [1, 58]);
    await expect.element(screen.getByRole('button', { name: /^Take 1/ })).toBeInTheDocument();
    await expect.element(screen.getByText('Take 1 is kept.')).toBeVisible();
    const [kept] = got(await takes.list());
    expect(kept!.chart).toBe('mine');
    expect(await got(await takes.sound(kept!.id))!.text()).toBe('sound');
  });

  it('is ended by a key, from anywhere', async () => {
    const { screen, session } = await open();
    (document.activeElement as HTMLElement).blur();
    await userEvent.keyboard('q');
    await expect.poll(() => session.playing.on).toBe(true);
    await userEvent.keyboard('q');
    expect(session.playing.on).toBe(false);
    await expect.element(screen.getByRole('button', { name: /^Take 1/ })).toBeInTheDocument();
  });

  it('shows the level, and says when it is too loud', async () => {
    const { screen, session, recorder, record, says } = await open();
    await record.click();
    await expect.poll(() => session.playing.on).toBe(true);
    recorder.tell({ type: 'level', peak: 0.2, clipped: false });
    await says(/The level is fine/);
    recorder.tell({ type: 'level', peak: 1, clipped: true });
    recorder.tell({ type: 'key', key: 63.1 });
    await says(/Too loud: it was cut off/);
    await expect.element(screen.getByText('E♭', { exact: true })).toBeInTheDocument();
  });

  it('ends where the microphone is unplugged, and what was recorded is kept', async () => {
    const { screen, session, recorder, record, says } = await open();
    await record.click();
    await expect.poll(() => session.playing.on).toBe(true);
    recorder.tell({ type: 'ended', trouble: { message: 'It is gone.', remedy: 'Plug it in.' } });
    expect(session.playing.on).toBe(false);
    await says(/It is gone\. Plug it in\./);
    await expect.element(screen.getByRole('button', { name: /^Take 1/ })).toBeInTheDocument();
  });

  it('says when the device is full; the take lasts until the page is closed and can be saved', async () => {
    const { port } = tab(freshName());
    const full: Takes = {
      ...port.takes,
      add: async () => fail({ message: 'No room left.', remedy: 'Save it as a file now.' }),
    };
    const { screen, take, says } = await open('C7', {}, full);
    const saved: string[] = [];
    vi.spyOn(HTMLAnchorElement.prototype, 'click').mockImplementation(function (this: HTMLAnchorElement) {
      saved.push(this.download);
    });
    await take([0, 60]);
    await says(/No room left\. Save it as a file now\./);
    await screen.getByRole('button', { name: 'Save as a file' }).click();
    expect(saved).toEqual(['Study take.wav']);
    await says(/lasts until the page is closed/);
    await screen.getByRole('button', { name: 'Save your part' }).click();
    await expect.poll(() => saved).toHaveLength(2);
  });
});

describe('a take', () => {
  it('lays its notes in the ribbon by role, round by round, and says what was used', async () => {
    const { screen, take, says } = await open();
    await take([0, 56], [0.5, 56], [1, 59], [1.5, 58], [2, 62], [2.5, null], [4, 64], [8, 67], [9, 68]);
    const notes = () =>
      [...screen.container.querySelectorAll('.line .note')]
        .filter((note) => note.closest('.notes') === null)
        .map(
          (note) =>
            `${note.textContent} ${[...note.classList].filter((name) => !name.startsWith('s-') && name !== 'note' && !name.startsWith('svelte')).join()}`,
        );
    await expect
      .poll(notes)
      .toEqual(['A♭ tension', 'A♭ tension', 'B guide', 'A♯ tension', 'D outside', '≡ none', 'E guide']);
    await says(/♭9 twice and ♯9 once; ♭5 and ♯5 never/);
    await screen.getByRole('combobox', { name: 'Chorus' }).selectOptions('2');
    await expect.poll(notes).toEqual(['G root', 'A♭ tension']);
  });

  it('is listened to with the very band it was played with, late by what the sound took on its way', async () => {
    const { screen, session, player, recorder, take } = await open('Dm7 | G7 | Cmaj7 | %');
    const source = await take([0, 60]);
    session.set({ seed: 77, density: 1 }, 'Another');
    session.preferences.set({ countIn: 2 });
    await screen.getByRole('button', { name: 'Listen to take 1' }).click();
    await expect.poll(() => session.playing.listening).toBe(true);
    expect(player.at).toBe(0);
    expect(player.tempo).toBe(120);
    expect(list(player.source!)).toEqual(list(source));
    expect(recorder.accompanied!(beats(2))).toBeCloseTo(1.04, 6);
    session.setTempo(200);
    session.set({ density: 0 }, 'Sparse');
    expect(player.replaced).toEqual([]);
    expect(player.tempo).toBe(120);
    await screen.getByRole('button', { name: 'Stop take 1' }).click();
    expect(session.playing.on).toBe(false);
    await expect.poll(() => recorder.accompanied).toBeNull();
  });

  it('over a drill is listened to with its line, and lies over the chord it was made for', async () => {
    const { screen, session, player, take, takes } = await open('Dm7 | G7 | Cmaj7 | %', {
      scales: [{ bar: 1, at: ticks(0), scale: 'altered' }],
      drills: [
        { id: 'd1', place: { bar: 1, at: ticks(0) }, settings: usualDrill('thirds', 'chord'), printed: true },
      ],
      step: { title: 'Thirds', minutes: 5, goal: '', drill: 'd1' },
    });
    const drilling = drillingOf(session);
    drilling.ask('d1');
    const source = await take([0, 55], [1, 56], [4.5, 59], [5, 62]);
    expect(list(source).some((note) => note.startsWith('lead'))).toBe(true);
    const notes = () =>
      [...screen.container.querySelectorAll<HTMLElement>('.line .note:not(.notes .note)')].map(
        (note) => `${note.textContent} ${note.style.left}`,
      );
    await expect.poll(notes).toEqual([expect.stringMatching(/^G /), expect.stringMatching(/^A♭ /)]);
    const bars = session.form.bars.length;
    const left = Number.parseFloat(notes()[0]!.split(' ')[1]!);
    expect(left).toBeGreaterThanOrEqual(100 / bars);
    expect(left).toBeLessThan(200 / bars);
    await screen.getByRole('combobox', { name: 'Time over the chord, in the ribbon' }).selectOptions('2');
    await expect.poll(notes).toEqual([expect.stringMatching(/^B /), expect.stringMatching(/^D /)]);
    expect(got(await takes.list())[0]!.data['format']).toBe(2);
    session.drill = null;
    await screen.getByRole('button', { name: 'Listen to take 1' }).click();
    await expect.poll(() => session.playing.listening).toBe(true);
    expect(list(player.source!)).toEqual(list(source));
    expect(session.notice?.text ?? '').not.toMatch(/has changed/);
    session.playing.stop();
  });

  it('is balanced against the band, and either can be silent', async () => {
    const { screen, recorder, take } = await open();
    await take([0, 60]);
    const slider = screen.getByRole('slider', { name: 'You' }).element() as HTMLInputElement;
    slider.value = '0.5';
    slider.dispatchEvent(new Event('input', { bubbles: true }));
    expect(recorder.balance).toEqual({ band: 0.8, guest: 0.5 });
    await screen.getByRole('button', { name: 'Mute the band' }).click();
    expect(recorder.balance).toEqual({ band: 0, guest: 0.5 });
    await screen.getByRole('button', { name: 'Mute yourself' }).click();
    expect(recorder.balance).toEqual({ band: 0, guest: 0 });
  });

  it('is marked while it is recorded and while it is heard; a mark is jumped to and its bar looped', async () => {
    const { screen, session, player, recorder, record, takes } = await open('Dm7 | G7 | Cmaj7 | %');
    await record.click();
    await expect.poll(() => session.playing.on).toBe(true);
    player.at = beats(5);
    (document.activeElement as HTMLElement).blur();
    await userEvent.keyboard('m');
    session.playing.stop();
    await screen.getByRole('button', { name: 'Listen from chorus 1, bar 2' }).click();
    await expect.poll(() => player.at).toBe(beats(5));
    expect(recorder.accompanied).not.toBeNull();
    player.at = beats(9.5);
    (document.activeElement as HTMLElement).blur();
    await userEvent.keyboard('m');
    await screen.getByRole('button', { name: 'Loop chorus 1, bar 3' }).click();
    expect(session.loop).toEqual({ from: beats(8), to: beats(12) });
    await screen.getByRole('button', { name: 'Take away the mark in chorus 1, bar 2' }).click();
    await expect
      .poll(async () => got(await takes.list())[0]!.data['marks'])
      .toEqual([Math.round(beats(9.5))]);
  });

  it('is deleted and taken back', async () => {
    const { screen, take } = await open();
    await take([0, 60]);
    await screen.getByRole('button', { name: 'Delete' }).click();
    await expect.element(screen.getByText('None yet.')).toBeInTheDocument();
    await screen.getByRole('status').getByRole('button', { name: 'Take back' }).click();
    await expect.element(screen.getByRole('button', { name: /^Take 1/ })).toBeInTheDocument();
  });

  it('goes into a file with the band as it is balanced', async () => {
    const { screen, recorder, take, says } = await open();
    await take([0, 60]);
    await screen.getByRole('button', { name: 'Save with the band' }).click();
    await says(/Not here\. Elsewhere\./);
    expect(recorder.mixed).toMatchObject({ from: 0, tempo: bpm(120), balance: { band: 0.8, guest: 0.8 } });
  });

  it('from another version, or damaged, does no harm to the others', async () => {
    const { port } = tab(freshName());
    await port.takes.add({ format: 99 }, 'mine', new Blob(['x']));
    await port.takes.add({ format: 1, length: 'long' }, 'mine', new Blob(['x']));
    const { screen, take } = await open('C7', {}, port.takes);
    await take([0, 60]);
    await expect.element(screen.getByRole('button', { name: /^Take 1/ })).toBeInTheDocument();
    expect(screen.getByRole('button', { name: /^Take 2/ }).query()).toBeNull();
  });
});

describe('the way from loudspeaker to recording', () => {
  it('is measured for each microphone, or set by hand, and remembered', async () => {
    const { screen, session, says } = await open();
    await screen.getByText(/From loudspeaker to recording/).click();
    await screen.getByRole('button', { name: 'Measure it' }).click();
    await says(/83\sms, measured or set/);
    expect(session.preferences.values.latencies).toEqual({ Interface: 83.2 });
    await screen.getByRole('button', { name: 'Set by hand: more' }).click();
    expect(session.preferences.values.latencies).toEqual({ Interface: 84 });
  });

  it('that cannot be measured is said, with what to do', async () => {
    const { screen, recorder, says } = await open();
    recorder.measured = fail({ message: 'Not found.', remedy: 'Turn it up.' });
    await screen.getByText(/From loudspeaker to recording/).click();
    await screen.getByRole('button', { name: 'Measure it' }).click();
    await says(/Not found\. Turn it up\./);
  });
});

describe.each(['day', 'night'] as const)('by %s', (theme) => {
  it.each([
    [360, 740],
    [820, 1180],
    [1440, 900],
  ])('everybody can use the takes at %i by %i', async (width, height) => {
    const { screen, session, recorder, record, take, player } = await open();
    await page.viewport(width, height);
    session.preferences.set({ theme });
    recorder.recorded = ok({ ...got(recorder.recorded), length: 8 });
    if (screen.getByRole('button', { name: 'Record over the band' }).query() === null)
      await openSheet({ screen }, 'Take');
    await take([0, 56], [1, 62], [2, 65], [3, null], [4, 64], [5, 62]);
    await expect.element(record).toBeInTheDocument();
    expect(player.source).toBeNull();
    for (const closed of screen.container.querySelectorAll('details')) closed.open = true;
    await document.fonts.ready;
    const { violations } = await axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      rules: { 'document-title': { enabled: false }, 'html-has-lang': { enabled: false } },
    });
    expect(violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html}`))).toEqual([]);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  });
});
