import { readChart, type Sign } from '../../engine/index.ts';
import { child, textOf, type Node } from './tree.ts';

/** What is written over a bar. */
export interface FoundSigns {
  readonly mark: string | null;
  readonly words: readonly string[];
  readonly signs: readonly Sign[];
  /** Quarter notes a minute. */
  readonly tempo: number | null;
  readonly missed: readonly string[];
}

/** Reads rehearsal marks, words, signs, jumps and the tempo of a measure. */
export function signsIn(measure: Node): FoundSigns {
  const marks: string[] = [];
  const words: string[] = [];
  const signs = new Set<Sign>();
  const missed: string[] = [];
  let tempo: number | null = null;
  for (const node of measure.children) {
    if (node.name === 'sound') {
      for (const sign of soundSigns(node)) signs.add(sign);
      tempo ??= tempoIn(node, []);
    }
    if (node.name === 'barline') {
      for (const sign of ['segno', 'coda'] as const) if (child(node, sign)) signs.add(sign);
    }
    if (node.name !== 'direction') continue;
    const types = node.children
      .filter(({ name }) => name === 'direction-type')
      .flatMap((type) => type.children);
    const sound = child(node, 'sound');
    tempo ??= tempoIn(sound, types);
    for (const { name, text } of types) if (name === 'rehearsal' && text !== '') marks.push(text);
    const written = types.filter(({ name }) => name === 'words').map(({ text }) => text);
    const phrase = written.filter(Boolean).join(' ').replace(/\s+/g, ' ').trim();
    const drawn = types.map(({ name }) => name).filter((name) => name === 'segno' || name === 'coda');
    const found = jumpsOf(phrase, drawn, sound);
    for (const sign of found) signs.add(sign);
    if (found.length === 0 && phrase !== '') {
      if (node.attributes['placement'] === 'below')
        missed.push(`the words “${phrase.slice(0, 40)}” below the staff were left out`);
      else words.push(phrase);
    }
  }
  const mark = marks
    .map((text) => text.replace(/[[\]|\s]+/g, ' ').trim())
    .filter(Boolean)
    .join(' ');
  return {
    mark: mark === '' ? null : mark,
    words: words.map((text) => text.replace(/["“”„]/g, '').slice(0, 200)).filter((text) => text !== ''),
    signs: [...signs],
    tempo,
    missed,
  };
}

/** The jumps of one direction: by its words, else by its signs, else by what it does to the sound. */
function jumpsOf(phrase: string, drawn: readonly string[], sound: Node | undefined): readonly Sign[] {
  const worded =
    phrase === '' ? null : (signOf(`${phrase}${drawn.includes('coda') ? ' Coda' : ''}`) ?? signOf(phrase));
  if (worded) return [worded];
  const done = soundSigns(sound);
  const sent = done.filter((sign) => sign !== 'segno' && sign !== 'coda');
  if (sent.length > 0) return sent;
  return [...drawn.map((sign) => sign as Sign), ...done];
}

/** The sign that words stand for, as a chart types it; null for any other words. */
function signOf(words: string): Sign | null {
  if (words.length > 30 || !/^[\p{L}. ]+$/u.test(words)) return null;
  const [bar, ...more] = readChart(`| C ${words} |`).bars;
  const [sign, second] = bar?.signs ?? [];
  const alone = more.length === 0 && second === undefined && bar?.slots.length === 1;
  return alone && sign !== undefined ? sign : null;
}

function soundSigns(sound: Node | undefined): Sign[] {
  const does = (name: string) => {
    const value = sound?.attributes[name];
    return value !== undefined && value !== 'no';
  };
  const found: (Sign | false)[] = [
    does('tocoda') && 'to-coda',
    does('fine') && 'fine',
    does('dacapo') && 'dc',
    does('dalsegno') && 'ds',
    does('segno') && 'segno',
    does('coda') && 'coda',
  ];
  return found.filter((sign) => sign !== false);
}

const UNITS: Readonly<Record<string, number>> = { whole: 4, half: 2, quarter: 1, eighth: 0.5, '16th': 0.25 };

function tempoIn(sound: Node | undefined, types: readonly Node[]): number | null {
  const played = Number(sound?.attributes['tempo'] ?? NaN);
  if (played > 0 && Number.isFinite(played)) return played;
  const metronome = types.find(({ name }) => name === 'metronome');
  const unit = UNITS[textOf(metronome, 'beat-unit') ?? ''];
  const shown = Number.parseFloat(textOf(metronome, 'per-minute') ?? '');
  if (unit === undefined || !(shown > 0)) return null;
  return shown * unit * (child(metronome, 'beat-unit-dot') ? 1.5 : 1);
}
