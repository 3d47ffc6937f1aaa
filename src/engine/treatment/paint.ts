import type { Changes, PlayedBar, Span } from '../harmony/index.ts';
import { beatLength, ticks } from '../units/index.ts';
import { applyTreatment, resolvedChord } from './apply.ts';
import { firstDominant, type Dominant } from './dominants.ts';
import { reasonFor } from './reason.ts';
import { indexAt } from './slice.ts';
import type { Piece, Stroke } from './stroke.ts';

/**
 * Lays strokes over the dominants of `changes`, each over those before it. Spans are split where a
 * stroke begins or ends; everything outside the strokes stays the very same span.
 */
export function paint(changes: Changes, dominants: readonly Dominant[], strokes: readonly Stroke[]): Changes {
  const painted = new Map<number, readonly Piece[]>();
  for (const stroke of strokes) {
    for (let index = firstDominant(dominants, stroke.from); index < dominants.length; index++) {
      const dominant = dominants[index]!;
      if (dominant.from >= stroke.to) break;
      for (const piece of cut(changes, dominant, stroke)) {
        painted.set(index, overlay(painted.get(index) ?? [], piece));
      }
    }
  }
  if (painted.size === 0) return changes;
  const spans: Span[] = [];
  let next = 0;
  for (const [index, pieces] of [...painted].sort(([a], [b]) => a - b)) {
    const { first, last } = dominants[index]!;
    while (next < first) spans.push(changes.spans[next++]!);
    while (next <= last) split(changes, changes.spans[next++]!, pieces, spans);
  }
  while (next < changes.spans.length) spans.push(changes.spans[next++]!);
  return { ...changes, spans };
}

/** The part of a stroke that lies on `dominant`: two pieces where it suspends first. */
function cut(changes: Changes, dominant: Dominant, stroke: Stroke): Piece[] {
  const from = Math.max(dominant.from, stroke.from);
  const to = Math.min(dominant.to, stroke.to);
  if (stroke.kind !== 'suspended-first') return [{ from, to, stroke, resolved: false }];
  const middle = from + suspension(changes.bars[indexAt(changes.bars, from)], to - from);
  return [
    { from, to: middle, stroke, resolved: false },
    { from: middle, to, stroke, resolved: true },
  ];
}

/** Half of `length`, up to the next whole beat where it is longer than a beat (our choice). */
function suspension(bar: PlayedBar | undefined, length: number): number {
  const beat = bar ? beatLength(bar.metre) : length;
  return length > beat ? Math.min(Math.ceil(length / 2 / beat) * beat, length - 1) : Math.ceil(length / 2);
}

/** `pieces` with `piece` laid over them, in order of time. */
function overlay(pieces: readonly Piece[], piece: Piece): Piece[] {
  if (piece.to <= piece.from) return [...pieces];
  const before: Piece[] = [];
  const after: Piece[] = [];
  for (const under of pieces) {
    if (under.from < piece.from) before.push({ ...under, to: Math.min(under.to, piece.from) });
    if (under.to > piece.to) after.push({ ...under, from: Math.max(under.from, piece.to) });
  }
  return [...before, piece, ...after];
}

/** Adds `span` to `out`, split where `pieces` lie on it. */
function split(changes: Changes, span: Span, pieces: readonly Piece[], out: Span[]): void {
  const end = span.start + span.length;
  let at: number = span.start;
  const bare = (to: number) => {
    if (to > at) out.push(at === span.start && to === end ? span : part(changes, span, at, to));
    at = Math.max(at, to);
  };
  for (const piece of pieces) {
    const from = Math.max(piece.from, span.start);
    const to = Math.min(piece.to, end);
    if (to <= from) continue;
    const { kind, origin } = piece.stroke;
    const chord = span.written && (piece.resolved ? resolvedChord : applyTreatment)(span.written, kind);
    if (!chord) continue;
    bare(from);
    const reason = reasonFor(changes, piece);
    out.push({ ...part(changes, span, from, to), chord, treatment: { kind, origin, reason } });
    at = to;
  }
  bare(end);
}

function part(changes: Changes, span: Span, from: number, to: number): Span {
  const inside = from === span.start ? span.bar : indexAt(changes.bars, from);
  return { ...span, start: ticks(from), length: ticks(to - from), bar: inside };
}
