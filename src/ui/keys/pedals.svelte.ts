import { MidiInputs } from './inputs.ts';
import { isMidi, type MidiMove } from './midi.ts';

/** Asks the browser for MIDI devices; null where it has none to give. */
export type AskForMidi = (() => Promise<MIDIAccess>) | null;

/** Where MIDI stands: nobody has asked for it, the browser has none, the player or the browser has said no. */
export type MidiState = 'asleep' | 'asking' | 'listening' | 'absent' | 'refused';

/** The browser's own MIDI, where it has it. */
export const browserMidi = (): AskForMidi =>
  'requestMIDIAccess' in navigator ? () => navigator.requestMIDIAccess() : null;

/** True where the player has let this page use MIDI on an earlier visit. */
async function isAllowed(): Promise<boolean> {
  try {
    const name = 'midi' as PermissionName;
    return (await navigator.permissions.query({ name })).state === 'granted';
  } catch {
    return false;
  }
}

/** Pedals and keys that send MIDI. They may come and go while the music plays. */
export class Pedals {
  state: MidiState = $state('asleep');
  /** The names of the devices that are plugged in. */
  devices: readonly string[] = $state.raw([]);

  readonly #ask: AskForMidi;
  #listeners: readonly ((move: MidiMove) => void)[] = [];
  #inputs: MidiInputs | null = null;

  constructor(ask: AskForMidi) {
    this.#ask = ask;
    if (ask === null) this.state = 'absent';
  }

  /** Asks for MIDI; the browser may ask the player. True when devices are listened to. */
  async connect(): Promise<boolean> {
    if (this.#ask === null) return false;
    if (this.state === 'listening') return true;
    this.state = 'asking';
    try {
      this.#inputs = new MidiInputs(
        await this.#ask(),
        (move) => this.#listeners.forEach((listener) => listener(move)),
        (names) => (this.devices = names),
      );
      this.state = 'listening';
      return true;
    } catch {
      this.state = 'refused';
      return false;
    }
  }

  /** Connects without a question, where some key is a MIDI one and the player has allowed it before. */
  async wake(keys: Readonly<Record<string, readonly string[]>>): Promise<void> {
    const wanted = Object.values(keys).some((list) => list.some(isMidi));
    if (wanted && this.#ask !== null && this.state === 'asleep' && (await isAllowed())) await this.connect();
  }

  /** Calls `listener` with each move. Returns a function that ends it. */
  watch(listener: (move: MidiMove) => void): () => void {
    this.#listeners = [...this.#listeners, listener];
    return () => (this.#listeners = this.#listeners.filter((other) => other !== listener));
  }

  /** Lets all devices go. */
  close(): void {
    this.#inputs?.close();
    this.#inputs = null;
    if (this.state === 'listening') this.state = 'asleep';
  }
}
