import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beats, loopOf, newProject, readText, stretchOf, ticks } from '../../src/engine/index.ts';

const { written } = readText('3/4 Dm7 | G7 | 4/4 Cmaj7 | 2/4 A7');

describe('the loop a project keeps', () => {
  it('is the stretch it was made from, wherever it lies in the form', () => {
    const anyStretch = fc
      .uniqueArray(fc.nat({ max: written.length }), { minLength: 2, maxLength: 2 })
      .map((ends) => ends.sort((a, b) => a - b).map(ticks));
    fc.assert(
      fc.property(anyStretch, ([from, to]) => {
        const stretch = { from: from!, to: to! };
        expect(stretchOf(loopOf(stretch, written), written)).toEqual(stretch);
      }),
    );
  });

  it('stays with its bar and beat when a bar before it gets another metre', () => {
    const loop = loopOf({ from: beats(4), to: beats(6) }, written);
    expect(loop).toEqual({ bar: 1, at: beats(1), length: beats(2) });
    const longer = readText('5/4 Dm7 | 3/4 G7 | 4/4 Cmaj7 | 2/4 A7').written;
    expect(stretchOf(loop, longer)).toEqual({ from: beats(6), to: beats(8) });
  });

  it('is cut to the form, and gone with its bar', () => {
    const last = { bar: 3, at: beats(1), length: beats(8) };
    expect(stretchOf(last, written)).toEqual({ from: beats(11), to: beats(12) });
    expect(stretchOf({ bar: 4, at: ticks(0), length: beats(1) }, written)).toBeNull();
    expect(stretchOf({ bar: 3, at: beats(2), length: beats(1) }, written)).toBeNull();
    expect(stretchOf(last, readText('').written)).toBeNull();
  });

  it('cannot be made of nothing, or outside the form', () => {
    expect(() => loopOf({ from: beats(2), to: beats(2) }, written)).toThrow(RangeError);
    expect(() => loopOf({ from: beats(12), to: beats(13) }, written)).toThrow(String(beats(12)));
    expect(() => loopOf({ from: beats(-1), to: beats(1) }, written)).toThrow(RangeError);
  });
});

describe('a new project', () => {
  it('has what is asked for, and the usual for the rest', () => {
    const project = newProject({ text: 'C7alt' });
    expect({ ...project, text: '' }).toEqual(newProject());
    expect(project.text).toBe('C7alt');
  });
});
