import {
  spanAt,
  treat,
  type Chord,
  type Loop,
  type Reading,
  type Span,
  type Stretch,
  type TreatmentKind,
  type TreatmentLayers,
  type When,
} from '../../../engine/index.ts';
import { treatmentWord } from '../../ribbon/lanes.ts';
import { ordinal } from '../../neck/words.ts';

/** Part of a written bar that something is said of. Ticks from the start of the bar. */
export interface WrittenStretch {
  readonly bar: number;
  readonly at: number;
  readonly length: number;
  /** "altered", "altered, every 2nd round". */
  readonly word: string;
  /** Stretches of one thing on both sides of a bar line are one. */
  readonly thing: string;
}

interface Sources {
  readonly reading: Reading;
  readonly layers: TreatmentLayers;
  readonly seed: number;
  readonly nameOf: (chord: Chord) => string;
}

/**
 * Where treatments lie in the chart as written, whatever the round: what comes only in some rounds, or only at one
 * pass of a repeat, says so.
 */
export function colouredStretches({ reading, layers, seed, nameOf }: Sources): readonly WrittenStretch[] {
  const context = { round: 0, seed };
  const all = treat(reading.written, always(layers), context);
  const steady = treat(reading.written, onlySteady(layers), context);
  const found = new Map<string, { readonly stretch: WrittenStretch; passes: number }>();
  for (const span of all.spans) {
    const kind = span.treatment?.kind as TreatmentKind | undefined;
    if (kind === undefined) continue;
    const isSteady = spanAt(steady, span.start)?.treatment?.kind === kind;
    const word = wordOf(kind, span, nameOf) + (isSteady ? '' : whenWord(kind, layers));
    for (const stretch of inBars(reading, { from: span.start, to: span.start + span.length })) {
      const key = [stretch.bar, stretch.at, stretch.length, word].join(' ');
      const before = found.get(key);
      if (before) before.passes++;
      else found.set(key, { stretch: { ...stretch, word, thing: `${span.from} ${word}` }, passes: 1 });
    }
  }
  return [...found.values()].map(({ stretch, passes }) => {
    const { bars } = reading.form;
    const times = bars.filter(({ bar }) => bar.index === stretch.bar);
    if (passes === times.length) return stretch;
    const only = times.find(({ start }) => {
      const there = spanAt(all, start + stretch.at);
      return there !== null && wordOf(there.treatment?.kind as TreatmentKind, there, nameOf) === stretch.word;
    });
    return { ...stretch, word: `${stretch.word}, ${ordinal(only?.pass ?? 1)} time` };
  });
}

/** Where the loop lies in the chart as written. */
export function loopedStretches(reading: Reading, loop: Loop | null): readonly WrittenStretch[] {
  const bar = loop && reading.form.bars[loop.bar];
  if (!bar) return [];
  const from = bar.start + loop.at;
  const seen = new Set<number>();
  return inBars(reading, { from, to: from + loop.length }).flatMap((stretch) => {
    if (seen.has(stretch.bar)) return [];
    seen.add(stretch.bar);
    return [{ ...stretch, word: 'loop', thing: 'loop' }];
  });
}

/** The parts of written bars that a stretch of the form covers, in the order played. */
function inBars({ form }: Reading, { from, to }: { from: number; to: number } | Stretch) {
  return form.bars.flatMap(({ bar, start }) => {
    const at = Math.max(from, start) - start;
    const end = Math.min(to, start + bar.length) - start;
    return end > at && at < bar.length ? [{ bar: bar.index, at, length: end - at }] : [];
  });
}

const wordOf = (kind: TreatmentKind | undefined, span: Span, nameOf: (chord: Chord) => string): string =>
  kind === undefined
    ? ''
    : kind === 'tritone-substitute' && span.chord !== null
      ? nameOf(span.chord)
      : treatmentWord(kind);

const ALWAYS: When = { type: 'always' };

export const always = ({ placed, rules }: TreatmentLayers): TreatmentLayers => ({
  placed: placed.map((item) => ({ ...item, when: ALWAYS })),
  rules: rules.map((rule) => ({ ...rule, when: ALWAYS })),
});

const onlySteady = ({ placed, rules }: TreatmentLayers): TreatmentLayers => ({
  placed: placed.filter(({ when }) => when.type === 'always'),
  rules: rules.filter(({ when }) => when.type === 'always'),
});

/** In which rounds a treatment of this kind comes, where it does not come in all. */
function whenWord(kind: TreatmentKind, { placed, rules }: TreatmentLayers): string {
  const whens = [...placed, ...rules]
    .filter((item) => item.kind === kind && item.when.type !== 'always')
    .map(({ when }) => when);
  const [when] = whens;
  const isOne = whens.every((other) => JSON.stringify(other) === JSON.stringify(when));
  return isOne && when?.type === 'every' ? `, every ${ordinal(when.nth)} round` : ', in some rounds';
}
