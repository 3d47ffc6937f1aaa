import { beats, ticks, velocity, type Midi, type NoteEvent } from '../../engine/index.ts';

/** Times of a single note, seconds: how soon it sounds, and for how long. Our choice: at once, and long enough to hear. */
export const SINGLE = Object.freeze({ lead: 0.01, length: 1.2 });

/** A note that is sounded by itself. */
export const singleNote = (pitch: Midi): NoteEvent => ({
  at: ticks(0),
  length: beats(1),
  pitch,
  name: null,
  degree: null,
  velocity: velocity(84),
  part: 'lead',
  why: 'touched',
});
