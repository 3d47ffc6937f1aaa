import { plainName, transposeChord, transposeName, type Interval } from '../harmony/index.ts';
import { beatLength, PPQ, ticks, type Metre } from '../units/index.ts';
import type { SheetBar, SheetNote, SheetSign, StaffPlace } from './sheet-types.ts';
import type { Drill, DrillNote } from './types.ts';
import { piecesOf, tripletBeats, type BarShape, type Piece } from './values.ts';

/**
 * Where a spelled pitch stands on a staff.
 * @param name as spelled, e.g. "B#"
 * @param pitch MIDI key; the octave is that of the letter, so that B# below C4 stands at B3
 */
function staffPlace(name: string, pitch: number): StaffPlace {
  const signs = name.slice(1);
  const alter = signs.startsWith('b') ? -signs.length : signs.length;
  return { letter: name[0]!, octave: Math.floor((pitch - alter) / 12) - 1, alter };
}

/** Accidentals by sharps (positive) or flats. */
const SIGNS = { [-2]: 'bb', [-1]: 'b', 0: 'n', 1: '#', 2: '##' } as const;

/** Who reads a sheet. */
export interface Reader {
  /** Which of a note's names is written. */
  readonly spelling: 'plain' | 'degree';
  /** How far above what sounds it is written, as `transposedFor` tells. */
  readonly written: Interval;
}

/** A note as it is written for a reader. */
function writtenPlace({ name, plain, pitch }: DrillNote, { spelling, written }: Reader) {
  const read = transposeName(spelling === 'plain' ? plain : name, written);
  const shown = spelling === 'plain' ? plainName(read) : read;
  return { name: shown, place: staffPlace(shown, pitch + written.semitones) };
}

/**
 * A drill as signs on a staff, bar by bar: lengths that signs can have, tied where a note takes several, rests
 * between them, triplets, beams, and each accidental the bar has not said yet. Without a key signature, since
 * chord symbols stand above every bar. Common practice.
 */
export function sheetOf(drill: Pick<Drill, 'changes' | 'notes'>, reader: Reader): readonly SheetBar[] {
  const { changes, notes } = drill;
  return changes.bars.map((bar, i): SheetBar => {
    const { start, length, metre, skipped } = bar;
    const end = start + length;
    const downbeat = start - skipped;
    const inBar = notes.flatMap((note, index) =>
      note.at < end && note.at + note.length > start ? [{ note, index }] : [],
    );
    const shape: BarShape = {
      metre,
      length: skipped + length,
      triplets: tripletBeats(
        inBar.flatMap(({ note: { at, length: lasts } }) => [at - downbeat, at + lasts - downbeat]),
      ),
    };
    const before = changes.bars[i - 1];
    return {
      start,
      length,
      metre,
      newMetre:
        before === undefined || before.metre.count !== metre.count || before.metre.unit !== metre.unit,
      signs: signsOf(inBar, { start, end, downbeat }, shape, reader),
      chords: changes.spans
        .filter((span) => span.start >= start && span.start < end)
        .map(({ start: at, chord }) => ({
          at,
          chord: chord && (reader.written.letters % 7 === 0 ? chord : transposeChord(chord, reader.written)),
        })),
    };
  });
}

interface Within {
  readonly start: number;
  readonly end: number;
  readonly downbeat: number;
}

function signsOf(
  inBar: readonly { readonly note: DrillNote; readonly index: number }[],
  { start, end, downbeat }: Within,
  shape: BarShape,
  reader: Reader,
): readonly SheetSign[] {
  const signs: Omit<SheetSign, 'beam'>[] = [];
  const said = new Map<string, number>();
  const rest = (from: number, to: number) => {
    if (from === start && to === end) {
      signs.push({
        ...pieceOf(from, to),
        value: 1,
        dotted: false,
        wholeBar: true,
        triplet: null,
        note: null,
      });
      return;
    }
    for (const piece of piecesOf(from - downbeat, to - downbeat, true, shape))
      signs.push(signOf(piece, null));
  };
  const pieceOf = (from: number, to: number) => ({ at: ticks(from), length: ticks(to - from) });
  const signOf = ({ at, length, value, dotted, triplet }: Piece, note: SheetNote | null) => ({
    at: ticks(at + downbeat),
    length: ticks(length),
    value,
    dotted,
    wholeBar: false,
    triplet,
    note,
  });
  let at = start;
  for (const { note, index } of inBar) {
    const [from, to] = [Math.max(start, note.at), Math.min(end, note.at + note.length)];
    if (from > at) rest(at, from);
    const { name, place } = writtenPlace(note, reader);
    const pieces = piecesOf(from - downbeat, to - downbeat, false, shape);
    for (const [i, piece] of pieces.entries()) {
      const tiedFrom = i > 0 || from > note.at;
      const line = place.letter + place.octave;
      const isSaid = (said.get(line) ?? 0) === place.alter;
      const accidental = isSaid || tiedFrom ? null : SIGNS[place.alter as keyof typeof SIGNS];
      // A tie over the bar line carries its accidental; the next note of that line says its own.
      if (!tiedFrom) said.set(line, place.alter);
      signs.push(
        signOf(piece, {
          index,
          place,
          accidental,
          tiedFrom,
          tiedTo: i < pieces.length - 1 || to < note.at + note.length,
          name,
          degree: note.degree,
          stop: note.stop,
          accent: note.accent && !tiedFrom,
        }),
      );
    }
    at = to;
  }
  if (at < end) rest(at, end);
  return beamed(signs, downbeat, shape);
}

/** Beams by beats; in four, eighths by half bars. Common practice. */
function beamed(
  signs: readonly Omit<SheetSign, 'beam'>[],
  downbeat: number,
  shape: BarShape,
): readonly SheetSign[] {
  const groups = signs.map((sign) => groupAt(sign.at - downbeat, signs, downbeat, shape));
  let beam = 0;
  return signs.map((sign, i): SheetSign => {
    const joins = (other: number) =>
      canBeam(sign) && signs[other] !== undefined && canBeam(signs[other]) && groups[other] === groups[i];
    if (canBeam(sign) && !joins(i - 1)) beam++;
    return { ...sign, beam: joins(i - 1) || joins(i + 1) ? beam : null };
  });
}

const canBeam = ({ note, value }: Omit<SheetSign, 'beam'>): boolean => note !== null && value >= 8;

function groupAt(
  at: number,
  signs: readonly Omit<SheetSign, 'beam'>[],
  downbeat: number,
  { metre, length }: BarShape,
): number {
  const beat = Math.max(PPQ, beatLength(metre));
  if (!isInFour(metre, length)) return Math.floor(at / beat);
  const half = Math.floor(at / (2 * PPQ));
  const within = signs.filter((sign) => Math.floor((sign.at - downbeat) / (2 * PPQ)) === half);
  const isEven = within.every(({ value, dotted, triplet }) => value <= 8 && !dotted && triplet === null);
  return isEven ? 100 + half : Math.floor(at / PPQ);
}

const isInFour = (metre: Metre, length: number): boolean => metre.unit === 4 && length === 4 * PPQ;
