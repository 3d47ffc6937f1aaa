import {
  chordName,
  prettyName,
  printChord,
  readChord,
  readHarmony,
  writeHarmony,
  type Chord,
  type Harmony,
} from '../../engine/index.ts';
import { element, leaf } from './xml.ts';

const ROOT = /^[A-G](?:bb|##|♭♭|♯♯|𝄫|𝄪|b|#|♭|♯)?/u;

/** A chord as the standard names it, and what is printed between its root and its bass. */
interface Named {
  readonly harmony: Harmony;
  /** Null where what was typed would read as another chord. */
  readonly suffix: string | null;
}

/** A chart has one chord object for all places of a symbol: each is worked out once. */
const known = new WeakMap<Chord, Named>();

function namedOf(chord: Chord): Named {
  const named = known.get(chord);
  if (named) return named;
  const harmony = writeHarmony(chord);
  const made = { harmony, suffix: suffixOf(chord, harmony) };
  known.set(chord, made);
  return made;
}

function suffixOf(chord: Chord, harmony: Harmony): string | null {
  const symbol = chordName(chord);
  const end = chord.bass === null ? symbol.length : symbol.lastIndexOf('/');
  const suffix = symbol.slice(ROOT.exec(symbol)?.[0].length ?? 0, end).trim();
  return symbolWith(harmony, suffix) === null ? null : suffix;
}

/** The symbol of a harmony with the suffix its file prints; null where it would read as another chord. */
function symbolWith(harmony: Harmony, suffix: string): string | null {
  const { root, bass } = harmony;
  const symbol = `${root}${suffix}${bass === null ? '' : `/${bass}`}`;
  const [asPrinted, meant] = [readChord(symbol), readHarmony(harmony)];
  return asPrinted.ok && meant.ok && sameChord(asPrinted.value, meant.value) ? symbol : null;
}

/** True where two chords ask for the same root, bass and degrees. */
export const sameChord = (a: Chord, b: Chord): boolean =>
  a.root === b.root && a.bass === b.bass && a.degrees.join() === b.degrees.join();

/**
 * The chord symbol of a harmony: as its file prints it where that says the same, else in our spelling.
 * @returns null where the harmony is no chord that can be named
 */
export function symbolOf(harmony: Harmony, printed: string | null): string | null {
  const own = printed === null ? null : symbolWith(harmony, printed);
  if (own !== null) return own;
  const read = readHarmony(harmony);
  return read.ok ? printChord(read.value) : null;
}

/** How a chord symbol is written. */
export interface HarmonyLook {
  /** In divisions from where the harmony stands. */
  readonly offset: number;
  readonly optional: boolean;
  /** Whether it is shown: a bar under a simile mark shows none. */
  readonly shown: boolean;
  /** Beside another one, as what may be played in its place. */
  readonly alternate: boolean;
}

/** A chord as a `harmony` element, its symbol shown as typed. An optional one stands in brackets. */
export function chordElement(chord: Chord, look: HarmonyLook): string {
  const { harmony, suffix } = namedOf(chord);
  const { root, kind, degrees, bass } = harmony;
  const open = look.optional ? '(' : '';
  const close = look.optional ? ')' : '';
  const closesBass = look.optional && bass !== null;
  const kindText = suffix === null && !look.optional ? null : `${suffix ?? ''}${closesBass ? '' : close}`;
  return harmonyElement(look, [
    element('root', {}, ...step('root', root, open === '' ? null : open + prettyName(root))),
    element('kind', { text: kindText }, kind),
    bass === null
      ? null
      : element('bass', {}, ...step('bass', bass, closesBass ? prettyName(bass) + close : null)),
    ...degrees.map(({ type, value, alter }) =>
      element(
        'degree',
        { 'print-object': suffix === null ? null : 'no' },
        leaf('degree-value', value),
        leaf('degree-alter', alter),
        leaf('degree-type', type),
      ),
    ),
  ]);
}

/** What stands in a chart where no chord is read: N.C., or letters that make none. */
export function wordElement(kind: 'none' | 'other', printed: string, look: HarmonyLook): string {
  return harmonyElement(look, [
    element('root', {}, element('root-step', { text: '' }, 'C')),
    element('kind', { text: printed }, kind),
  ]);
}

function harmonyElement(look: HarmonyLook, content: readonly (string | null)[]): string {
  return element(
    'harmony',
    { type: look.alternate ? 'alternate' : null, 'print-object': look.shown ? null : 'no' },
    ...content,
    look.offset === 0 ? null : leaf('offset', look.offset),
  );
}

function step(of: 'root' | 'bass', name: string, shown: string | null): (string | null)[] {
  const alter = name.split('#').length - name.split('b').length;
  return [
    element(`${of}-step`, { text: shown }, name.charAt(0)),
    alter === 0 ? null : leaf(`${of}-alter`, alter),
  ];
}
