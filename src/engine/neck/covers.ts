import { coverNeck, type Cover } from './cover.ts';
import type { Ground } from './lay.ts';

/** Scales of the same shape share their forms, however they are named: so many are remembered. */
const KEPT = 400;
const known = new Map<string, Cover>();

/** A cover, and by how many frets up its neck the scale lies. */
export interface Found {
  readonly cover: Cover;
  readonly offset: number;
}

/** The cover for the scale and the strings of a ground. */
export function coverOf({ open, tones }: Ground): Found {
  const lowest = open[0]!;
  const steps = open.map((key) => key - lowest);
  let scale = 0;
  for (let semitone = 0; semitone < 12; semitone++)
    if (tones[(semitone + lowest) % 12] !== undefined) scale |= 1 << semitone;
  const turned = Array.from({ length: 12 }, (_, by) => turn(scale, by));
  const shape = Math.min(...turned);
  const key = `${steps.join(' ')} ${shape}`;
  let cover = known.get(key);
  if (cover === undefined) {
    cover = coverNeck(steps, (semitone) => ((shape >> (((semitone % 12) + 12) % 12)) & 1) === 1);
    if (known.size >= KEPT) known.clear();
    known.set(key, cover);
  }
  return { cover, offset: turned.indexOf(shape) };
}

/** A scale as twelve bits, begun so many semitones higher. */
const turn = (scale: number, by: number): number => ((scale >> by) | (scale << (12 - by))) & 0xfff;

/**
 * Forms are numbered up the neck from the one that begins nearest below its own root: our choice, because
 * so form 1 is the one a player finds first from the root on the lowest string.
 * @param lowest the lowest open string
 * @param root pitch class of the root
 * @returns for each form of the cover its number
 */
export function numbersOf({ cover: { forms }, offset }: Found, lowest: number, root: number): number[] {
  const below = forms.map(({ frets }) => {
    const isRoot = (fret: number): boolean => (fret + offset + lowest - root) % 12 === 0;
    const at = frets[0]!.findIndex(isRoot);
    return at < 0 ? frets.flat().length : at;
  });
  const first = below.indexOf(Math.min(...below));
  return forms.map((_, form) => 1 + ((form - first + forms.length) % forms.length));
}
