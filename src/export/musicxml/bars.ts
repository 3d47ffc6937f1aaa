import {
  beatLength,
  PPQ,
  TREATMENTS,
  type Bar,
  type Changes,
  type Chart,
  type Sign,
  type Slot,
  type Span,
  type TreatmentKind,
} from '../../engine/index.ts';
import type { SheetChoices } from '../../ui/ports.ts';
import { chordElement, wordElement } from './symbol.ts';
import { valueOf } from './values.ts';
import { element, leaf, text, type Xml } from './xml.ts';

/** What a writer of bars knows of the whole sheet. */
export interface Page {
  readonly chart: Chart;
  /** Ticks in one division. */
  readonly division: number;
  /** Treated spans by the written bar they begin in, each with its place in that bar. */
  readonly treated: ReadonlyMap<number, readonly Treated[]>;
  readonly treatments: SheetChoices['treatments'];
}

/** A treated stretch, from the start of its bar. */
interface Treated {
  readonly at: number;
  readonly span: Span;
}

/** Where treatments begin, at the first pass of each written bar that has one. */
export function treatedIn(changes: Changes): Map<number, Treated[]> {
  const found = new Map<number, Treated[]>();
  for (const [index, bar] of changes.bars.entries()) {
    if (found.has(bar.written)) continue;
    const inside = changes.spans
      .filter((span) => span.bar === index && span.treatment !== null && span.chord !== null)
      .map((span) => ({ span, at: span.start - bar.start + bar.skipped }));
    if (inside.length > 0) found.set(bar.written, inside);
  }
  return found;
}

/** All that sounds in a bar: a slash for each felt beat, with the chords where they begin. */
export function beatsOf(bar: Bar, page: Page): string {
  const unit = beatLength(bar.metre);
  const value = valueOf(unit)!;
  const slash = element(
    'note',
    {},
    element('unpitched', {}, leaf('display-step', 'B'), leaf('display-octave', 4)),
    leaf('duration', unit / page.division),
    leaf('voice', 1),
    leaf('type', value.type),
    value.dots === 1 ? '<dot/>' : null,
    leaf('stem', 'none'),
    leaf('notehead', 'slash'),
  );
  const pieces: string[] = [];
  for (let beat = 0; beat < bar.length; beat += unit) {
    for (const slot of bar.slots) {
      if (slot.at >= beat && slot.at < beat + unit)
        pieces.push(slotElement(slot, slot.at - beat, bar, page) ?? '');
    }
    for (const { at, span } of page.treated.get(bar.index) ?? []) {
      if (at >= beat && at < beat + unit) pieces.push(treatmentElement(span, at - beat, page));
    }
    pieces.push(slash);
  }
  return pieces.join('');
}

function slotElement(slot: Slot, later: number, bar: Bar, { chart, division }: Page): Xml {
  const held = bar.simile === 0 && (slot.from < bar.from || slot.from >= bar.to);
  if (held) return null;
  const { optional } = slot;
  const look = { offset: later / division, optional, shown: bar.simile === 0, alternate: false };
  if (slot.chord !== null) return chordElement(slot.chord, look);
  if (slot.silence === 'no-chord') return wordElement('none', optional ? '(N.C.)' : 'N.C.', look);
  return wordElement('other', chart.text.slice(slot.from, slot.to), look);
}

function treatmentElement(span: Span, later: number, { treatments, division }: Page): string {
  const offset = later / division;
  if (treatments === 'symbols') {
    return chordElement(span.chord!, { offset, optional: false, shown: true, alternate: true });
  }
  const { label } = TREATMENTS[span.treatment!.kind as TreatmentKind];
  return direction([element('words', {}, text(label.toLowerCase()))], { offset, placement: 'below' });
}

/** Something written above or below the staff. */
export function direction(
  types: readonly string[],
  {
    offset = 0,
    placement = 'above',
    sound = null,
  }: { offset?: number; placement?: string; sound?: Xml } = {},
): string {
  return element(
    'direction',
    { placement },
    ...types.map((type) => element('direction-type', {}, type)),
    offset === 0 ? null : leaf('offset', offset),
    sound,
  );
}

/** Words and sound of each sign that is written in words. */
export const JUMPS: Readonly<Partial<Record<Sign, readonly [string, Readonly<Record<string, string>>]>>> = {
  'to-coda': ['To Coda', { tocoda: 'coda' }],
  fine: ['Fine', { fine: 'yes' }],
  dc: ['D.C.', { dacapo: 'yes' }],
  ds: ['D.S.', { dalsegno: 'segno' }],
  'dc-al-fine': ['D.C. al Fine', { dacapo: 'yes' }],
  'dc-al-coda': ['D.C. al Coda', { dacapo: 'yes' }],
  'ds-al-fine': ['D.S. al Fine', { dalsegno: 'segno' }],
  'ds-al-coda': ['D.S. al Coda', { dalsegno: 'segno' }],
};

/** The signs that stand over the head of a bar: where players are sent to. */
export function headSigns(bar: Bar): string {
  return bar.signs
    .filter((sign) => sign === 'segno' || sign === 'coda')
    .map((sign) => direction([`<${sign}/>`], { sound: element('sound', { [sign]: sign }) }))
    .join('');
}

/** The signs at the end of a bar: where players are sent from. */
export function endSigns(bar: Bar): string {
  return bar.signs
    .map((sign) => JUMPS[sign])
    .filter((jump) => jump !== undefined)
    .map(([words, sound]) => direction([leaf('words', words)], { sound: element('sound', sound) }))
    .join('');
}

/** The finest division of a quarter in which every beat and chord of a chart begins. */
export function divisionOf(chart: Chart, treated: Page['treated']): number {
  let division: number = PPQ;
  const join = (length: number) => {
    for (let rest = length; rest > 0;) [division, rest] = [rest, division % rest];
  };
  for (const bar of chart.bars) {
    join(beatLength(bar.metre));
    for (const { at } of bar.slots) join(at);
    for (const { at } of treated.get(bar.index) ?? []) join(at);
  }
  return division;
}
