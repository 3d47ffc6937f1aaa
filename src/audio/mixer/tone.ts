import { Context } from 'tone/build/esm/core/context/Context.js';
import { setContext } from 'tone/build/esm/core/context/GlobalContext.js';

/**
 * A native context as Tone knows it, without the timer that Tone would start from a blob. Tone falls
 * back on a global context even where it is given one, so the last one wrapped is that, too.
 *
 * Tone is imported file by file: its index opens an audio context of its own when it is loaded.
 */
export function wrap(context: BaseAudioContext): Context {
  const wrapped = new Context({
    context: context as AudioContext,
    clockSource: 'offline',
    lookAhead: 0,
    updateInterval: 1,
  });
  setContext(wrapped);
  return wrapped;
}
