/** A device of {@link fakeMidi}. */
export interface FakeDevice {
  send(...message: number[]): void;
  unplug(): void;
}

/** Web MIDI without devices, until some are plugged in. */
export function fakeMidi({ refuse = false } = {}) {
  const inputs = new Map<string, MIDIInput>();
  const access = { inputs, onstatechange: null as ((event: Event) => void) | null };
  const change = () => access.onstatechange?.(new Event('statechange'));
  const fake = {
    /** How often MIDI was asked for. */
    asked: 0,
    ask: async () => {
      fake.asked++;
      if (refuse) throw new DOMException('no', 'NotAllowedError');
      return access as unknown as MIDIAccess;
    },
    plug(name: string): FakeDevice {
      const id = `${name} ${inputs.size}`;
      const input = { id, name, state: 'connected', onmidimessage: null } as unknown as MIDIInput;
      inputs.set(id, input);
      change();
      return {
        send: (...message) =>
          (input.onmidimessage as ((event: { data: Uint8Array }) => void) | null)?.({
            data: Uint8Array.from(message),
          }),
        unplug() {
          inputs.delete(id);
          change();
        },
      };
    },
  };
  return fake;
}
