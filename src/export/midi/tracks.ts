import {
  barLength,
  chordName,
  COMMON_TIME,
  GENERAL_MIDI,
  lineupOf,
  MIDI_CHANNELS,
  PPQ,
  type BandSettings,
  type Metre,
  type Part,
  type PlayedBar,
  type Span,
} from '../../engine/index.ts';
import { keyEvent, metreEvent, tempoEvent, textEvent } from './events.ts';
import type { Excerpt } from './excerpt.ts';
import type { MidiChoices } from '../../ui/ports.ts';

/** An event at a tick of the file. */
export interface Timed {
  readonly at: number;
  readonly bytes: readonly number[];
}

/** A track's events, in any order of ticks; at one tick they stand as they are listed. */
export type Track = readonly Timed[];

const NAMES: Readonly<Record<Part, string>> = {
  comp: 'Chords',
  bass: 'Bass',
  drums: 'Drums',
  click: 'Click',
  lead: 'Line',
};

/** Who plays a single line where nobody else is named: the student's own instrument. Our choice. */
const LEAD = 'guitar';

/** The track that leads: title, tempo, key and metres, a marker at each section and each chord. */
export function leadTrack(excerpt: Excerpt, choices: MidiChoices): Track {
  const { begins, rounds, tempo, tempi } = excerpt;
  const firstMetre = rounds[0]?.changes.bars[0]?.metre ?? COMMON_TIME;
  const key = choices.key && keyEvent(choices.key);
  const events: Timed[] = [
    { at: 0, bytes: textEvent('name', choices.title || 'Untitled') },
    { at: 0, bytes: tempoEvent(tempo) },
    ...tempi.map((change) => ({ at: change.at, bytes: tempoEvent(change.tempo) })),
    ...(key ? [{ at: 0, bytes: key }] : []),
  ];
  let metre: Metre | null = null;
  const measure = (at: number, next: Metre) => {
    if (metre?.count === next.count && metre.unit === next.unit) return;
    metre = next;
    events.push({ at, bytes: metreEvent(next) });
  };
  if (begins > 0) measure(0, firstMetre);
  for (const { changes, sounds } of rounds) {
    for (const bar of changes.bars) {
      measure(sounds(bar.start), metreOf(bar));
      if (bar.mark !== null)
        events.push({ at: sounds(bar.start), bytes: textEvent('marker', `[${bar.mark}]`) });
    }
    for (const span of changes.spans)
      events.push({ at: sounds(span.start), bytes: textEvent('marker', symbolOf(span)) });
  }
  return [...events, endOfTrack(excerpt.length)];
}

/** One part: its name, instrument and notes; the chords with their symbols as text. */
export function partTrack(part: Part, excerpt: Excerpt, settings: BandSettings): Track {
  const channel = MIDI_CHANNELS[part];
  const { program, name } = GENERAL_MIDI[lineupOf(settings)[part] ?? LEAD];
  const symbols =
    part === 'comp'
      ? excerpt.rounds.flatMap(({ changes, sounds }) =>
          changes.spans.map((span) => ({
            at: sounds(span.start),
            bytes: textEvent('text', symbolOf(span)),
          })),
        )
      : [];
  const notes = excerpt.notes[part].flatMap((note) => [
    { at: note.at, order: 1, bytes: [0x90 | channel, note.pitch, note.velocity] },
    { at: note.at + note.length, order: 0, bytes: [0x80 | channel, note.pitch, 64] },
  ]);
  return [
    { at: 0, bytes: textEvent('name', NAMES[part]) },
    { at: 0, bytes: textEvent('instrument', name) },
    ...(program === null ? [] : [{ at: 0, bytes: [0xc0 | channel, program] }]),
    ...symbols,
    // A key let go at the tick at which it is struck anew is let go first.
    ...notes.toSorted((a, b) => a.at - b.at || a.order - b.order),
    endOfTrack(excerpt.length),
  ];
}

const endOfTrack = (at: number): Timed => ({ at, bytes: [0xff, 0x2f, 0] });

const symbolOf = ({ chord, silence }: Span): string =>
  chord !== null ? chordName(chord) : silence === 'no-chord' ? 'N.C.' : '?';

/** The metre of a bar as played: of a loop's cut bar that of its own length, where that can be written. */
function metreOf({ metre, length }: PlayedBar): Metre {
  if (length === barLength(metre)) return metre;
  for (const unit of [metre.unit, 4, 8, 16] as const) {
    const count = (length * unit) / (4 * PPQ);
    if (Number.isInteger(count) && count > 0 && count < 256) return { count, unit };
  }
  return metre;
}
