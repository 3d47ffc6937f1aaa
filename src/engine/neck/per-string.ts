import { formOf, type Ground } from './lay.ts';
import type { ScaleForm } from './types.ts';

/** How many notes of a scale lie on each string. */
const PER_STRING = 3;

/**
 * Three notes on each string, from every note of the scale on the lowest string. The hand moves along.
 * Numbered from the form that begins on the root.
 * @param root pitch class of the root
 */
export function threePerString(ground: Ground, root: number): readonly ScaleForm[] {
  const { neck, open, tones } = ground;
  const degrees = tones.filter((tone) => tone !== undefined).map(({ pc }) => pc);
  const fromRoot = degrees.map((pc) => (pc - root + 12) % 12).sort((a, b) => a - b);
  const forms: ScaleForm[] = [];
  for (let start = neck.capo; start <= neck.lastFret; start++) {
    const first = (open[0]! + start) % 12;
    if (tones[first] === undefined) continue;
    let pitch = open[0]! + start;
    const frets = open.map((key) => {
      const own: number[] = [];
      while (own.length < PER_STRING) {
        if (tones[pitch % 12]) own.push(pitch - key);
        pitch++;
      }
      return own;
    });
    if (frets.flat().some((fret) => fret < neck.capo || fret > neck.lastFret)) continue;
    const number = fromRoot.indexOf((first - root + 12) % 12) + 1;
    forms.push(formOf(ground, { number }, frets, 'moves'));
  }
  return forms;
}

/** The scale along one string, from the capo to the last fret. */
export function alongOneString(ground: Ground): readonly ScaleForm[] {
  const { neck, open, tones } = ground;
  const frets: number[] = [];
  for (let fret = neck.capo; fret <= neck.lastFret; fret++)
    if (tones[(open[0]! + fret) % 12]) frets.push(fret);
  const label = `String ${ground.strings[0]!}`;
  return frets.length === 0 ? [] : [formOf(ground, { number: 1, label }, [frets], 'moves')];
}
