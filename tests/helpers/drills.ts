import {
  COMMON_TIME,
  GUITAR,
  PPQ,
  buildDrill,
  readChord,
  readText,
  scaleById,
  suggestThrough,
  type Chord,
  type Drill,
  type DrillSettings,
  type Metre,
  type Passage,
  type DrillChord,
} from '../../src/engine/index.ts';

/** What a drill is set to where a test says nothing else. */
export const DRILL: DrillSettings = {
  kind: 'thirds',
  rhythm: 'eighth',
  direction: 'up-down',
  accents: 'none',
  startBeat: 1,
  hand: { type: 'form', number: 1 },
  range: null,
  cell: '1 2 3 5',
  line: 'third',
  seed: 1,
};

export function chordCalled(symbol: string): Chord {
  const chord = readChord(symbol);
  if (!chord.ok) throw new RangeError(symbol);
  return chord.value;
}

/** A chord with a scale of the table on its root. */
export function placeOf(
  symbol: string,
  scale: string,
  next: string | null = null,
  metre: Metre = COMMON_TIME,
): DrillChord {
  const chord = chordCalled(symbol);
  return {
    chord,
    scale: scaleById(scale, chord.root, chord)!,
    next: next === null ? null : chordCalled(next),
    metre,
  };
}

/** A chart's changes with the scale suggested first for each chord. */
export function passageOf(text: string): Passage {
  const { written } = readText(text);
  return { changes: written, scales: suggestThrough(written).map((offered) => offered[0] ?? null) };
}

export const overChord = (place: DrillChord, set: Partial<DrillSettings>): Drill =>
  buildDrill({ ...DRILL, ...set }, { over: 'chord', place }, GUITAR);

export const overChanges = (text: string, set: Partial<DrillSettings>): Drill =>
  buildDrill(
    { ...DRILL, hand: { type: 'free' }, ...set },
    { over: 'changes', passage: passageOf(text) },
    GUITAR,
  );

/**
 * A drill as a test reads it: a line for each bar, each note by its degree, or its name where it has none, with
 * its length in quarter notes where that is not the usual one; `-` is silence.
 */
export function drawDrill({ changes, notes, settings }: Drill): string {
  const usual = PPQ / { quarter: 1, eighth: 2, triplet: 3, sixteenth: 4 }[settings.rhythm];
  return changes.bars
    .map(({ start, length }) => {
      const inside = notes.filter(({ at }) => at >= start && at < start + length);
      let at: number = notes.reduce(
        (end, note) => (note.at < start ? Math.max(end, note.at + note.length) : end),
        0,
      );
      at = Math.max(at, start);
      const words = inside.map((note) => {
        const rest = note.at > at ? `-${(note.at - at) / PPQ} ` : '';
        at = note.at + note.length;
        return `${rest}${note.degree ?? note.plain}${note.length === usual ? '' : `*${note.length / PPQ}`}`;
      });
      return words.join(' ');
    })
    .join('\n');
}
