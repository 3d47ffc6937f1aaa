import { beatLength, beats, midi, ticks, velocity, type NoteEvent } from '../units/index.ts';
import type { PartPlayer } from './types.ts';

/** General MIDI 2 percussion keys: sticks 31, metronome click 33, metronome bell 34 (from memory). */
export const CLICK = midi(33);
export const BELL = midi(34);
export const STICKS = midi(31);

/** A click on every felt beat and a bell on the first of the bar, unswung: the metronome. */
export const clickTrack: PartPlayer = ({ changes, from }) => {
  const notes: NoteEvent[] = [];
  for (const bar of changes.bars) {
    const unit = beatLength(bar.metre);
    const end = bar.start + bar.length;
    const downbeat = bar.start - bar.skipped;
    for (let at = downbeat; at < end; at += unit) {
      if (at < bar.start || at < from) continue;
      const first = at === downbeat;
      notes.push({
        at: ticks(at),
        length: beats(0.1),
        pitch: first ? BELL : CLICK,
        name: null,
        degree: null,
        velocity: velocity(first ? 100 : 80),
        part: 'click',
        why: first ? 'click on the first beat' : 'click on the beat',
      });
    }
  }
  return notes;
};
