import {
  bpm,
  fail,
  newProject,
  ok,
  TEMPO_RANGE,
  type Notice,
  type Opened,
  type Result,
  type Trouble,
} from '../../engine/index.ts';
import { chartText } from './chart-text.ts';
import { readPart, type SheetBar } from './part.ts';
import { child, readTree, textOf, type Node } from './tree.ts';
import { SOFTWARE } from './write.ts';

/** More notices than this are counted, not listed. */
const MOST_NOTICES = 100;

/**
 * Reads the chords of a MusicXML document into a chart: symbols, metres, repeats, endings, marks, signs,
 * words, key and tempo, of the part that has most symbols. Melody and sound are passed over.
 * @returns the chart, with a notice for whatever was not understood, by its bar; or why there is none
 */
export function readMusicXml(document: string): Result<Opened, Trouble> {
  const { root, broken } = readTree(document);
  if (root === null || (root.name !== 'score-partwise' && root.name !== 'score-timewise')) {
    return fail({
      message:
        broken === null || root !== null
          ? 'This file is not MusicXML.'
          : 'This file is damaged, or not MusicXML.',
      remedy: 'Save the music as MusicXML from the program it was written with.',
    });
  }
  const parts = partsOf(root);
  const counts = parts.map(({ measures }) => count(measures));
  const most = Math.max(0, ...counts);
  const chosen = parts[counts.indexOf(most)];
  if (chosen === undefined || most === 0) {
    return fail({
      message:
        broken === null ? 'There are no chord symbols in this file.' : `This file is damaged: ${broken}.`,
      remedy:
        broken === null
          ? 'Chords are read from chord symbols, not from notes: add them where the music was written.'
          : 'Save it as MusicXML once more.',
    });
  }
  const part = readPart(chosen.measures);
  const exact = textOf(child(child(root, 'identification'), 'encoding'), 'software') === SOFTWARE;
  const bars = withoutSilentPickup(part.bars);
  const { text, changes } = chartText(bars, exact);
  const notices: Notice[] = [
    ...(counts.filter((symbols) => symbols > 0).length > 1
      ? [{ place: 'parts', message: `chords were read from ${chosen.name}, which has most` }]
      : []),
    ...(part.transposes
      ? [
          {
            place: chosen.name,
            message: 'it is written for an instrument that transposes; the chords stand as written',
          },
        ]
      : []),
    ...(bars.length < part.bars.length
      ? [{ place: 'pickup', message: 'it has no chord and was left out' }]
      : []),
    ...[
      ...part.bars.flatMap(({ name, missed }) => missed.map((message) => ({ bar: name, message }))),
      ...changes,
    ].map(({ bar, message }) => ({ place: `bar ${bar}`, message })),
    ...(broken === null
      ? []
      : [{ place: `after bar ${bars.at(-1)?.name ?? 0}`, message: `the file is damaged here: ${broken}` }]),
  ];
  const { tempo, asked } = tempoOf(part.tempo);
  if (asked !== null)
    notices.push({ place: 'tempo', message: `${asked} is out of the band’s reach; it is ${tempo}` });
  const start = newProject();
  const project = newProject({
    title: titleOf(root),
    text,
    key: part.key,
    settings: { ...start.settings, tempo: tempo ?? start.settings.tempo },
  });
  return ok({ project, notices: listed(notices) });
}

interface Part {
  readonly name: string;
  readonly measures: readonly Node[];
}

/** The parts of a score, whichever way round it is written. */
function partsOf(root: Node): Part[] {
  const names = new Map(
    (child(root, 'part-list')?.children ?? []).map((part) => [
      part.attributes['id'] ?? '',
      textOf(part, 'part-name'),
    ]),
  );
  const measures = new Map<string, Node[]>();
  const add = (id: string, measure: Node) => {
    const known = measures.get(id);
    if (known) known.push(measure);
    else measures.set(id, [measure]);
  };
  for (const outer of root.children) {
    if (root.name === 'score-partwise' && outer.name === 'part') {
      const id = outer.attributes['id'] ?? '';
      for (const measure of outer.children) if (measure.name === 'measure') add(id, measure);
    } else if (root.name === 'score-timewise' && outer.name === 'measure') {
      for (const part of outer.children) {
        if (part.name === 'part') add(part.attributes['id'] ?? '', { ...outer, children: part.children });
      }
    }
  }
  return [...measures].map(([id, bars], index) => ({
    name: (names.get(id) || `part ${index + 1}`).slice(0, 40),
    measures: bars,
  }));
}

const count = (measures: readonly Node[]): number =>
  measures.reduce((sum, { children }) => sum + children.filter(({ name }) => name === 'harmony').length, 0);

/** A pickup before the first bar in which no chord begins is no bar of the chart. */
function withoutSilentPickup(bars: readonly SheetBar[]): readonly SheetBar[] {
  const [first, ...rest] = bars;
  const silent = first?.uncounted && first.symbols.length === 0 && first.length < lengthOf(rest[0]);
  return silent && !first.repeatStart ? rest : bars;
}
const lengthOf = (bar: SheetBar | undefined): number => bar?.length ?? 0;

/** A tempo the band can play; `asked` is the one asked for where it is another. */
function tempoOf(wanted: number | null) {
  if (wanted === null) return { tempo: null, asked: null };
  const tempo = bpm(Math.min(TEMPO_RANGE.max, Math.max(TEMPO_RANGE.min, Math.round(wanted))));
  return { tempo, asked: Math.abs(tempo - wanted) < 1 ? null : Math.round(wanted) };
}

function titleOf(root: Node): string {
  const title = textOf(child(root, 'work'), 'work-title') || textOf(root, 'movement-title') || '';
  return title.replace(/\s+/g, ' ').slice(0, 200);
}

function listed(notices: readonly Notice[]): readonly Notice[] {
  const more = notices.length - MOST_NOTICES;
  if (more <= 0) return notices;
  return [
    ...notices.slice(0, MOST_NOTICES),
    { place: 'further on', message: `${more} more places like these` },
  ];
}
