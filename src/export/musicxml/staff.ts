import { PPQ, type SheetBar, type SheetNote, type SheetSign, type StaffPlace } from '../../engine/index.ts';
import type { StaffSheet } from '../../ui/ports.ts';
import { direction } from './bars.ts';
import { chordElement, wordElement } from './symbol.ts';
import { documentOf } from './write.ts';
import { element, leaf, type Xml } from './xml.ts';

/** Ticks in a division: a third of a sixteenth, of which every value and triplet is a whole number. */
const DIVISION = PPQ / 24;

const TYPES = { 1: 'whole', 2: 'half', 4: 'quarter', 8: 'eighth', 16: '16th' } as const;
const ACCIDENTALS = { '##': 'double-sharp', '#': 'sharp', n: 'natural', b: 'flat', bb: 'flat-flat' } as const;

/**
 * Bars of notes as MusicXML 4.0: a staff and, where strings are told, a tablature beneath it, with the
 * chord symbols above. Notes are written as the bars have them; the part says how far that is from what
 * sounds.
 * @throws RangeError when there are no bars
 */
export function writeStaff(sheet: StaffSheet): string {
  if (sheet.bars.length === 0) throw new RangeError('a staff has at least one bar, there is none');
  return documentOf(
    sheet.title,
    sheet.title,
    sheet.bars.map((bar, index) => measureOf(bar, index, sheet)),
  );
}

function measureOf(bar: SheetBar, index: number, sheet: StaffSheet): string {
  const length = bar.signs.reduce((sum, sign) => sum + sign.length, 0) / DIVISION;
  const staff = bar.signs.map((sign, at) => {
    const end = sign.at + sign.length;
    const chords = bar.chords.filter((chord) => chord.at >= sign.at && chord.at < end);
    return chords.map((chord) => symbolAt(chord, sign)).join('') + noteOf(bar.signs, at, sheet);
  });
  const tablature =
    sheet.tuning === null
      ? []
      : [element('backup', {}, leaf('duration', length)), ...bar.signs.map((sign) => fretOf(sign))];
  return element(
    'measure',
    { number: index + 1 },
    attributesOf(bar, index, sheet),
    index === 0 && sheet.tempo !== null
      ? direction([element('metronome', {}, leaf('beat-unit', 'quarter'), leaf('per-minute', sheet.tempo))], {
          sound: element('sound', { tempo: sheet.tempo }),
        })
      : null,
    ...staff,
    ...tablature,
  );
}

function symbolAt({ at, chord }: SheetBar['chords'][number], sign: SheetSign): string {
  const look = { offset: (at - sign.at) / DIVISION, optional: false, shown: true, alternate: false };
  return chord === null ? wordElement('none', 'N.C.', look) : chordElement(chord, look);
}

function attributesOf(bar: SheetBar, index: number, { tuning, written }: StaffSheet): Xml {
  const first = index === 0;
  const time = element('time', {}, leaf('beats', bar.metre.count), leaf('beat-type', bar.metre.unit));
  if (!first) return bar.newMetre ? element('attributes', {}, time) : null;
  const treble = element('clef', tuning === null ? {} : { number: 1 }, leaf('sign', 'G'), leaf('line', 2));
  return element(
    'attributes',
    {},
    leaf('divisions', PPQ / DIVISION),
    element('key', {}, leaf('fifths', 0)),
    time,
    tuning === null ? null : leaf('staves', 2),
    treble,
    tuning === null ? null : element('clef', { number: 2 }, leaf('sign', 'TAB'), leaf('line', 5)),
    tuning === null ? null : stringsOf(tuning),
    written.semitones === 0
      ? null
      : element('transpose', {}, leaf('diatonic', -written.letters), leaf('chromatic', -written.semitones)),
  );
}

const SHARPS = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'] as const;

/** The lines of the tablature, the lowest string first. */
function stringsOf(tuning: readonly number[]): string {
  return element(
    'staff-details',
    { number: 2 },
    leaf('staff-lines', tuning.length),
    ...tuning.map((key, index) => {
      const name = SHARPS[key % 12]!;
      return element(
        'staff-tuning',
        { line: index + 1 },
        leaf('tuning-step', name.charAt(0)),
        name.length > 1 ? leaf('tuning-alter', 1) : null,
        leaf('tuning-octave', Math.floor(key / 12) - 1),
      );
    }),
  );
}

const pitchOf = ({ letter, octave, alter }: StaffPlace): string =>
  element(
    'pitch',
    {},
    leaf('step', letter),
    alter === 0 ? null : leaf('alter', alter),
    leaf('octave', octave),
  );

/** A sign on the staff: a rest, or a note with what is struck together with it. */
function noteOf(signs: readonly SheetSign[], at: number, { under, tuning }: StaffSheet): string {
  const sign = signs[at]!;
  const { note } = sign;
  const staff = tuning === null ? null : leaf('staff', 1);
  const common = [leaf('voice', 1), ...shapeOf(sign)];
  if (note === null) {
    const rest = element('rest', sign.wholeBar ? { measure: 'yes' } : {});
    return element('note', {}, rest, durationOf(sign), ...common, staff, notations(signs, at, null));
  }
  const others = (under?.[note.index] ?? []).map((place) =>
    element(
      'note',
      {},
      '<chord/>',
      pitchOf(place),
      durationOf(sign),
      ...tiesOf(note),
      ...common,
      modification(sign),
      staff,
      tiedOnly(note),
    ),
  );
  const own = element(
    'note',
    {},
    pitchOf(note.place),
    durationOf(sign),
    ...tiesOf(note),
    ...common,
    note.accidental === null ? null : leaf('accidental', ACCIDENTALS[note.accidental]),
    modification(sign),
    staff,
    notations(signs, at, note),
  );
  return own + others.join('');
}

/** The same sign on the tablature; where no string is told, as time that goes by. */
function fretOf(sign: SheetSign): string {
  const { note } = sign;
  if (!note?.stop) return element('forward', {}, durationOf(sign), leaf('voice', 2), leaf('staff', 2));
  const { string, fret } = note.stop;
  return element(
    'note',
    {},
    pitchOf(note.place),
    durationOf(sign),
    ...tiesOf(note),
    leaf('voice', 2),
    ...shapeOf(sign),
    modification(sign),
    leaf('staff', 2),
    element(
      'notations',
      {},
      ...tiedOf(note),
      element('technical', {}, leaf('string', string), leaf('fret', fret)),
    ),
  );
}

const durationOf = ({ length }: SheetSign): string => leaf('duration', length / DIVISION);

const shapeOf = ({ value, dotted, wholeBar }: SheetSign): Xml[] =>
  wholeBar ? [] : [leaf('type', TYPES[value]), dotted ? '<dot/>' : null];

const modification = ({ triplet }: SheetSign): Xml =>
  triplet === null
    ? null
    : element('time-modification', {}, leaf('actual-notes', 3), leaf('normal-notes', 2));

const tiesOf = ({ tiedFrom, tiedTo }: SheetNote): Xml[] => [
  tiedFrom ? element('tie', { type: 'stop' }) : null,
  tiedTo ? element('tie', { type: 'start' }) : null,
];
const tiedOf = ({ tiedFrom, tiedTo }: SheetNote): Xml[] => [
  tiedFrom ? element('tied', { type: 'stop' }) : null,
  tiedTo ? element('tied', { type: 'start' }) : null,
];
const tiedOnly = (note: SheetNote): Xml =>
  note.tiedFrom || note.tiedTo ? element('notations', {}, ...tiedOf(note)) : null;

/** Ties, the bracket of a triplet, accents. */
function notations(signs: readonly SheetSign[], at: number, note: SheetNote | null): Xml {
  const { triplet } = signs[at]!;
  const begins = triplet !== null && signs[at - 1]?.triplet !== triplet;
  const ends = triplet !== null && signs[at + 1]?.triplet !== triplet;
  const content = [
    ...(note === null ? [] : tiedOf(note)),
    begins ? element('tuplet', { type: 'start' }) : null,
    ends ? element('tuplet', { type: 'stop' }) : null,
    note?.accent ? element('articulations', {}, '<accent/>') : null,
  ].filter((child) => child !== null);
  return content.length === 0 ? null : element('notations', {}, ...content);
}
