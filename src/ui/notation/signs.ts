import {
  Accidental,
  Articulation,
  Beam,
  Dot,
  ModifierPosition,
  StaveTie,
  Tuplet,
  Voice,
  type Stave,
  type StaveNote,
} from 'vexflow/core';
import type { SheetSign } from '../../engine/index.ts';
import type { Clef } from './layout.ts';
import { SingleNote } from './light.ts';

/** A sign and what draws it. */
export interface Drawn {
  readonly sign: SheetSign;
  readonly note: StaveNote;
}

const DURATIONS = { 1: 'w', 2: 'h', 4: 'q', 8: '8', 16: '16' } as const;
const INK = { fillStyle: 'currentColor', strokeStyle: 'currentColor' };

/** A note or rest of the staff. */
export function staveNote(sign: SheetSign, clef: Clef): StaveNote {
  const { note, value, dotted, wholeBar } = sign;
  const rest = clef === 'treble' ? 'b/4' : 'd/3';
  const key = note === null ? rest : `${note.place.letter.toLowerCase()}/${note.place.octave}`;
  const drawn = new SingleNote({
    keys: [key],
    duration: DURATIONS[value] + (note === null ? 'r' : ''),
    dots: dotted ? 1 : 0,
    clef,
    autoStem: true,
    alignCenter: wholeBar,
  });
  if (note?.accidental != null) drawn.addModifier(new Accidental(note.accidental), 0);
  if (dotted) Dot.buildAndAttach([drawn], { all: true });
  if (note?.accent === true) drawn.addModifier(new Articulation('a>').setPosition(ModifierPosition.ABOVE));
  drawn.setStyle(INK);
  drawn.setLedgerLineStyle({ strokeStyle: 'currentColor', lineWidth: 1.2 });
  return drawn;
}

/** Where the middle of a note's head is. */
export const middleOf = (note: StaveNote): number => note.getAbsoluteX() + note.getGlyphWidth() / 2;

export function voiceOf(signs: readonly Drawn[], stave: Stave): Voice {
  // A bar's lengths are the engine's affair; here they need not be counted again.
  const voice = new Voice().setMode(Voice.Mode.SOFT);
  return voice.addTickables(signs.map(({ note }) => note)).setStave(stave);
}

export const beamsOf = (signs: readonly Drawn[]): readonly Beam[] =>
  groupsBy(signs, ({ beam }) => beam).map((group) => {
    const beam = new Beam(
      group.map(({ note }) => note),
      true,
    );
    beam.setStyle(INK);
    return beam;
  });

export const tupletsOf = (signs: readonly Drawn[]): readonly Tuplet[] =>
  groupsBy(signs, ({ triplet }) => triplet).map((group) => {
    const notes = group.map(({ note }) => note);
    const bracketed = group.some(({ sign }) => sign.beam === null);
    return new Tuplet(notes, { numNotes: 3, notesOccupied: 2, bracketed });
  });

function groupsBy(signs: readonly Drawn[], by: (sign: SheetSign) => number | null): readonly Drawn[][] {
  const groups = new Map<number, Drawn[]>();
  for (const drawn of signs) {
    const number = by(drawn.sign);
    if (number === null) continue;
    const group = groups.get(number);
    if (group === undefined) groups.set(number, [drawn]);
    else group.push(drawn);
  }
  return [...groups.values()];
}

/** The ties of a line, also those that come from the line before and go on to the next. */
export function tiesOf(heads: readonly Drawn[]): readonly StaveTie[] {
  return heads.flatMap(({ sign, note }, i) => {
    if (sign.note?.tiedTo === true) return [tie(note, heads[i + 1]?.note)];
    return i === 0 && sign.note?.tiedFrom === true ? [tie(undefined, note)] : [];
  });
}

const tie = (first: StaveNote | undefined, last: StaveNote | undefined): StaveTie =>
  new StaveTie({
    ...(first && { firstNote: first, firstIndexes: [0] }),
    ...(last && { lastNote: last, lastIndexes: [0] }),
  });
