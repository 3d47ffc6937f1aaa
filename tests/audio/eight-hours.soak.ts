import { expect, it } from 'vitest';
import { FIRST_LINEUP, loadSounds, type Channel } from '../../src/audio/index.ts';
import { Ensemble } from '../../src/audio/band/index.ts';
import { createMixer } from '../../src/audio/mixer/index.ts';
import { Sequencer, Timeline } from '../../src/audio/player/index.ts';
import { bpm, type NoteEvent } from '../../src/engine/index.ts';
import { loopOf, note, TRIO } from '../helpers/music.ts';

const HOURS = 8;
/** The lowest rate a browser offers, so that eight hours fit into memory and a few minutes. */
const RATE = 3000;
const HOUR = 3600;
const STEP = 1;

/** Counts the sources that have been made and those the browser has cleared away. */
function countSources() {
  const counts = { made: 0, cleared: 0 };
  const registry = new FinalizationRegistry(() => counts.cleared++);
  const Native = globalThis.AudioBufferSourceNode;
  globalThis.AudioBufferSourceNode = class extends Native {
    constructor(context: BaseAudioContext, options?: AudioBufferSourceOptions) {
      super(context, options);
      counts.made++;
      registry.register(this, null);
    }
  };
  return {
    counts,
    restore: () => {
      globalThis.AudioBufferSourceNode = Native;
    },
  };
}

/** The trio, and what it leaves to the brushes: circles that go round for as long as they are held. */
const BANDS: readonly (readonly ['sticks' | 'brushes', readonly NoteEvent[]])[] = [
  ['sticks', TRIO],
  ['brushes', [...TRIO, ...[0, 2, 4, 6].map((at) => note('drums', 40, 60, at, 2))]],
];

it.each(BANDS)(
  'plays for eight hours with %s, and no more nodes at the end than after the first',
  async (drums, music) => {
    const { counts, restore } = countSources();
    const lineup = { ...FIRST_LINEUP, drums };
    const sounds = await loadSounds(RATE, Object.values(lineup));
    const context = new OfflineAudioContext(1, HOURS * HOUR * RATE, RATE);
    const mixer = await createMixer(context);
    mixer.open(0);
    const output = (channel: Channel) => mixer.input(channel);
    const ensemble = new Ensemble({ context, sounds, output, lineup, seed: 0 });
    const line = new Timeline(0, 0, bpm(180));
    const sequencer = new Sequencer(ensemble, line, loopOf(music, 8), 0);
    const hours: { voices: number; alive: number; heap: number }[] = [];
    let most = 0;
    const step = () => {
      const now = context.currentTime;
      ensemble.sweep();
      sequencer.fill(line.tickAt(now + STEP + 0.1), now);
      most = Math.max(most, ensemble.voices.size);
      if (now >= HOUR * (hours.length + 1)) {
        const { memory } = performance as unknown as { memory: { usedJSHeapSize: number } };
        hours.push({ voices: most, alive: counts.made - counts.cleared, heap: memory.usedJSHeapSize });
        most = 0;
      }
      if (now + STEP >= HOURS * HOUR) return;
      void context.suspend(now + STEP).then(() => {
        step();
        void context.resume();
      });
    };
    step();
    const begun = performance.now();
    await context.startRendering();
    restore();
    const times = Math.round((1000 * HOURS * HOUR) / (performance.now() - begun));
    console.log(`${counts.made} voices at ${times} times real time`, JSON.stringify(hours));
    const [first, last] = [hours[0]!, hours.at(-1)!];
    expect(hours.length).toBe(HOURS - 1);
    expect(last.voices).toBeLessThanOrEqual(first.voices + 2);
    // The browser clears up in its own time: between two of its rounds half an hour's may lie about.
    expect(last.alive).toBeLessThan(counts.made / (2 * HOURS));
    expect(last.heap).toBeLessThan(first.heap + 30e6);
    expect(counts.made).toBeGreaterThan(HOURS * HOUR * 5);
  },
);
