import { fail, MIDI_CHANNELS, ok, type NoteEvent } from '../engine/index.ts';
import type { MidiOutlet, MidiOutPort } from '../ui/ports.ts';
import { PartNotes, type Channels } from './part-notes.ts';

/** What of Web MIDI is used. */
export interface Access {
  readonly outputs: ReadonlyMap<string, MIDIOutput>;
  onstatechange: ((event: MIDIConnectionEvent) => void) | null;
}

/** Asks the browser for Web MIDI; null where it knows none. */
export type Request = (() => Promise<Access>) | null;

/** The port of the page, and what the player tells of its notes. */
export interface MidiOutput extends MidiOutPort {
  play(note: NoteEvent, on: number, off: number): void;
  takeBack(tick: number): void;
  retime(tick: number, until: (note: NoteEvent) => number | null): void;
  look(): void;
  silence(): void;
}

const browsersOwn: Request =
  typeof navigator !== 'undefined' && 'requestMIDIAccess' in navigator
    ? () => navigator.requestMIDIAccess()
    : null;

/**
 * The way to instruments outside the page. Nothing is asked of the browser before {@link MidiOutPort.connect}.
 * @param request how Web MIDI is asked for
 * @param now the page's clock, milliseconds
 */
export function midiOutput(request: Request = browsersOwn, now = () => performance.now()): MidiOutput {
  const listeners = new Set<(outlets: readonly MidiOutlet[], used: string | null) => void>();
  let access: Access | null = null;
  let channels: Channels = MIDI_CHANNELS;
  let used: string | null = null;
  let notes: PartNotes | null = null;

  const outlets = (): readonly MidiOutlet[] =>
    [...(access?.outputs.values() ?? [])]
      .filter(({ state }) => state === 'connected')
      .map(({ id, name }) => ({ id, name: name ?? 'MIDI instrument' }));
  const tell = () => {
    for (const listener of listeners) listener(outlets(), used);
  };
  const lay = () => {
    notes?.silence();
    const output = used === null ? undefined : access?.outputs.get(used);
    const wire = output && { send: (data: readonly number[], at?: number) => output.send([...data], at) };
    notes = wire ? new PartNotes(wire, channels, now) : null;
  };
  /** A wire that is pulled takes its notes with it. */
  const changed = () => {
    if (used !== null && !outlets().some(({ id }) => id === used)) {
      notes = null;
      used = null;
    }
    tell();
  };

  return {
    possible: request !== null,
    async connect() {
      if (request === null) {
        return fail({
          message: 'This browser knows no MIDI.',
          remedy: 'Open the page in a browser that offers Web MIDI.',
        });
      }
      try {
        access ??= await request();
        access.onstatechange = changed;
        tell();
        return ok(outlets());
      } catch {
        return fail({
          message: 'The browser does not let this page use MIDI.',
          remedy: 'Allow it beside the address, then connect once more.',
        });
      }
    },
    use(id) {
      used = id !== null && outlets().some((outlet) => outlet.id === id) ? id : null;
      lay();
      tell();
    },
    setChannels(next) {
      channels = next;
      lay();
    },
    watch(listener) {
      listeners.add(listener);
      listener(outlets(), used);
      return () => listeners.delete(listener);
    },
    play: (note, on, off) => notes?.play(note, on, off),
    takeBack: (tick) => notes?.takeBack(tick),
    retime: (tick, until) => notes?.retime(tick, until),
    look: () => notes?.look(),
    silence: () => notes?.silence(),
  };
}
