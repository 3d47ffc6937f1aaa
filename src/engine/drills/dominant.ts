import { isDominant, plainName, readChord, spell, type Chord } from '../harmony/index.ts';
import { barLength, beatLength, beatsInBar } from '../units/index.ts';
import { bridges } from './bridges.ts';
import { PHRASE_RULES } from './data.ts';
import { Pen, startOf, unitOf, type Draft, type Stroke } from './pen.ts';
import { phraseFor, phrasesOf } from './phrases.ts';
import type { Line } from './resolve.ts';
import type { Reach } from './rungs.ts';
import type { Road } from './through.ts';
import type { DrillSettings, DrillChord } from './types.ts';
import { barsOf, changesOf, vampOf } from './vamp.ts';

/** Over a dominant and what it leads to: one example after the other, a bar of each chord. */
export function dominantDrill(settings: DrillSettings, place: DrillChord, reach: Reach): Draft {
  const { metre } = place;
  const { root, next } = cadenceOf(place);
  const bar = barLength(metre);
  const unit = unitOf(settings.rhythm, barsOf(metre, 1).bars);
  const start = startOf(settings, metre);
  const isBridge = settings.kind === 'plain-altered';
  const altered = isBridge ? Math.floor(beatsInBar(metre) / 2) * beatLength(metre) : bar;
  const turn = Math.max(start, bar - altered);
  const plainCount = Math.floor((turn - start) / unit);
  const alteredCount = Math.floor((bar - turn) / unit);
  const lines: readonly Line[] =
    isBridge && plainCount > 0 && alteredCount > 0
      ? bridges(root, next, plainCount, alteredCount, reach)
      : PHRASE_RULES.flatMap((rule) =>
          phrasesOf(rule, root, next, plainCount + alteredCount, reach).slice(0, 1),
        );
  const strokes = lines.flatMap((line, i) => {
    const pen = new Pen(i * 2 * bar + start);
    for (const [n, { rung, why, head }] of line.notes.entries()) {
      // The last plain note and the last altered one fill what the running notes leave.
      if (n === plainCount) pen.holdUntil(i * 2 * bar + turn);
      pen.play(rung, unit, why, head);
    }
    pen.holdUntil((i * 2 + 1) * bar);
    pen.play(line.goal, bar, line.goalWhy, true);
    return pen.strokes;
  });
  const plain = chordOf(`${root}7`);
  const alt = chordOf(`${root}7alt`);
  const harmony = lines.flatMap((): readonly (readonly [Chord, number])[] => [
    ...(isBridge ? [[plain, bar - altered] as const] : []),
    [alt, altered],
    [next, bar],
  ]);
  const changes =
    lines.length === 0 ? vampOf(place.chord, metre, bar) : changesOf(metre, 2 * lines.length, harmony);
  return { strokes, changes, reach, from: `${root}7 to ${next.text}` };
}

/** The dominant that is practised, and the chord it leads to. */
function cadenceOf({ chord, next }: Pick<DrillChord, 'chord' | 'next'>): {
  readonly root: string;
  readonly next: Chord;
} {
  if (!isDominant(chord)) return { root: plainName(spell(chord.root, '5')), next: chord };
  const goes = next !== null && next.root !== chord.root;
  return { root: chord.root, next: goes ? next : chordOf(`${plainName(spell(chord.root, '11'))}maj7`) };
}

/**
 * A phrase over every altered chord, a bar at a time, the last one led into the chord after it, which is held.
 * Elsewhere the drill is silent.
 */
export function phrasesThrough({ passage, reach, unit, beats, from, settings }: Road): readonly Stroke[] {
  const { spans } = passage.changes;
  const isAltered = (i: number) => passage.scales[i]?.id === 'altered' && spans[i]!.chord !== null;
  const pen = new Pen(from);
  for (const [i, { chord, start, length }] of spans.entries()) {
    if (!isAltered(i)) continue;
    const { root, next } = cadenceOf({
      chord: chordOf(`${chord!.root}7alt`),
      next: spans[i + 1]?.chord ?? null,
    });
    for (let at = Math.max(start, from); at < start + length;) {
      const end = Math.min(start + length, beats.barAt(at).end);
      const line = phraseFor(root, next, Math.floor((end - at) / unit), reach, settings.seed, at);
      pen.at = at;
      for (const note of line?.notes ?? []) pen.play(note.rung, unit, note.why, note.head);
      const after = spans[i + 1];
      if (line !== null && end === start + length && after?.chord === next && !isAltered(i + 1)) {
        pen.at = end;
        pen.play(line.goal, after.length, line.goalWhy, true);
      }
      at = end;
    }
  }
  return pen.strokes;
}

function chordOf(symbol: string): Chord {
  const chord = readChord(symbol);
  if (!chord.ok) throw new RangeError(`"${symbol}" is no chord symbol`);
  return chord.value;
}
