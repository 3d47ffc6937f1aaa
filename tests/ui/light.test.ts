import {
  Accidental,
  Articulation,
  Beam,
  Element,
  Formatter,
  Metrics,
  Stave,
  StaveNote,
  SVGContext,
  Voice,
} from 'vexflow/core';
import { beforeAll, describe, expect, it } from 'vitest';
import '../../src/ui/notation/engrave.ts';
import { loadStaffFace, STAFF_FACE } from '../../src/ui/notation/faces.ts';
import { Pen, SingleNote } from '../../src/ui/notation/light.ts';

const KEYS = ['c/4', 'bb/5', 'a/4', 'f#/6', 'b/3', 'b/4', 'd/5', 'g/4'];

/** A bar of beamed and single notes, some off the staff, with signs beside them and a rest. */
function bar(Note: typeof StaveNote, Context: typeof SVGContext): SVGSVGElement {
  const context = new Context(document.createElement('div'));
  const stave = new Stave(5, 60, 400).addClef('treble').addTimeSignature('5/4').setContext(context);
  stave.draw();
  const notes = KEYS.map((key, i) => {
    const note = new Note({ keys: [key], duration: i < 6 ? '8' : 'q', autoStem: true });
    const sign = /(?<=.)[b#]/.exec(key)?.[0];
    if (sign !== undefined) note.addModifier(new Accidental(sign), 0);
    if (i === 6) note.addModifier(new Articulation('a>').setPosition(3));
    return note;
  });
  notes.push(new Note({ keys: ['b/4'], duration: '8r' }), new Note({ keys: ['c/5'], duration: '8' }));
  const beams = [new Beam(notes.slice(0, 4), true), new Beam(notes.slice(4, 6), true)];
  const voice = new Voice().setMode(Voice.Mode.SOFT).addTickables(notes).setStave(stave);
  new Formatter().joinVoices([voice]).format([voice], 300);
  voice.setContext(context).draw(context);
  for (const beam of beams) beam.setContext(context).draw();
  return context.svg;
}

/** Everything that can be seen, with its place and its look. */
function seen(svg: SVGSVGElement): readonly string[] {
  document.body.append(svg);
  const parts = [...svg.querySelectorAll('path, text, rect:not([pointer-events])')].map((part) => {
    const { fill, stroke, strokeWidth, fontSize, fontFamily } = getComputedStyle(part);
    const place = ['d', 'x', 'y', 'width', 'height'].map((name) => part.getAttribute(name));
    const look = [fill, stroke, stroke === 'none' ? '' : strokeWidth];
    return [...place, part.textContent, ...look, ...(part.textContent && [fontSize, fontFamily])].join(' ');
  });
  svg.remove();
  return parts.toSorted();
}

beforeAll(() => loadStaffFace());

describe('a sheet drawn with less', () => {
  it('looks as VexFlow draws it by itself', () => {
    const [ours, theirs] = [bar(SingleNote, Pen), bar(StaveNote, SVGContext)];
    expect(seen(ours)).toEqual(seen(theirs));
    expect(seen(ours).length).toBeGreaterThan(40);
    expect(ours.querySelectorAll('*').length).toBeLessThan(0.7 * theirs.querySelectorAll('*').length);
    expect(ours.querySelectorAll('.vf-stavenote').length).toBe(10);
  });

  it('measures a sign once, as the browser does', () => {
    const canvas = Element.getTextMeasurementCanvas()!;
    const context = canvas.getContext('2d') as CanvasRenderingContext2D;
    const real = document.createElement('canvas').getContext('2d')!;
    for (const font of [`30pt ${STAFF_FACE}`, `20pt ${STAFF_FACE}`]) {
      context.font = real.font = font;
      const measured = context.measureText('\uE0A4');
      expect(measured.width).toBe(real.measureText('\uE0A4').width);
      expect(measured.width).toBeGreaterThan(5);
      expect(context.measureText('\uE0A4')).toBe(measured);
    }
  });

  it('hands out copies of the tables, so that nobody changes them for all', () => {
    const font = Metrics.getFontInfo('NoteHead');
    expect(font.family).toContain(STAFF_FACE);
    font.size = 3;
    expect(Metrics.getFontInfo('NoteHead').size).not.toBe(3);
    expect(Metrics.get('NoteHead.minPadding')).toBe(2);
    expect(Metrics.get('NoteHead.nothing', 7)).toBe(7);
    expect(Metrics.get('NoteHead.nothing', 8)).toBe(8);
    expect(Metrics.getStyle('Stave').strokeStyle).toBe('currentColor');
  });
});
