/** What a MIDI device was told to do, under the name that the table of keys has for it. */
export interface MidiMove {
  /** E.g. "MIDI control 64, channel 1". */
  readonly name: string;
  /** `tap` where the device never says that it lets go. */
  readonly does: 'press' | 'release' | 'tap';
}

/** A control counts as pressed from here on (MIDI 1.0 Detailed Specification, switch controllers: 64 and above is on). */
const ON = 64;

/** Status bytes without their channel (MIDI 1.0 Detailed Specification, table 1). */
const [NOTE_OFF, NOTE_ON, CONTROL, PROGRAM] = [0x80, 0x90, 0xb0, 0xc0];

/** The highest value of a data byte, and what stands for one that did not come. */
const [LAST, NONE] = [127, 255];

/** Reads what comes from one device: notes, controls and changes of program; all else is passed over. */
export class MidiReader {
  /** The last value of each control, by name. */
  readonly #controls = new Map<string, number>();
  /** Notes that sound, by name. */
  readonly #notes = new Set<string>();

  read(message: Uint8Array): readonly MidiMove[] {
    const [status = 0, number = NONE, value = NONE] = message;
    const kind = status & 0xf0;
    // A data byte has no highest bit; where one is missing or wrong there is no telling what was meant.
    if (number > LAST || (kind !== PROGRAM && value > LAST)) return [];
    const named = (what: string) => `MIDI ${what} ${number}, channel ${(status & 0x0f) + 1}`;
    if (kind === NOTE_ON || kind === NOTE_OFF) {
      return this.#note(named('note'), kind === NOTE_ON && value > 0);
    }
    if (kind === PROGRAM) return [{ name: named('program'), does: 'tap' }];
    return kind === CONTROL ? this.#control(named('control'), value) : [];
  }

  /** A note that is struck again while it sounds is let go first. */
  #note(name: string, on: boolean): readonly MidiMove[] {
    const moves: MidiMove[] = this.#notes.delete(name) ? [{ name, does: 'release' }] : [];
    if (!on) return moves;
    this.#notes.add(name);
    return [...moves, { name, does: 'press' }];
  }

  /**
   * A pedal that sweeps sends many values on its way down and is pressed once; a switch that only ever
   * sends the same value is pressed each time.
   */
  #control(name: string, value: number): readonly MidiMove[] {
    const before = this.#controls.get(name) ?? 0;
    this.#controls.set(name, value);
    if (value < ON) return before >= ON ? [{ name, does: 'release' }] : [];
    if (before < ON) return [{ name, does: 'press' }];
    return value === before
      ? [
          { name, does: 'release' },
          { name, does: 'press' },
        ]
      : [];
  }
}

/** True for a name that {@link MidiReader} gives. */
export const isMidi = (name: string): boolean => name.startsWith('MIDI ');
