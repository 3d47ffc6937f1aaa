import { parseMidi, type MidiEvent } from 'midi-file';
import { BasicMIDI } from 'spessasynth_core';

/** A note as a reader of the file finds it. */
export interface ReadNote {
  readonly channel: number;
  readonly at: number;
  readonly length: number;
  readonly pitch: number;
  readonly velocity: number;
}

type Struck = Omit<ReadNote, 'length'>;

/** Pairs strokes and releases in the order of the file; what is never released has no length. */
class Pairing {
  readonly notes: ReadNote[] = [];
  readonly #open = new Map<string, Struck>();

  on(note: Struck): void {
    const key = `${note.channel} ${note.pitch}`;
    if (this.#open.has(key)) throw new Error(`${key} is struck at ${note.at} while it sounds`);
    this.#open.set(key, note);
  }

  off(channel: number, pitch: number, at: number): void {
    const key = `${channel} ${pitch}`;
    const struck = this.#open.get(key);
    if (struck === undefined) throw new Error(`${key} is let go at ${at} but does not sound`);
    this.#open.delete(key);
    this.notes.push({ ...struck, length: at - struck.at });
  }

  end(): readonly ReadNote[] {
    if (this.#open.size > 0) throw new Error(`never let go: ${[...this.#open.keys()].join(', ')}`);
    return this.notes;
  }
}

/** The notes of each track, as the synthesizer spessasynth_core reads them. */
export function notesBySpessasynth(file: Uint8Array<ArrayBuffer>): readonly (readonly ReadNote[])[] {
  const midi = BasicMIDI.fromArrayBuffer(file.buffer);
  return midi.tracks.map(({ events }) => {
    const pairing = new Pairing();
    for (const { ticks: at, statusByte, data } of events) {
      const channel = statusByte & 0x0f;
      const [pitch = 0, velocity = 0] = data;
      if (statusByte >> 4 === 9 && velocity > 0) pairing.on({ channel, at, pitch, velocity });
      else if (statusByte >> 4 === 8 || statusByte >> 4 === 9) pairing.off(channel, pitch, at);
    }
    return pairing.end();
  });
}

/** An event of the package midi-file with its tick. */
export type At = MidiEvent & { readonly at: number };

/** The events of each track, as the package midi-file reads them. */
export function eventsByMidiFile(file: Uint8Array): {
  readonly ticksPerBeat: number | undefined;
  readonly tracks: readonly (readonly At[])[];
} {
  const { header, tracks } = parseMidi(file);
  return {
    ticksPerBeat: header.ticksPerBeat,
    tracks: tracks.map((track) => {
      let at = 0;
      return track.map((event) => ({ ...event, at: (at += event.deltaTime) }));
    }),
  };
}

/** The notes of each track, as the package midi-file reads them. */
export function notesByMidiFile(file: Uint8Array): readonly (readonly ReadNote[])[] {
  return eventsByMidiFile(file).tracks.map((track) => {
    const pairing = new Pairing();
    for (const event of track) {
      if (event.type === 'noteOn') {
        const { channel, at, noteNumber: pitch, velocity } = event;
        pairing.on({ channel, at, pitch, velocity });
      }
      if (event.type === 'noteOff') pairing.off(event.channel, event.noteNumber, event.at);
    }
    return pairing.end();
  });
}
