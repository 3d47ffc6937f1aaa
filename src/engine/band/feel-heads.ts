// Written by src/tools/feels.mjs from what lies in presets/feels; not by hand.

/** The heads of all feels in `presets/feels`, as they stand in their files. */
export const FEEL_HEADS: readonly unknown[] = [
  { id: 'ballad-in-two', name: 'Ballad in two', order: 40, swing: 2 },
  { id: 'ballad', name: 'Ballad', order: 30, swing: 2 },
  { id: 'bossa', name: 'Bossa nova', order: 50, swing: 'straight' },
  { id: 'five-four', name: '5/4', order: 100, swing: 'tempo' },
  { id: 'five-in-two', name: '5/4 in two', order: 110, swing: 'tempo' },
  { id: 'jazz-waltz', name: 'Jazz waltz', order: 80, swing: 'tempo' },
  { id: 'shuffle-in-two', name: 'Two-beat shuffle', order: 130, swing: 2 },
  { id: 'shuffle', name: 'Shuffle blues', order: 120, swing: 2 },
  { id: 'straight-eighths-in-two', name: 'Straight eighths in two', order: 70, swing: 'straight' },
  { id: 'straight-eighths', name: 'Straight eighths', order: 60, swing: 'straight' },
  { id: 'straight-sixteenths', name: 'Straight sixteenths', order: 140, swing: 'straight' },
  { id: 'swing', name: 'Swing', order: 10, swing: 'tempo' },
  { id: 'two-feel', name: 'Two-feel', order: 20, swing: 'tempo' },
  { id: 'waltz-in-one', name: 'Waltz in one', order: 90, swing: 'tempo' },
];
