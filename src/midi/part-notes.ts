import type { NoteEvent, Part } from '../engine/index.ts';

/** The channel of each part, counted from 0; null for a part that is not sent. */
export type Channels = Readonly<Record<Part, number | null>>;

/** What a device is told with; a part of Web MIDI's MIDIOutput. */
export interface Wire {
  /** @param timestamp when it leaves, milliseconds of `performance.now()` */
  send(data: readonly number[], timestamp?: number): void;
}

/** A note on its way to a device. Times in milliseconds. */
interface Voice {
  note: NoteEvent;
  readonly channel: number;
  readonly on: number;
  off: number;
  /** What has been handed to the browser, which cannot take it back. */
  sent: 'nothing' | 'on' | 'both';
  /** Taken back after it was handed over: it goes on if the same note is asked for again, else it blinks. */
  orphan: boolean;
}

/**
 * How far ahead messages are handed to the browser, ms: longer than from look to look, so that a busy page
 * is not heard, and short, because what is handed over cannot be taken back. Our choice.
 */
const AHEAD = 120;
/** How long a note sounds that is taken back when it is handed over already, ms. */
const BLINK = 1;
/** So near to an orphan the same key is the same note, moved by a change of tempo or feel, ms. */
const NEAR = 40;

const [NOTE_OFF, NOTE_ON, CONTROL] = [0x80, 0x90, 0xb0];
/** Channel mode message (MIDI 1.0 Detailed Specification, table 3). */
const ALL_NOTES_OFF = 123;

/**
 * The band's notes for a device on one wire: every note that is struck is let go, once, whatever is taken
 * back, moved or stopped meanwhile.
 */
export class PartNotes {
  readonly #wire: Wire;
  readonly #channels: Channels;
  readonly #now: () => number;
  #voices: Voice[] = [];

  /** @param now the page's clock, milliseconds */
  constructor(wire: Wire, channels: Channels, now: () => number) {
    this.#wire = wire;
    this.#channels = channels;
    this.#now = now;
  }

  /** Strikes a note at `on` and lets it go at `off`; one whose time has gone by is left out. */
  play(note: NoteEvent, on: number, off: number): void {
    const channel = this.#channels[note.part];
    if (channel === null || on < this.#now() - AHEAD) return;
    const orphan = this.#voices.find(
      (voice) =>
        voice.orphan &&
        voice.channel === channel &&
        voice.note.pitch === note.pitch &&
        Math.abs(voice.on - on) < NEAR,
    );
    if (orphan) {
      orphan.orphan = false;
      orphan.note = note;
      if (orphan.sent === 'on') orphan.off = Math.max(off, orphan.on + BLINK);
    } else {
      this.#voices.push({
        note,
        channel,
        on,
        off: Math.max(off, on + BLINK),
        sent: 'nothing',
        orphan: false,
      });
    }
  }

  /** Takes back the notes from `tick` on. One that is handed over already, and is not asked for again, blinks. */
  takeBack(tick: number): void {
    const now = this.#now();
    for (const voice of this.#voices) {
      voice.orphan = voice.note.at >= tick && voice.sent !== 'nothing' && voice.on > now;
    }
    this.#voices = this.#voices.filter(({ note, sent }) => note.at < tick || sent !== 'nothing');
  }

  /** Sets anew when each note that began before `tick` ends; null leaves it. */
  retime(tick: number, until: (note: NoteEvent) => number | null): void {
    for (const voice of this.#voices) {
      if (voice.note.at >= tick || voice.sent === 'both') continue;
      const off = until(voice.note);
      if (off !== null) voice.off = Math.max(off, voice.on + BLINK);
    }
  }

  /** Hands over what is due within {@link AHEAD}, in the order of time. */
  look(): void {
    const now = this.#now();
    const due = now + AHEAD;
    for (const voice of this.#voices) {
      if (voice.orphan && voice.sent === 'on') this.#end(voice, voice.on + BLINK);
      voice.orphan = false;
    }
    const events = this.#voices.flatMap((voice) => [
      ...(voice.sent === 'nothing' && voice.on <= due ? [{ at: voice.on, starts: true, voice }] : []),
      ...(voice.sent !== 'both' && voice.off <= due ? [{ at: voice.off, starts: false, voice }] : []),
    ]);
    events.sort((a, b) => a.at - b.at || Number(a.starts) - Number(b.starts));
    for (const { at, starts, voice } of events) {
      if (starts) this.#start(voice);
      else if (voice.sent === 'on') this.#end(voice, at);
    }
    this.#voices = this.#voices.filter(({ sent, off }) => sent !== 'both' || off > now);
  }

  /** Ends every note: what sounds now, and what is handed over as it begins. */
  silence(): void {
    const now = this.#now();
    const channels = new Set<number>();
    let last = now;
    for (const voice of this.#voices) {
      if (voice.sent === 'nothing') continue;
      channels.add(voice.channel);
      last = Math.max(last, voice.on);
      if (voice.sent === 'on' || voice.off > now) this.#end(voice, Math.max(now, voice.on));
    }
    for (const channel of channels) this.#wire.send([CONTROL | channel, ALL_NOTES_OFF, 0], last + BLINK);
    this.#voices = [];
  }

  /** Strikes a note; the same key is let go before it is struck anew. */
  #start(voice: Voice): void {
    const { note, channel, on } = voice;
    for (const other of this.#voices) {
      const same = other.channel === channel && other.note.pitch === note.pitch;
      if (same && other.sent === 'on') this.#end(other, Math.max(other.on, on));
    }
    this.#wire.send([NOTE_ON | channel, note.pitch, note.velocity], on);
    voice.sent = 'on';
  }

  #end(voice: Voice, at: number): void {
    this.#wire.send([NOTE_OFF | voice.channel, voice.note.pitch, 0], at);
    voice.off = at;
    voice.sent = 'both';
  }
}
