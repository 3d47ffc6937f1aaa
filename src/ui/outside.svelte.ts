import { PARTS, type Part } from '../engine/index.ts';
import type { MidiOutlet, MidiOutPort } from './ports.ts';
import type { Preferences } from './preferences.svelte.ts';

/** Instruments outside the page that the band plays on. */
export class Outside {
  outlets: readonly MidiOutlet[] = $state.raw([]);
  /** The id of the one that is played on. */
  used: string | null = $state.raw(null);
  state: 'apart' | 'asking' | 'connected' = $state('apart');
  /** Why it cannot be, as a sentence. */
  trouble: string | null = $state.raw(null);
  readonly possible: boolean;

  readonly #preferences: Preferences;
  readonly #port: MidiOutPort;

  constructor(preferences: Preferences, port: MidiOutPort) {
    this.#preferences = preferences;
    this.#port = port;
    this.possible = port.possible;
    this.#tell();
    port.watch((outlets, used) => {
      this.outlets = outlets;
      this.used = used;
    });
  }

  /** The channel of a part, from 1; 0 when it is not sent. */
  channel(part: Part): number {
    return this.#preferences.values.midiChannels[part];
  }

  setChannel(part: Part, channel: number): void {
    const { midiChannels } = this.#preferences.values;
    this.#preferences.set({ midiChannels: { ...midiChannels, [part]: channel } });
    this.#tell();
  }

  /** Asks for MIDI; where there is but one instrument it is played on at once. */
  async connect(): Promise<void> {
    this.state = 'asking';
    const connected = await this.#port.connect();
    this.state = connected.ok ? 'connected' : 'apart';
    this.trouble = connected.ok ? null : `${connected.error.message} ${connected.error.remedy}`;
    if (connected.ok && connected.value.length === 1) this.use(connected.value[0]!.id);
  }

  use(id: string | null): void {
    this.#port.use(id);
  }

  #tell(): void {
    const channels = PARTS.map((part) => [part, this.channel(part) === 0 ? null : this.channel(part) - 1]);
    this.#port.setChannels(Object.fromEntries(channels) as Record<Part, number | null>);
  }
}
