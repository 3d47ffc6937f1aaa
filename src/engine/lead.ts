import { swungIn, type BandSettings } from './band/index.ts';
import type { Drill, KeptDrill } from './drills/index.ts';
import { BETWEEN_ROUNDS, type Changes } from './harmony/index.ts';
import type { NeckSetting } from './neck/index.ts';
import type { Project } from './project.ts';
import type { ScaleChoice } from './scales/index.ts';
import { sliceChanges } from './treatment/index.ts';
import { ticks, velocity, type NoteEvent, type Ticks } from './units/index.ts';

/** A drill that is played with the band, round after round. */
export interface Lead {
  /** The drill over a round's changes, in that round's key; null where there is none. The same changes give the same drill. */
  drill(changes: Changes): Drill | null;
  /** True where the band is silent, but for its click. */
  readonly alone: boolean;
  /** The scale of a drill over one chord, where that chord sounds as it is; null elsewhere. */
  readonly scaleAt?: (changes: Changes, span: number) => ScaleChoice | null;
  /** What it was made from, for whoever keeps it. */
  readonly from?: LeadOrigin;
}

/** A drill that is played, and the chart and the neck it is made over. */
export interface LeadOrigin {
  readonly drill: Pick<KeptDrill, 'place' | 'settings'>;
  readonly chart: Drilled;
  readonly neck: NeckSetting;
}

/** What of a project its drills are made from. */
export type Drilled = Pick<Project, 'text' | 'key' | 'layers' | 'loop' | 'practice' | 'scales' | 'settings'>;

/** How hard a line is struck, and how much of a note's length it sounds. Our choice, for a line that is plain to follow. */
const TOUCH = { usual: 82, accent: 110, sounds: 0.94 };

const music = new WeakMap<Changes, Changes>();

/** A round's changes without the silence that follows them; the same for the same changes. */
export function musicOf(changes: Changes): Changes {
  let known = music.get(changes);
  if (known === undefined) {
    const gap = changes.bars.find(({ written }) => written === BETWEEN_ROUNDS);
    known = gap === undefined || gap.start === 0 ? changes : sliceChanges(changes, ticks(0), gap.start);
    music.set(changes, known);
  }
  return known;
}

/**
 * Where a tick of a drill sounds: beats and off-beats in the band's feel; triplets and sixteenths even.
 * @param settings of the band, at the tempo of the round
 */
export function leadTime(
  { changes, settings: { rhythm } }: Pick<Drill, 'changes' | 'settings'>,
  settings: BandSettings,
): (at: number) => number {
  const isSwung =
    rhythm === 'quarter' || rhythm === 'eighth' || (rhythm === 'sixteenth' && settings.time === 'double');
  return isSwung ? swungIn(changes, settings) : (at) => at;
}

/** A drill as it sounds. */
function leadNotes(drill: Drill, settings: BandSettings): readonly NoteEvent[] {
  const sounds = leadTime(drill, settings);
  return drill.notes.map((note): NoteEvent => {
    const at = sounds(note.at);
    const end = sounds(note.at + note.length);
    return {
      at: ticks(at),
      length: ticks(Math.max(1, Math.round((end - at) * TOUCH.sounds))),
      pitch: note.pitch,
      name: note.name,
      degree: note.degree,
      velocity: velocity(note.accent ? TOUCH.accent : TOUCH.usual),
      part: 'lead',
      why: note.why,
    };
  });
}

/**
 * What the band plays in rounds that follow each other, with the drill of each; of the band only the click,
 * where the drill is alone.
 * @param played the band's notes, from the start of the first round
 * @param rounds the changes of each round, without the silence after it
 * @param length of a round with that silence
 */
export function withLead(
  played: readonly NoteEvent[],
  lead: Lead,
  rounds: readonly Changes[],
  length: Ticks,
  settings: BandSettings,
): readonly NoteEvent[] {
  const band = lead.alone ? played.filter(({ part }) => part === 'click') : played;
  const lines = rounds.flatMap((changes, i) => {
    const drill = lead.drill(changes);
    return (drill === null ? [] : leadNotes(drill, settings))
      .filter(({ at }) => at < changes.length)
      .map((note) => ({ ...note, at: ticks(i * length + note.at) }));
  });
  return [...band, ...lines].sort((a, b) => a.at - b.at);
}
