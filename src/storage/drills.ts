import type * as v from 'valibot';
import {
  DRILL_KINDS,
  midi,
  PPQ,
  ticks,
  usualDrill,
  type DrillSettings,
  type KeptDrill,
  type PrintedForm,
} from '../engine/index.ts';
import { beatsText, readBeats } from './beats.ts';
import { readItems } from './fields.ts';
import type { Notices } from './notices.ts';
import { Drill, Form } from './schema.ts';

type File = v.InferOutput<typeof Drill>;

/** The name of drill `index` where the file gives none. */
const usualId = (index: number) => `d${index + 1}`;

/** A kept drill as the chart file holds it; what is as first set is left out. */
export function drillToFile({ id, place, settings, printed }: KeptDrill, index: number): File {
  const { kind, rhythm, direction, accents, startBeat, hand, range, cell, line, seed } = settings;
  const usual = usualDrill(kind, place === null ? 'changes' : 'chord');
  return {
    kind,
    ...(place && { bar: place.bar + 1, beat: beatsText(ticks(place.at + PPQ)) }),
    ...(rhythm !== usual.rhythm && { rhythm }),
    ...(direction !== usual.direction && { direction }),
    ...(accents !== usual.accents && { accents }),
    ...(startBeat !== usual.startBeat && { start: startBeat }),
    ...(hand.type === 'form' && { form: hand.number }),
    ...(hand.type === 'position' && { position: hand.fret }),
    ...(range && { low: range.low, high: range.high }),
    ...(cell !== usual.cell && { cell }),
    ...(line !== usual.line && { line }),
    ...(seed !== usual.seed && { seed }),
    ...(!printed && { printed }),
    ...(id !== usualId(index) && { id }),
  };
}

export const formToFile = ({ bar, at, form }: PrintedForm) => ({
  bar: bar + 1,
  beat: beatsText(ticks(at + PPQ)),
  form,
});

export function readDrills(raw: unknown, notices: Notices): readonly KeptDrill[] {
  const ids = new Set<string>();
  return readItems(raw, Drill, 'drills', notices, (item, index, where): KeptDrill | null => {
    const place = placeOf(item, where, notices);
    if (place === undefined) return null;
    const over = place === null ? 'changes' : 'chord';
    if (!DRILL_KINDS[item.kind].over.includes(over)) {
      notices.refuse(
        `${where}, kind`,
        item.kind,
        `a drill that is made over ${over === 'chord' ? 'a chord' : 'changes'}`,
      );
      return null;
    }
    let id = item.id ?? usualId(index);
    for (let copy = 2; ids.has(id); copy++) id = `${item.id ?? usualId(index)}-${copy}`;
    ids.add(id);
    return { id, place, settings: settingsOf(item, over), printed: item.printed ?? true };
  });
}

function settingsOf(item: File, over: 'chord' | 'changes'): DrillSettings {
  const usual = usualDrill(item.kind, over);
  const { low, high, form, position } = item;
  return {
    kind: item.kind,
    rhythm: item.rhythm ?? usual.rhythm,
    direction: item.direction ?? usual.direction,
    accents: item.accents ?? usual.accents,
    startBeat: item.start ?? usual.startBeat,
    hand:
      form !== undefined
        ? { type: 'form', number: form }
        : position !== undefined
          ? { type: 'position', fret: position }
          : { type: 'free' },
    range:
      low !== undefined && high !== undefined && low <= high ? { low: midi(low), high: midi(high) } : null,
    cell: item.cell ?? usual.cell,
    line: item.line ?? usual.line,
    seed: item.seed ?? usual.seed,
  };
}

/** The written place of a chord; null where none is named, undefined where it cannot be one. */
function placeOf(
  { bar, beat }: Pick<File, 'bar' | 'beat'>,
  where: string,
  notices: Notices,
): KeptDrill['place'] | undefined {
  if (bar === undefined) return null;
  const at = beat === undefined ? ticks(PPQ) : readBeats(beat);
  if (at !== null && at >= PPQ) return { bar: bar - 1, at: ticks(at - PPQ) };
  notices.refuse(`${where}, beat`, beat, 'a beat, counted from 1');
  return undefined;
}

export function readForms(raw: unknown, notices: Notices): readonly PrintedForm[] {
  return readItems(raw, Form, 'forms', notices, (item, _, where): PrintedForm | null => {
    const place = placeOf(item, where, notices);
    return place == null ? null : { ...place, form: item.form };
  });
}
