import {
  leadVoicings,
  roundChanges,
  sheetOf,
  type DrillNote,
  type NoteName,
  type PlayPlan,
  type StaffPlace,
  type Voicing,
} from '../../engine/index.ts';
import type { StaffSheet } from '../../ui/ports.ts';

/** As it sounds, each name by its degree. */
const READER = { spelling: 'degree', written: { letters: 0, semitones: 0 } } as const;

/**
 * The chords of the first chorus as notes: the voicings that the band leads from one to the next, each
 * held as long as its chord. The whole form, treatments included.
 */
export function voicingSheet(plan: PlayPlan, title: string): StaffSheet {
  const changes = roundChanges({ ...plan, loop: null }, 0);
  const spans = changes.spans.filter((span) => span.chord !== null);
  const attacks = spans.map(({ chord, bar, start }) => ({ chord: chord!, bar, at: start }));
  const voicings = leadVoicings(attacks, { style: plan.settings.voicing, loop: true });
  const notes = spans.map(({ start, length }, index): DrillNote => {
    const { pitches, names, degrees } = voicings[index]!;
    const top = pitches.length - 1;
    return {
      at: start,
      length,
      pitch: pitches[top]!,
      name: names[top]!,
      plain: names[top]!,
      degree: degrees[top]!,
      stop: null,
      accent: false,
      why: 'the top of the chord',
    };
  });
  return {
    title,
    bars: sheetOf({ changes, notes }, READER),
    tempo: plan.settings.tempo,
    written: READER.written,
    tuning: null,
    under: voicings.map(below),
  };
}

/** The notes of a voicing under its top one. */
const below = ({ pitches, names }: Voicing): readonly StaffPlace[] =>
  pitches.slice(0, -1).map((pitch, index) => placeOf(names[index]!, pitch));

function placeOf(name: NoteName, pitch: number): StaffPlace {
  const alter = name.split('#').length - name.split('b').length;
  return { letter: name.charAt(0), octave: Math.floor((pitch - alter) / 12) - 1, alter };
}
