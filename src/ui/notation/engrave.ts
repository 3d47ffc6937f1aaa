import { Formatter, MetricsDefaults, Stave, VexFlow } from 'vexflow/core';
import { prettyDegree, ticks, type Chord, type SheetBar, type Ticks } from '../../engine/index.ts';
import { STAFF_FACE } from './faces.ts';
import { lighten, Pen } from './light.ts';
import { layout, type Clef, type LaidSystem } from './layout.ts';
import { beamsOf, middleOf, staveNote, tiesOf, tupletsOf, voiceOf, type Drawn } from './signs.ts';
import { STRING_GAP, tabulature, type TabFret } from './tab.ts';
import { chordText, DEGREES, textsAlike } from './text.ts';

/**
 * Draws sheets with VexFlow, a figure for each system. To be loaded when the first one is wanted, after the
 * face of the staff, since signs are measured as they are drawn.
 */

/** How a sheet is to be drawn. */
export interface Look {
  /** The room a system has, px. */
  readonly width: number;
  /** Size of everything, 1 being a staff 40 px high. */
  readonly scale: number;
  readonly clef: Clef;
  /** Strings of the tablature; 0 draws none. */
  readonly strings: number;
  readonly degrees: boolean;
  /** A chord symbol as it is to be shown. */
  readonly symbol: (chord: Chord) => string;
}

/** A note where it is drawn, px from the top left of its system. */
export interface DrawnNote {
  /** Index into the drill's notes. */
  readonly index: number;
  readonly x: number;
  readonly y: number;
}

/** One line of music, drawn. */
export interface DrawnSystem {
  readonly svg: SVGSVGElement;
  readonly width: number;
  readonly height: number;
  readonly from: Ticks;
  readonly to: Ticks;
  readonly notes: readonly DrawnNote[];
  /** Where ticks lie: signs and bar lines in order, px. */
  readonly places: readonly { readonly at: number; readonly x: number }[];
}

VexFlow.setFonts(STAFF_FACE);
Object.assign(MetricsDefaults.Stave, { strokeStyle: 'currentColor' });
Object.assign(MetricsDefaults.Stem, { strokeStyle: 'currentColor' });
lighten();

/** A sheet broken into lines, each to be drawn when it is wanted. */
export interface Engraving {
  readonly systems: readonly { readonly height: number; readonly from: Ticks }[];
  /** @throws RangeError where there is no such line */
  draw(system: number): DrawnSystem;
}

/** Breaks a sheet into lines, without drawing any. */
export function engraving(bars: readonly SheetBar[], look: Look): Engraving {
  const systems = layout(bars, look.width / look.scale, look.clef);
  return {
    systems: systems.map((system) => ({
      height: rowsOf(system, look).height * look.scale,
      from: system.bars[0]!.bar.start,
    })),
    draw(index) {
      const system = systems[index];
      if (system === undefined) throw new RangeError(`no line ${index} of ${systems.length}`);
      return draw(system, look);
    },
  };
}

/** Draws a sheet line by line. */
export function engrave(bars: readonly SheetBar[], look: Look): readonly DrawnSystem[] {
  return layout(bars, look.width / look.scale, look.clef).map((system) => draw(system, look));
}

/** Lengths in units of the drawing. */
const LEFT = 1;
const CHORDS = 26;
const STAFF = 40;

/** What stands where in a line, from its top. */
function rowsOf(system: LaidSystem, { strings, degrees }: Look) {
  const staffTop = CHORDS + system.above;
  const tabTop = staffTop + STAFF + system.below;
  const bottom = strings > 0 ? tabTop + (strings - 1) * STRING_GAP : tabTop - 16;
  return { staffTop, tabTop, bottom, height: bottom + (degrees ? 24 : 10) };
}

function draw(system: LaidSystem, look: Look): DrawnSystem {
  const { scale, strings } = look;
  const { staffTop, tabTop, bottom, height } = rowsOf(system, look);
  const context = new Pen(document.createElement('div'));
  context.resize(look.width, height * scale);
  context.scale(scale, scale);
  context.setFillStyle('currentColor').setStrokeStyle('currentColor');
  const { svg } = context;
  svg.remove();

  const places: { at: number; x: number }[] = [];
  const heads: Drawn[] = [];
  const edges = [LEFT];
  let x = LEFT;
  for (const [i, { bar, width }] of system.bars.entries()) {
    const stave = new Stave(x, staffTop, width, { spaceAboveStaffLn: 0 });
    if (i === 0) stave.addClef(look.clef);
    if (bar.newMetre) stave.addTimeSignature(`${bar.metre.count}/${bar.metre.unit}`);
    stave.setContext(context).draw();
    const begin = stave.getNoteStartX();
    const signs = bar.signs.map((sign) => ({ sign, note: staveNote(sign, look.clef) }));
    const extras = [...beamsOf(signs), ...tupletsOf(signs)];
    const voice = voiceOf(signs, stave);
    new Formatter().joinVoices([voice]).format([voice], x + width - begin - 14);
    voice.setContext(context).draw(context);
    for (const extra of extras) extra.setContext(context).draw();
    x += width;
    edges.push(x);
    places.push({ at: bar.start, x: begin + 4 });
    for (const drawn of signs) {
      if (!drawn.sign.wholeBar) places.push({ at: drawn.sign.at, x: middleOf(drawn.note) });
      if (drawn.sign.note !== null) heads.push(drawn);
    }
    for (const [n, { at, chord }] of bar.chords.entries()) {
      const left = symbolPlace(at, signs, begin);
      const next = bar.chords[n + 1];
      const right = next ? symbolPlace(next.at, signs, begin) : x;
      svg.append(chordText(chord === null ? 'N.C.' : look.symbol(chord), left, 20, right - left - 4));
    }
  }
  for (const tie of tiesOf(heads)) tie.setContext(context).draw();
  const struck = heads.filter(({ sign }) => sign.note?.tiedFrom === false);
  if (strings > 0) {
    svg.append(tabulature({ x: LEFT, top: tabTop, width: x - LEFT, strings }, edges, struck.flatMap(fretOf)));
  }
  if (look.degrees) {
    const degrees = struck.flatMap(({ sign, note }) => {
      const degree = sign.note?.degree;
      return degree == null ? [] : [{ x: middleOf(note), y: bottom + 19, text: prettyDegree(degree) }];
    });
    svg.append(textsAlike(DEGREES, degrees));
  }
  const last = system.bars.at(-1)!.bar;
  const end = last.start + last.length;
  return {
    svg,
    width: look.width,
    height: height * scale,
    from: system.bars[0]!.bar.start,
    to: ticks(end),
    notes: struck.map(({ sign, note }) => ({
      index: sign.note!.index,
      x: middleOf(note) * scale,
      y: note.getYs()[0]! * scale,
    })),
    places: [...places, { at: end, x }].map((place) => ({ at: place.at, x: place.x * scale })),
  };
}

function fretOf({ sign, note }: Drawn): readonly TabFret[] {
  const stop = sign.note?.stop;
  return stop == null ? [] : [{ x: middleOf(note), ...stop }];
}

/** Where a chord symbol stands: over the sign that sounds with it, at the head of its bar, or over what follows. */
function symbolPlace(at: number, signs: readonly Drawn[], begin: number): number {
  if (at <= (signs[0]?.sign.at ?? at)) return begin;
  const sign = signs.find((known) => known.sign.at >= at);
  return sign === undefined ? begin : sign.note.getAbsoluteX() - 2;
}
