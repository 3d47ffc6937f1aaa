import { afterEach, describe, expect, it, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { render } from 'vitest-browser-svelte';
import { createPlayer } from '../../src/audio/index.ts';
import { beats, PPQ, type NoteEvent } from '../../src/engine/index.ts';
import App from '../../src/ui/App.svelte';
import { MidiReader } from '../../src/ui/keys/midi.ts';
import { Session } from '../../src/ui/session.svelte.ts';
import { fakeMidi } from '../helpers/midi-access.ts';
import { impulses } from '../helpers/sounds.ts';
import { chart, sessionOf } from './open.ts';

const [NOTE_ON, NOTE_OFF, CONTROL, PROGRAM] = [0x90, 0x80, 0xb0, 0xc0];

async function open(midi: ReturnType<typeof fakeMidi>, text = 'G7 | % | % | %') {
  await page.viewport(1280, 800);
  const { session, player } = sessionOf(text);
  const screen = await render(App, { session, midi: midi.ask });
  return { session, player, screen };
}

async function learn(screen: Awaited<ReturnType<typeof open>>['screen'], press: () => void) {
  await screen.getByRole('button', { name: 'Help', exact: true }).click();
  await screen.getByRole('button', { name: 'Learn a MIDI pedal' }).click();
  await expect.element(screen.getByRole('button', { name: 'Step on it now' })).toBeInTheDocument();
  press();
}

afterEach(() => vi.restoreAllMocks());

describe('what a MIDI device sends', () => {
  const moves = (...messages: number[][]) => {
    const reader = new MidiReader();
    return messages
      .flatMap((message) => reader.read(Uint8Array.from(message)))
      .map(({ name, does }) => `${does} ${name}`);
  };

  it('is read as notes, controls and programs, each on its channel', () => {
    expect(
      moves([NOTE_ON, 60, 100], [NOTE_OFF, 60, 0], [NOTE_ON | 9, 36, 1], [NOTE_ON | 9, 36, 0], [PROGRAM, 5]),
    ).toEqual([
      'press MIDI note 60, channel 1',
      'release MIDI note 60, channel 1',
      'press MIDI note 36, channel 10',
      'release MIDI note 36, channel 10',
      'tap MIDI program 5, channel 1',
    ]);
  });

  it('presses once as a pedal sweeps down, and lets go once on its way up', () => {
    const sweep = [10, 40, 63, 64, 90, 127, 100, 63, 20, 0].map((value) => [CONTROL, 11, value]);
    expect(moves(...sweep)).toEqual([
      'press MIDI control 11, channel 1',
      'release MIDI control 11, channel 1',
    ]);
  });

  it('presses each time where a switch always sends the same', () => {
    const control = 'MIDI control 80, channel 1';
    expect(moves([CONTROL, 80, 127], [CONTROL, 80, 127])).toEqual([
      `press ${control}`,
      `release ${control}`,
      `press ${control}`,
    ]);
  });

  it('is nothing to us where it is a clock, a bend or cut short', () => {
    expect(moves([0xf8], [0xe0, 0, 64], [], [0xfe])).toEqual([]);
  });
});

describe('a MIDI pedal', () => {
  it('is asked for only when the player wants to learn one', async () => {
    const midi = fakeMidi();
    const { screen } = await open(midi);
    await screen.getByRole('button', { name: 'Help', exact: true }).click();
    expect(midi.asked).toBe(0);
    await screen.getByRole('button', { name: 'Learn a MIDI pedal' }).click();
    expect(midi.asked).toBe(1);
  });

  it('is learned by stepping on it, shown among the keys, alters while held, and can be taken away', async () => {
    const midi = fakeMidi();
    const pedal = midi.plug('Pedal');
    const { screen, session, player } = await open(midi);
    await learn(screen, () => pedal.send(CONTROL, 64, 127));
    pedal.send(CONTROL, 64, 0);
    const name = 'MIDI control 64, channel 1';
    expect(session.preferences.values.keys.alter).toContain(name);
    await session.play();
    player.at = beats(0.5);
    pedal.send(CONTROL, 64, 127);
    expect(session.playing.held).toBe(true);
    player.at = beats(4.5);
    pedal.send(CONTROL, 64, 0);
    expect(session.playing.touches).toEqual([{ at: beats(1), length: beats(4), kind: 'altered' }]);
    await screen.getByRole('button', { name: `${name}: take away` }).click();
    pedal.send(CONTROL, 64, 127);
    expect(session.playing.held).toBe(false);
  });

  it('can be bound to any action, and then does nothing else', async () => {
    const midi = fakeMidi();
    const pedal = midi.plug('Pedal');
    const { screen, session } = await open(midi);
    await learn(screen, () => pedal.send(PROGRAM, 3));
    await screen.getByRole('combobox', { name: 'A MIDI pedal shall' }).selectOptions('play');
    await screen.getByRole('button', { name: 'Learn a MIDI pedal' }).click();
    await expect.element(screen.getByRole('button', { name: 'Step on it now' })).toBeInTheDocument();
    pedal.send(PROGRAM, 3);
    expect(session.preferences.values.keys.alter).not.toContain('MIDI program 3, channel 1');
    const before = session.playing.on;
    pedal.send(PROGRAM, 3);
    expect(session.playing.on).toBe(!before);
  });

  it('may be unplugged while it holds and plugged in again while the band plays', async () => {
    const midi = fakeMidi();
    const pedal = midi.plug('Pedal');
    const { screen, session, player } = await open(midi);
    await learn(screen, () => pedal.send(NOTE_ON, 40, 90));
    pedal.send(NOTE_OFF, 40, 0);
    await session.play();
    player.at = beats(0.5);
    pedal.send(NOTE_ON, 40, 90);
    expect(session.playing.held).toBe(true);
    pedal.unplug();
    expect(session.playing.held).toBe(false);
    const other = midi.plug('Another');
    player.at = beats(5.5);
    other.send(NOTE_ON, 40, 90);
    expect(session.playing.held).toBe(true);
  });

  it('is said to be refused or absent, with a way on', async () => {
    const refused = fakeMidi({ refuse: true });
    const { screen } = await open(refused);
    await screen.getByRole('button', { name: 'Help', exact: true }).click();
    await screen.getByRole('button', { name: 'Learn a MIDI pedal' }).click();
    await expect.element(screen.getByText(/does not let this page use MIDI/)).toBeInTheDocument();
    await screen.unmount();
    const absent = await render(App, { session: sessionOf('G7').session, midi: null });
    await absent.getByRole('button', { name: 'Help', exact: true }).click();
    await expect.element(absent.getByText(/This browser knows no MIDI/)).toBeInTheDocument();
  });

  // A machine that is busy elsewhere may hold up the press itself: it has three tries.
  it('pressed a tenth of a second before a beat is heard on that beat', { retry: 2 }, async () => {
    const context = new AudioContext();
    const midi = fakeMidi();
    const pedal = midi.plug('Pedal');
    const scheduled: { note: NoteEvent; when: number }[] = [];
    const player = createPlayer({
      context,
      sounds: impulses(context.sampleRate),
      observer: { onSchedule: (note, when) => scheduled.push({ note, when }) },
    });
    const session = new Session({ player, presets: [], project: chart('G7 | % | % | %') });
    session.preferences.set({ countIn: 0, alterLength: 'bar' });
    const screen = await render(App, { session, midi: midi.ask });
    await learn(screen, () => pedal.send(CONTROL, 64, 127));
    pedal.send(CONTROL, 64, 0);
    await session.play();
    const start = scheduled[0]!.when - (scheduled[0]!.note.at / PPQ) * 0.5;
    const due = () => start + 0.5 * Math.ceil((context.currentTime + 0.1 - start) / 0.5);
    while (context.currentTime < start + 1.1 || due() - context.currentTime > 0.115) {
      await new Promise((resolve) => setTimeout(resolve, 1));
    }
    const beat = Math.round((due() - start) / 0.5);
    expect(due() - context.currentTime).toBeGreaterThanOrEqual(0.1);
    const before = scheduled.length;
    pedal.send(CONTROL, 64, 127);
    pedal.send(CONTROL, 64, 0);
    expect(session.playing.touches.map(({ at }) => at)).toEqual([beats(beat)]);
    const anew = scheduled.slice(before).filter(({ note }) => note.at < beats(beat + 4));
    const onTheBeat = anew.find(({ note }) => note.part === 'bass' && note.at < beats(beat + 0.1));
    expect(Math.abs(onTheBeat!.when - start - beat * 0.5)).toBeLessThan(0.03);
    // G altered has no natural fifth and no natural ninth.
    const chords = anew.filter(({ note }) => note.part === 'comp').map(({ note }) => note.pitch % 12);
    expect(chords.length).toBeGreaterThan(0);
    expect(chords.filter((pc) => pc === 2 || pc === 9)).toEqual([]);
    await player.close();
    await context.close();
  });
});

describe('a foot pedal that sends arrows or Enter', () => {
  const bind = (session: ReturnType<typeof sessionOf>['session'], key: string) =>
    session.preferences.set({ keys: { ...session.preferences.values.keys, play: [key] } });

  it('acts once the player has pressed into the ribbon, and leaves the ribbon its keys by keyboard', async () => {
    const { screen, session } = await open(fakeMidi());
    bind(session, 'ArrowRight');
    const beat = screen.getByRole('gridcell', { name: /^bar 1, beat 2/ }).first();
    await userEvent.keyboard('{Tab}');
    (screen.getByRole('gridcell', { name: /^bar 1, beat 1/ }).element() as HTMLElement).focus();
    await userEvent.keyboard('{ArrowRight}');
    await expect.element(beat).toHaveFocus();
    expect(session.playing.on).toBe(false);
    document.body.dispatchEvent(new PointerEvent('pointerdown', { bubbles: true }));
    await userEvent.keyboard('{ArrowRight}');
    expect(session.playing.on).toBe(true);
    await expect.element(beat).toHaveFocus();
  });

  it('does not press the button that was clicked last, but a button reached by Tab is pressed', async () => {
    const { screen, session } = await open(fakeMidi());
    bind(session, 'Enter');
    const faster = screen.getByRole('button', { name: 'Faster' });
    await faster.click();
    await userEvent.keyboard('{Enter}');
    expect([session.playing.on, session.settings.tempo]).toEqual([true, 122]);
    await userEvent.keyboard('{Tab}');
    (faster.element() as HTMLElement).focus();
    await userEvent.keyboard('{Enter}');
    expect([session.playing.on, session.settings.tempo]).toEqual([true, 124]);
  });
});
