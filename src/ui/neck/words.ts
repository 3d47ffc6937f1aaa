import { nameOfKey, prettyName, type NeckSetting, type ScaleForm } from '../../engine/index.ts';
import type { Mark } from './layers.ts';

const ORDINALS = ['', 'st', 'nd', 'rd'];

/** "5th", "12th", "21st". */
export function ordinal(count: number): string {
  const teen = count % 100 > 10 && count % 100 < 14;
  return `${count}${(teen ? undefined : ORDINALS[count % 10]) || 'th'}`;
}

const FINGERS: readonly string[] = ['', 'index finger', 'middle finger', 'ring finger', 'little finger'];

/** "ring finger"; empty for an open string and where nothing is said. */
export const fingerInWords = (finger: number | null): string => FINGERS[finger ?? 0] ?? '';

/** "Form 2, 5th position". */
export const formInWords = ({ label, position }: ScaleForm): string =>
  label.startsWith('String') ? label : `${label}, ${ordinal(position)} position`;

const ROLES = {
  root: 'root',
  guide: 'guide tone',
  fifth: 'fifth',
  tension: 'tension',
  scale: '',
  avoid: 'to pass',
} as const;

/** "fret 3, G, root, ring finger", an open string by that name. */
export function markInWords(mark: Mark, open: number, nameOf: (mark: Mark) => string): string {
  const { note, finger, gripped } = mark;
  return [
    note.fret === open ? 'open' : `fret ${note.fret}`,
    nameOf(mark),
    ROLES[note.role],
    fingerInWords(finger),
    gripped ? 'in the grip' : '',
  ]
    .filter(Boolean)
    .join(', ');
}

/** A string by its number and its open note: "String 6, E". */
export function stringInWords({ tuning, capo }: NeckSetting, string: number): string {
  const open = nameOfKey(tuning[tuning.length - string]! + capo).replace(/-?\d+$/, '');
  return `String ${string}, ${prettyName(open)}`;
}

/** All that the neck shows, string by string from the lowest: "String 6, E: fret 3 G, fret 5 A. String 5 …". */
export function neckInWords(
  marks: readonly Mark[],
  neck: NeckSetting,
  nameOf: (mark: Mark) => string,
): string {
  return neck.tuning
    .map((_, i) => {
      const string = neck.tuning.length - i;
      const notes = marks
        .filter(({ note, full }) => full && note.string === string)
        .map((mark) => `${mark.note.fret === neck.capo ? 'open' : `fret ${mark.note.fret}`} ${nameOf(mark)}`);
      return `${stringInWords(neck, string)}: ${notes.join(', ') || 'nothing'}.`;
    })
    .join(' ');
}
