import { Note } from 'tonal';
import { scaleById, type ScaleChoice } from '../../src/engine/scales/index.ts';
import type { NeckSetting, ScaleForm } from '../../src/engine/neck/index.ts';

/** A scale of the table; one that is not there is the test's own mistake. */
export function scale(id: string, root: string): ScaleChoice {
  const found = scaleById(id, root);
  if (found === null) throw new RangeError(`no scale ${id}`);
  return found;
}

export const GUITAR_STRINGS = ['E2', 'A2', 'D3', 'G3', 'B3', 'E4'].map((name) => Note.midi(name)!);

/** Every place of a scale on a neck as "string:fret", told by trying every fret of every string. */
export function everyPlace({ notes }: ScaleChoice, neck: NeckSetting): Set<string> {
  const wanted = notes.map(({ name }) => Note.chroma(name));
  const places = new Set<string>();
  neck.tuning.forEach((open, i) => {
    for (let fret = neck.capo; fret <= neck.lastFret; fret++)
      if (wanted.includes((open + fret) % 12)) places.add(`${neck.tuning.length - i}:${fret}`);
  });
  return places;
}

export const placesOf = ({ notes }: ScaleForm): string[] =>
  notes.map(({ string, fret }) => `${string}:${fret}`);

/** Every pitch of a scale from the lowest to the highest of some pitches, told by trying every key. */
export function everyPitch({ notes }: ScaleChoice, pitches: readonly number[]): number[] {
  const wanted = notes.map(({ name }) => Note.chroma(name));
  const all: number[] = [];
  for (let key = Math.min(...pitches); key <= Math.max(...pitches); key++)
    if (wanted.includes(key % 12)) all.push(key);
  return all;
}

/** How many frets a form covers, the first and the last included. */
export const width = ({ notes }: ScaleForm): number => {
  const frets = notes.map(({ fret }) => fret);
  return Math.max(...frets) - Math.min(...frets) + 1;
};
