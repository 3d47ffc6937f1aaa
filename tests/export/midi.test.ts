import { describe, expect, it } from 'vitest';
import generalMidi from '../../shared/reference/general-midi.json' with { type: 'json' };
import reference from '../../shared/reference/midi-file.json' with { type: 'json' };
import {
  beats,
  bpm,
  FEELS,
  GENERAL_MIDI,
  MIDI_CHANNELS,
  NO_PRACTICE,
  PARTS,
  PPQ,
  roundLength,
  startPerformance,
  ticks,
  type HomeKey,
  type Metre,
  type NoteEvent,
  type PlayPlan,
} from '../../src/engine/index.ts';
import { keyEvent, LARGEST, metreEvent, quantity, tempoEvent } from '../../src/export/midi/events.ts';
import { writeMidi } from '../../src/export/midi/index.ts';
import type { MidiChoices } from '../../src/ui/ports.ts';
import { readPresets } from '../../src/storage/presets.ts';
import { eventsByMidiFile, notesByMidiFile, notesBySpessasynth, type ReadNote } from '../helpers/midi.ts';
import { planOf, SETTINGS } from '../helpers/plan.ts';

const hex = (bytes: readonly number[]) =>
  bytes.map((byte) => byte.toString(16).padStart(2, '0').toUpperCase()).join('');

const CHOICES: MidiChoices = {
  title: 'Test',
  key: null,
  first: 0,
  rounds: 2,
  countIn: 0,
  timing: 'played',
  parts: ['comp', 'bass', 'drums'],
  ending: false,
};

const BLUES = '[A] F7 | Bb7 | F7 | % | [B] Bb7 | Bdim7 | F7 | D7alt | Gm7 | C7 | F7 D7 | Gm7 C7 |';
const write = (plan: PlayPlan, choices: Partial<MidiChoices> = {}) =>
  writeMidi(plan, { ...CHOICES, ...choices });

/** The notes a player hears, each ended where its key is struck again. */
function heard(notes: readonly NoteEvent[], shift: number): ReadNote[] {
  return notes.map((note) => {
    const again = notes
      .filter(({ part, pitch, at }) => part === note.part && pitch === note.pitch && at > note.at)
      .reduce((next, { at }) => Math.min(next, at), Infinity);
    return {
      channel: MIDI_CHANNELS[note.part],
      at: note.at + shift,
      length: Math.min(note.length, again - note.at),
      pitch: note.pitch,
      velocity: note.velocity,
    };
  });
}

const inOrder = (notes: readonly ReadNote[]) =>
  notes.toSorted((a, b) => a.at - b.at || a.channel - b.channel || a.pitch - b.pitch);

describe('the bytes of a MIDI file', () => {
  it.each(Object.entries(reference.quantities))('%s is written as %s', (value, bytes) => {
    expect(hex(quantity(Number(value)))).toBe(bytes);
  });

  it('stop at the largest quantity there is', () => {
    expect(LARGEST).toBe(reference.largestQuantity);
    expect(() => quantity(LARGEST + 1)).toThrow(RangeError);
    expect(() => quantity(-1)).toThrow(RangeError);
  });

  it.each(Object.entries(reference.tempo))('tempo %s is %s', (tempo, bytes) => {
    expect(hex(tempoEvent(bpm(Number(tempo))))).toBe(bytes);
  });

  it.each(Object.entries(reference.metre))('%s is %s', (name, bytes) => {
    const [count, unit] = name.split('/').map(Number) as [number, Metre['unit']];
    expect(hex(metreEvent({ count, unit }))).toBe(bytes);
  });

  it.each(Object.entries(reference.key))('the key of %s is %s', (name, bytes) => {
    const key: HomeKey = name.endsWith('m')
      ? { tonic: name.slice(0, -1), mode: 'minor' }
      : { tonic: name, mode: 'major' };
    expect(hex(keyEvent(key)!)).toBe(bytes);
  });

  it('have no signature for a key of eight sharps', () => {
    expect(keyEvent({ tonic: 'G#', mode: 'major' })).toBeNull();
  });
});

describe('General MIDI', () => {
  it.each(['electric-piano', 'piano', 'guitar', 'bass'] as const)('has the %s', (instrument) => {
    const { name, program } = GENERAL_MIDI[instrument];
    expect(generalMidi.programs[name as keyof typeof generalMidi.programs]).toBe(program! + 1);
  });

  it.each(['sticks', 'brushes'] as const)('has a kit with %s', (instrument) => {
    const { name, program } = GENERAL_MIDI[instrument];
    expect(generalMidi.kits[name as keyof typeof generalMidi.kits]).toBe(program! + 1);
    expect(MIDI_CHANNELS.drums).toBe(generalMidi.percussionChannel - 1);
  });

  it('has every key the drummers strike', () => {
    const keys = [...FEELS.keys()].flatMap((feel) => {
      const plan = planOf(BLUES, { settings: { ...SETTINGS, feel, intensity: 1 } });
      const performance = startPerformance(plan, { countIn: 2, from: ticks(0) });
      return performance
        .notes(performance.begin, beats(96))
        .filter(({ part }) => part === 'drums' || part === 'click')
        .map(({ pitch }) => pitch);
    });
    const unknown = [...new Set(keys)].filter((key) => !(key in generalMidi.percussion));
    expect(unknown).toEqual([]);
  });
});

describe('a performance in a file', () => {
  const plans = readPresets().map(
    ({ id, project }) =>
      [id, { ...planOf(project.text), layers: project.layers, settings: project.settings }] as const,
  );

  it.each(plans)('%s reads back to the tick, by two independent readers', (_, plan) => {
    const file = write(plan, { parts: PARTS, rounds: 3 });
    const performance = startPerformance(plan, { countIn: 0, from: ticks(0) });
    const notes = performance.notes(ticks(0), ticks(3 * roundLength(plan)));
    expect(notes.length).toBeGreaterThan(20);
    const wanted = PARTS.map((part) =>
      inOrder(
        heard(
          notes.filter((note) => note.part === part),
          0,
        ),
      ),
    );
    const playing = wanted.filter(({ length }) => length > 0);
    expect(notesByMidiFile(file).slice(1).map(inOrder)).toEqual(playing);
    expect(notesBySpessasynth(file).slice(1).map(inOrder)).toEqual(playing);
  });

  it('counts in by clicks, and the music begins after them', () => {
    const plan = planOf(BLUES);
    const file = write(plan, { countIn: 2, parts: ['bass'], rounds: 1 });
    const [, bass, click] = notesByMidiFile(file);
    const performance = startPerformance(plan, { countIn: 2, from: ticks(0) });
    const wanted = (part: NoteEvent['part'], from: number, to: number) =>
      heard(performance.notes(ticks(from), ticks(to)), beats(8)).filter(
        ({ channel }) => channel === MIDI_CHANNELS[part],
      );
    expect(click!.map(({ at }) => at / PPQ)).toEqual([0, 2, 4, 5, 6, 7]);
    expect(bass).toEqual(wanted('bass', 0, beats(48)));
    expect(click).toEqual(wanted('click', performance.begin, 0));
  });

  it('writes later rounds alone, and strikes on their first beat what rings into them', () => {
    const plan = planOf('| Dm7 | G7 |', { settings: { ...SETTINGS, density: 0.9 } });
    const performance = startPerformance(plan, { countIn: 0, from: ticks(0) });
    const length = roundLength(plan);
    let rings = 0;
    for (let first = 1; first < 10; first++) {
      const [, comp] = notesByMidiFile(write(plan, { first, rounds: 1, parts: ['comp'] }));
      const from = first * length;
      const own = performance.notes(ticks(from), ticks(from + length)).filter(({ part }) => part === 'comp');
      const before = performance
        .notes(ticks(from - length), ticks(from))
        .filter(({ part, at, length: lasts }) => part === 'comp' && at + lasts > from);
      rings += before.length;
      expect(inOrder(comp!)).toEqual(
        inOrder([
          ...before.map(({ at, pitch, velocity, length: lasts }) => ({
            channel: 0,
            at: 0,
            length: at + lasts - from,
            pitch,
            velocity,
          })),
          ...heard(own, -from),
        ]),
      );
    }
    expect(rings).toBeGreaterThan(0);
  });

  it('ends on the chord that is held, when an ending is asked for', () => {
    const plan = planOf(BLUES);
    const performance = startPerformance(plan, { countIn: 0, from: ticks(0) }).finish(beats(48));
    const file = write(plan, { ending: true });
    const wanted = performance
      .notes(ticks(0), ticks(performance.end! + beats(20)))
      .filter(({ part }) => part === 'bass');
    expect(notesByMidiFile(file)[2]).toEqual(heard(wanted, 0));
  });

  it.each([...FEELS.keys()])('%s has on the grid the notes it has as played', (feel) => {
    const plan = planOf(BLUES, { settings: { ...SETTINGS, feel } });
    const played = notesByMidiFile(write(plan));
    const straight = notesByMidiFile(write(plan, { timing: 'straight' }));
    const tune = (notes: readonly ReadNote[]) => notes.map(({ pitch }) => pitch).sort();
    expect(straight.map(tune)).toEqual(played.map(tune));
    const offGrid = straight.flat().filter(({ at }) => at % (PPQ / 12) !== 0);
    expect(offGrid).toEqual([]);
    expect(played.flat().filter(({ at }) => at % (PPQ / 12) !== 0).length).toBeGreaterThan(50);
  });

  it('refuses to write no rounds', () => {
    expect(() => write(planOf(BLUES), { rounds: 0 })).toThrow(/0 from 0/);
    expect(() => write(planOf(BLUES), { first: -1 })).toThrow(RangeError);
    expect(() => write(planOf(''))).toThrow(RangeError);
  });
});

describe('what the file says beside its notes', () => {
  const lead = (plan: PlayPlan, choices: Partial<MidiChoices> = {}) => {
    const { ticksPerBeat, tracks } = eventsByMidiFile(write(plan, choices));
    expect(ticksPerBeat).toBe(PPQ);
    return tracks[0]!;
  };

  it('a marker at each section and each chord, after the count-in', () => {
    const markers = lead(planOf('[A] Dm7 | G7alt | [B] Cmaj7 | N.C. |'), { countIn: 1, rounds: 1 })
      .filter((event) => event.type === 'marker')
      .map((event) => [event.at / PPQ, 'text' in event && event.text]);
    expect(markers).toEqual([
      [4, '[A]'],
      [4, 'Dm7'],
      [8, 'G7alt'],
      [12, '[B]'],
      [12, 'Cmaj7'],
      [16, 'N.C.'],
    ]);
  });

  it('tempo, key and each metre where it changes', () => {
    const plan = planOf('| 3/4 Dm7 | G7 | 6/8 Cmaj7 | 4/4 C6 |', {
      settings: { ...SETTINGS, tempo: bpm(97) },
    });
    const events = lead(plan, { key: { tonic: 'Eb', mode: 'minor' }, rounds: 1 });
    expect(events.find((event) => event.type === 'setTempo')).toMatchObject({
      microsecondsPerBeat: 618557,
    });
    expect(events.find((event) => event.type === 'keySignature')).toMatchObject({ key: -6, scale: 1 });
    const metres = events
      .filter((event) => event.type === 'timeSignature')
      .map(({ at, numerator, denominator }) => [at / PPQ, numerator, denominator]);
    expect(metres).toEqual([
      [0, 3, 4],
      [6, 6, 8],
      [9, 4, 4],
    ]);
  });

  it('a rung of the ladder where each round begins', () => {
    const ladder = { from: bpm(100), to: bpm(120), step: 10, rounds: 1 };
    const plan = planOf('| Dm7 | G7 |', { practice: { ...NO_PRACTICE, ladder } });
    const tempi = (choices: Partial<MidiChoices>) =>
      lead(plan, choices)
        .filter((event) => event.type === 'setTempo')
        .map(({ at, microsecondsPerBeat }) => [at / PPQ, Math.round(60_000_000 / microsecondsPerBeat)]);
    expect(tempi({ rounds: 3, countIn: 1 })).toEqual([
      [0, 100],
      [12, 110],
      [20, 120],
    ]);
    expect(tempi({ first: 1, rounds: 1 })).toEqual([[0, 110]]);
  });

  it('bars of a loop of two beats and a half are as long as they sound', () => {
    const plan = planOf('| Dm7 G7 | Cmaj7 |', { loop: { from: beats(1.5), to: beats(4) } });
    const metres = lead(plan, { rounds: 2 }).filter((event) => event.type === 'timeSignature');
    expect(metres).toMatchObject([{ numerator: 5, denominator: 8 }]);
  });

  it('the instruments of the band, the kit of the feel, and the symbols as text', () => {
    const plan = planOf('| F#m7b5 | B7(b9) |', {
      settings: { ...SETTINGS, feel: 'ballad', chords: 'guitar' },
    });
    const { tracks } = eventsByMidiFile(write(plan, { rounds: 1 }));
    const programs = tracks.map((track) => track.find((event) => event.type === 'programChange'));
    expect(programs).toMatchObject([
      undefined,
      { channel: 0, programNumber: 26 },
      { channel: 1, programNumber: 32 },
      { channel: 9, programNumber: 40 },
    ]);
    const texts = tracks[1]!.filter((event) => event.type === 'text').map(({ text }) => text);
    expect(texts).toEqual(['F#m7b5', 'B7(b9)']);
  });

  it('a title in any script, as UTF-8', () => {
    const [name] = lead(planOf(BLUES), { title: 'Übung für Bb' });
    const text = name !== undefined && 'text' in name ? name.text : '';
    const bytes = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
    expect(new TextDecoder().decode(bytes)).toBe('Übung für Bb');
  });
});
