import type { Changes, PlayedBar, Span } from '../harmony/index.ts';
import type { Form } from '../chart/index.ts';
import { ticks } from '../units/index.ts';

/**
 * The changes of one chorus as the chart writes them, before treatment. A chord that is held over a
 * bar line, by slashes, an empty bar or a simile mark, is one span; a symbol written anew, even the
 * same one, begins another.
 */
export function writtenChanges(form: Form): Changes {
  const bars: PlayedBar[] = [];
  const spans: Span[] = [];
  for (const { bar, start } of form.bars) {
    const index = bars.length;
    bars.push({
      start,
      length: bar.length,
      metre: bar.metre,
      mark: bar.mark,
      written: bar.index,
      skipped: ticks(0),
    });
    for (const slot of bar.slots) {
      const last = spans.at(-1);
      const ownSymbol = slot.from >= bar.from && slot.to <= bar.to;
      if (last && !ownSymbol && last.from === slot.from && last.to === slot.to) {
        spans[spans.length - 1] = { ...last, length: ticks(last.length + slot.length) };
      } else {
        spans.push({
          start: ticks(start + slot.at),
          length: slot.length,
          chord: slot.chord,
          written: slot.chord,
          silence: slot.silence,
          treatment: null,
          bar: index,
          from: slot.from,
          to: slot.to,
        });
      }
    }
  }
  return { length: form.length, bars, spans };
}
