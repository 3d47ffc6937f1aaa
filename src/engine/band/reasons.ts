import { nameIn } from './palette.ts';
import type { Slot } from './slots.ts';
import { degreeInWords, semitonesInWords } from './words.ts';

/** The rule that put a bass note where it is, in words a player reads. `before` and `next` are pitches. */
export function reasonFor(slot: Slot, pitch: number, before: number | null, next: number | null): string {
  const { palette, purpose, target } = slot;
  const { chord, ground, tones } = palette;
  const named = nameIn(palette, pitch % 12);
  const degree = named === null ? null : `${degreeInWords(named.degree)} of ${chord.text}`;
  if (purpose === 'ghost') return 'skip: the note before as a dead note';
  if (purpose === 'octave') return 'drop: the note before an octave away';
  if (palette.pedal !== null) return `pedal: ${palette.pedal}, held under ${chord.text}`;
  if (purpose === 'next' && pitch % 12 === target!.ground) return `${target!.chord.text} anticipated`;
  if (purpose === 'approach') {
    const goal = target!.chord.bass ?? target!.chord.root;
    if (slot.substitute && pitch % 12 === (target!.ground + 1) % 12) {
      return `root of the tritone substitute, a semitone above ${goal}`;
    }
    const way = approachInWords((pitch - target!.ground + 120) % 12);
    return `approach to ${goal} ${way}${degree === null ? '' : `: ${degree}`}`;
  }
  if (pitch % 12 === ground && chord.bass !== null) {
    return `${purpose === 'pedal' ? 'pedal: ' : ''}written bass of ${chord.text}`;
  }
  if (degree !== null) return tones.has(pitch % 12) ? degree : `scale step: ${degree}`;
  const rises = next === null ? before !== null && before < pitch : next > pitch;
  return `chromatic passing note ${rises ? 'up' : 'down'}`;
}

/** How a note leads to a goal it lies `above` by so many semitones (0 to 11). */
function approachInWords(above: number): string {
  if (above === 1 || above === 2) return `from a ${semitonesInWords(above)} above`;
  if (above >= 10) return `from a ${semitonesInWords(12 - above)} below`;
  return above === 7 ? 'from its fifth' : 'by a chord tone';
}
