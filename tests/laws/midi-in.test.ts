import fc from 'fast-check';
import { expect, it } from 'vitest';
import { MidiReader } from '../../src/ui/keys/midi.ts';

const [NOTE_OFF, NOTE_ON, CONTROL, PROGRAM] = [0x80, 0x90, 0xb0, 0xc0];

it('whatever bytes a MIDI device sends, what is pressed is let go before it is pressed again', () => {
  const byte = fc.integer({ min: 0, max: 255 });
  const likely = fc.tuple(
    fc.constantFrom(NOTE_ON, NOTE_OFF, CONTROL, PROGRAM),
    fc.integer({ min: 60, max: 63 }),
    byte,
  );
  const message = fc.oneof(fc.array(byte, { maxLength: 6 }), likely);
  let pressed = 0;
  fc.assert(
    fc.property(fc.array(message, { maxLength: 60 }), (messages) => {
      const reader = new MidiReader();
      const down = new Set<string>();
      for (const bytes of messages) {
        for (const { name, does } of reader.read(Uint8Array.from(bytes))) {
          const found = /^MIDI (?:note|control|program) (\d+), channel (\d+)$/.exec(name);
          expect(found, name).not.toBeNull();
          expect(Number(found![1])).toBeLessThan(128);
          expect(Number(found![2])).toBeLessThanOrEqual(16);
          if (does === 'press') {
            expect(down.has(name)).toBe(false);
            down.add(name);
            pressed++;
          }
          if (does === 'release') expect(down.delete(name)).toBe(true);
        }
      }
    }),
    { numRuns: 1000 },
  );
  expect(pressed).toBeGreaterThan(100);
});
