import {
  DRILL_KINDS,
  metreName,
  PPQ,
  prettyDegree,
  prettyName,
  prettyText,
  readable,
  transposeName,
  type Chord,
  type Drill,
  type DrillSettings,
  type Interval,
  type SheetBar,
  type SheetNote,
} from '../../engine/index.ts';

export const RHYTHM_WORDS = {
  quarter: 'Quarters',
  eighth: 'Eighths',
  triplet: 'Triplets',
  sixteenth: 'Sixteenths',
} as const;

export const DIRECTION_WORDS = {
  up: 'Up',
  down: 'Down',
  'up-down': 'Up and down',
  turns: 'In turns',
} as const;

export const ACCENT_WORDS = {
  none: 'None',
  groups: 'The first of each group',
  beats: 'On the beats',
  'off-beats': 'Off the beats',
  threes: 'Every third note',
} as const;

/** Where the hand is: "form 2", "5th position", "anywhere". */
export function handWords({ hand }: DrillSettings): string {
  if (hand.type === 'form') return `form ${hand.number}`;
  return hand.type === 'position' ? `position ${hand.fret}` : 'all of the neck';
}

/** A kept drill in a list: "Thirds, eighths, form 2". */
export function settingsWords(settings: DrillSettings): string {
  const { kind, rhythm, cell } = settings;
  const name = kind === 'cells' ? `${DRILL_KINDS[kind].name} ${cell}` : DRILL_KINDS[kind].name;
  return `${name}, ${RHYTHM_WORDS[rhythm].toLowerCase()}, ${handWords(settings)}`;
}

/** "string 3, fret 8", "string 3, open"; empty where the neck has no such note. */
function stopWords({ stop }: Pick<SheetNote, 'stop'>, capo: number): string {
  if (stop === null) return '';
  return `string ${stop.string}, ${stop.fret === capo ? 'open' : `fret ${stop.fret}`}`;
}

/** A note: "E♭, ♯5, string 3, fret 8". */
export function noteWords(note: SheetNote, capo: number): string {
  return [prettyName(note.name), note.degree === null ? '' : prettyDegree(note.degree), stopWords(note, capo)]
    .filter(Boolean)
    .join(', ');
}

/** The notes of a sheet by their index in the drill, each with the number of its bar. */
export function notesOf(
  bars: readonly SheetBar[],
): readonly { readonly note: SheetNote; readonly bar: number }[] {
  const found: { note: SheetNote; bar: number }[] = [];
  for (const [bar, { signs }] of bars.entries()) {
    for (const { note } of signs) if (note !== null) found[note.index] ??= { note, bar: bar + 1 };
  }
  return found;
}

/** A drill's title as its reader reads it: "Thirds, A altered" where G altered sounds. */
export function titleFor(title: string, written: Interval): string {
  const [name = '', from = ''] = title.split(/, (?=[A-G])/);
  if (from === '') return prettyText(title);
  const move = (root: string) => (written.letters % 7 === 0 ? root : readable(transposeName(root, written)));
  return prettyText(
    `${name}, ${from.replaceAll(/(^| to )([A-G][b#]{0,2})/g, (_, before: string, root: string) => before + move(root))}`,
  );
}

const LENGTHS: Readonly<Record<number, string>> = {
  4: 'whole',
  3: 'dotted half',
  2: 'half',
  1.5: 'dotted quarter',
  1: 'quarter',
  0.75: 'dotted eighth',
  0.5: 'eighth',
  0.25: 'sixteenth',
};

/**
 * A drill in words, bar by bar: "Bar 1, G7alt: G 1, B 3 … ". A note says how long it is where that changes.
 * @param symbol a chord as the reader reads it
 */
export function drillWords(
  title: string,
  drill: Drill,
  bars: readonly SheetBar[],
  symbol: (chord: Chord) => string,
): string {
  const first = bars[0];
  if (first === undefined) return '';
  let length = 0;
  const told = bars.map(({ chords, signs }, i) => {
    const names = chords.map(({ chord }) => (chord === null ? 'no chord' : prettyText(symbol(chord))));
    const notes = signs.flatMap(({ note }) => {
      if (note === null || note.tiedFrom) return [];
      const { length: lasts } = drill.notes[note.index]!;
      const changed = lasts !== length;
      length = lasts;
      const words = `${prettyName(note.name)}${note.degree === null ? '' : ` ${prettyDegree(note.degree)}`}`;
      const said = LENGTHS[lasts / PPQ] ?? (lasts === PPQ / 3 ? 'triplet' : 'held');
      return [changed ? `${said} ${words}` : words];
    });
    const head = [`Bar ${i + 1}`, ...names].join(', ');
    return `${head}: ${notes.join(', ') || 'rest'}.`;
  });
  const count = bars.length === 1 ? '1 bar' : `${bars.length} bars`;
  return `${title}, ${count} of ${metreName(first.metre)}. ${told.join(' ')}`;
}
