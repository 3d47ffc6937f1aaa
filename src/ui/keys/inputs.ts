import { MidiReader, type MidiMove } from './midi.ts';

/** Listens to every MIDI device that is plugged in, as they come and go. */
export class MidiInputs {
  readonly #access: MIDIAccess;
  readonly #tell: (move: MidiMove) => void;
  readonly #changed: (names: readonly string[]) => void;
  /** What is held down on each device, by its id. */
  readonly #held = new Map<string, Set<string>>();

  /**
   * @param tell called with each move
   * @param changed called with the names of what is plugged in, now and whenever that changes
   */
  constructor(
    access: MIDIAccess,
    tell: (move: MidiMove) => void,
    changed: (names: readonly string[]) => void,
  ) {
    this.#access = access;
    this.#tell = tell;
    this.#changed = changed;
    access.onstatechange = () => this.#look();
    this.#look();
  }

  /** Lets all devices go. */
  close(): void {
    this.#access.onstatechange = null;
    for (const input of this.#access.inputs.values()) input.onmidimessage = null;
  }

  /** Listens to what is new, and lets go of what is held on a device that is gone. */
  #look() {
    const there = [...this.#access.inputs.values()].filter(({ state }) => state === 'connected');
    for (const input of there) if (!this.#held.has(input.id)) this.#listen(input);
    for (const [id, held] of this.#held) {
      if (there.some((input) => input.id === id)) continue;
      this.#held.delete(id);
      for (const name of held) this.#tell({ name, does: 'release' });
    }
    this.#changed(there.map(({ name }) => name ?? 'A device without a name'));
  }

  #listen(input: MIDIInput) {
    const reader = new MidiReader();
    const held = new Set<string>();
    this.#held.set(input.id, held);
    input.onmidimessage = ({ data }) => {
      for (const move of data === null ? [] : reader.read(data)) {
        if (move.does === 'press') held.add(move.name);
        else held.delete(move.name);
        this.#tell(move);
      }
    };
  }
}
