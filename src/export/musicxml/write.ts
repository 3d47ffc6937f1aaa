import { metreName, PPQ, type Bar, type HomeKey } from '../../engine/index.ts';
import { fifthsOf } from '../key.ts';
import { beatsOf, direction, divisionOf, endSigns, headSigns, treatedIn, type Page } from './bars.ts';
import type { Sheet, SheetChoices } from '../../ui/ports.ts';
import { element, leaf, text, type Xml } from './xml.ts';

const HEAD =
  '<?xml version="1.0" encoding="UTF-8"?>\n' +
  '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">\n';

/** Says that a file is ours, and its chords stand exactly where the chart has them. */
export const SOFTWARE = 'Vampwright';

/** A MusicXML 4.0 document of one part. */
export function documentOf(title: string, part: string, measures: readonly string[]): string {
  return (
    HEAD +
    element(
      'score-partwise',
      { version: '4.0' },
      element('work', {}, leaf('work-title', title)),
      element('identification', {}, element('encoding', {}, leaf('software', SOFTWARE))),
      element('part-list', {}, element('score-part', { id: 'P1' }, leaf('part-name', part))),
      element('part', { id: 'P1' }, '\n', ...measures.map((measure) => `${measure}\n`)),
    ) +
    '\n'
  );
}

/**
 * A chart as a lead sheet in MusicXML 4.0: chord symbols as `harmony` with every degree and the bass,
 * slashes for the beats, repeats, endings, signs and words as they are written.
 * @returns the text of a `.musicxml` file; reading it back gives a chart of the same bars
 * @throws RangeError when the chart has no bars
 */
export function writeMusicXml({ chart, changes }: Sheet, choices: SheetChoices): string {
  if (chart.bars.length === 0) throw new RangeError('a sheet has at least one bar, this chart has none');
  const treated = changes === null || choices.treatments === 'leave-out' ? new Map() : treatedIn(changes);
  const division = divisionOf(chart, treated);
  const page: Page = { chart, division, treated, treatments: choices.treatments };
  return documentOf(
    choices.title || 'Untitled',
    'Lead sheet',
    chart.bars.map((bar) => measureOf(bar, page, choices)),
  );
}

function measureOf(bar: Bar, page: Page, choices: SheetChoices): string {
  const { bars } = page.chart;
  const { index } = bar;
  const first = index === 0;
  return element(
    'measure',
    { number: index + 1 },
    leftBarline(bar),
    attributesOf(bar, page, choices),
    first && choices.tempo !== null
      ? direction(
          [element('metronome', {}, leaf('beat-unit', 'quarter'), leaf('per-minute', choices.tempo))],
          { sound: element('sound', { tempo: choices.tempo }) },
        )
      : null,
    bar.mark === null ? null : direction([element('rehearsal', {}, text(bar.mark))]),
    headSigns(bar),
    bar.note === null ? null : direction([element('words', {}, text(bar.note))]),
    beatsOf(bar, page),
    endSigns(bar),
    rightBarline(bar, bars[index + 1]),
  );
}

function attributesOf(bar: Bar, { chart, division }: Page, { key }: SheetChoices): Xml {
  const first = bar.index === 0;
  const before = chart.bars[bar.index - 1];
  const newTime = !before || bar.newMetre || metreName(before.metre) !== metreName(bar.metre);
  const content = [
    first ? leaf('divisions', PPQ / division) : null,
    first ? keyElement(key) : null,
    newTime ? element('time', {}, leaf('beats', bar.metre.count), leaf('beat-type', bar.metre.unit)) : null,
    first ? element('clef', {}, leaf('sign', 'G'), leaf('line', 2)) : null,
    ...repeatStyles(bar, before),
    first ? element('measure-style', {}, element('slash', { type: 'start', 'use-stems': 'no' })) : null,
  ].filter((child) => child !== null);
  return content.length === 0 ? null : element('attributes', {}, ...content);
}

function keyElement(key: HomeKey | null): string {
  const fifths = key === null ? null : fifthsOf(key);
  return key === null || fifths === null
    ? element('key', {}, leaf('fifths', 0))
    : element('key', {}, leaf('fifths', fifths), leaf('mode', key.mode));
}

/** Where a run of simile marks ends and where one begins. */
function repeatStyles(bar: Bar, before: Bar | undefined): string[] {
  const style = (attributes: Record<string, string>, content: Xml = null) =>
    element('measure-style', {}, element('measure-repeat', attributes, content));
  const was = before?.simile ?? 0;
  return [
    ...(was > 0 && was !== bar.simile ? [style({ type: 'stop' })] : []),
    ...(bar.simile > 0 && was !== bar.simile ? [style({ type: 'start' }, String(bar.simile))] : []),
  ];
}

function leftBarline(bar: Bar): Xml {
  if (!bar.repeatStart && !bar.endingStart) return null;
  return element(
    'barline',
    { location: 'left' },
    bar.repeatStart ? leaf('bar-style', 'heavy-light') : null,
    bar.endingStart ? endingElement(bar.ending!, 'start') : null,
    bar.repeatStart ? element('repeat', { direction: 'forward' }) : null,
  );
}

/** The end of a bar. The last line of all is the thin and the thick one, unless the chart has a double line there. */
function rightBarline(bar: Bar, next: Bar | undefined): Xml {
  const repeats = bar.repeatEnd > 0;
  const endingEnds = bar.ending !== null && (!next || next.endingStart || next.ending === null);
  if (!repeats && !endingEnds && !bar.doubleEnd && next) return null;
  const style = repeats ? 'light-heavy' : bar.doubleEnd ? 'light-light' : next ? null : 'light-heavy';
  const times = repeats && bar.ending === null && bar.repeatEnd !== 2 ? bar.repeatEnd : null;
  return element(
    'barline',
    { location: 'right' },
    style === null ? null : leaf('bar-style', style),
    endingEnds ? endingElement(bar.ending, repeats ? 'stop' : 'discontinue') : null,
    repeats ? element('repeat', { direction: 'backward', times }) : null,
  );
}

function endingElement(passes: readonly number[], type: 'start' | 'stop' | 'discontinue'): string {
  const label = type === 'start' ? text(`${passes.join(', ')}.`) : null;
  return element('ending', { number: passes.join(', '), type }, label);
}
