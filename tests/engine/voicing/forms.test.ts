import { describe, expect, it } from 'vitest';
import { chordPitchClasses, pitchClass } from '../../../src/engine/harmony/index.ts';
import { candidates, smallestMotion, totalMotion } from '../../../src/engine/voicing/index.ts';
import { LOW_INTERVAL_LIMITS, LOW_INTERVAL_TOLERANCE } from '../../../src/engine/voicing/data.ts';
import { selections } from '../../../src/engine/voicing/selections.ts';
import * as spacing from '../../../src/engine/voicing/spacing.ts';
import forms from '../../../shared/reference/rootless-forms.json' with { type: 'json' };
import limits from '../../../shared/reference/low-interval-limits.json' with { type: 'json' };
import leading from '../../../shared/reference/voice-leading.json' with { type: 'json' };
import { chord, degreesOf, ROOTS, semitone } from '../../helpers/voicing.ts';

const named = (keys: string) => {
  const placing = keys.split(' ').map(Number);
  return { keys: placing, guides: [false, false, false, false], roots: [false, false, false, false] };
};

describe('published rootless forms', () => {
  it.each(forms.forms)('$chord $form: $notes', ({ chord: symbol, degrees, notes }) => {
    // A third above the style's own range: in some keys a wide form lies just over its top.
    const found = candidates(chord(symbol), { style: 'rootless', range: { low: 48, high: 76 } });
    expect(found.map(degreesOf)).toContain(degrees);
    expect(found.find((voicing) => degreesOf(voicing) === degrees)!.names.join(' ')).toBe(notes);
  });

  it.each(forms.sets.rows)('$chord sounds $degrees as pitch classes', ({ chord: symbol, pcs }) => {
    const sets = selections(chord(symbol), false).map(({ degrees }) =>
      degrees.map(semitone).sort().join(' '),
    );
    expect(sets).toContain([...pcs].sort().join(' '));
  });

  it('lie the same in every key', () => {
    for (const root of ROOTS) {
      expect(candidates(chord(`${root}m9`), { style: 'rootless' }).map(degreesOf)).toContain('b3 5 b7 9');
    }
  });
});

/** Of the textbook's eight: a semitone at the top in one, a minor ninth from the seventh up to the root in two. */
const FAULTY = ['5 3 7 1', '7 3 5 1', '7 5 1 3'];

describe('drop voicings', () => {
  it.each(['drop-2', 'drop-3'] as const)('%s of a seventh chord are the four of the textbooks', (style) => {
    const whole = candidates(chord('Cmaj7'), { style })
      .map(degreesOf)
      .filter((degrees) => degrees.split(' ').sort().join(' ') === '1 3 5 7');
    const allowed = forms.drop[style].filter((degrees) => !FAULTY.includes(degrees));
    expect([...new Set(whole)].sort()).toEqual(allowed.sort());
  });

  it('keep all four inversions where nothing rubs', () => {
    const inDropTwo = candidates(chord('C6'), { style: 'drop-2' }).map(degreesOf);
    const inversions = new Set(
      inDropTwo.filter((degrees) => degrees.split(' ').sort().join(' ') === '1 3 5 6'),
    );
    expect([...inversions].sort()).toEqual(forms.drop['drop-2'].map((d) => d.replace('7', '6')).sort());
  });
});

describe('low interval limits', () => {
  it.each(limits.lowest_key)('of $interval are within the tolerance of the published ones', (limit) => {
    const ours = LOW_INTERVAL_LIMITS[limit.semitones]!;
    expect([limit.key, limit.lower_reading]).toContain(ours);
  });

  it('keep a minor third off the bottom of the bass clef', () => {
    const low = 48 - LOW_INTERVAL_TOLERANCE;
    expect(spacing.breaksLowIntervalLimit(named(`${low} ${low + 3} 60 64`))).toBe(false);
    expect(spacing.breaksLowIntervalLimit(named(`${low - 1} ${low + 2} 60 64`))).toBe(true);
  });
});

describe('faults', () => {
  it('are a minor ninth, a semitone at the top, a cluster, a hole', () => {
    expect(spacing.holdsMinorNinth(named('52 59 62 65'))).toBe(true);
    expect(spacing.holdsMinorNinth(named('52 59 62 66'))).toBe(false);
    expect(spacing.rubsAtTheTop(named('52 57 64 65'))).toBe(true);
    expect(spacing.clusters(named('58 60 61 66'))).toBe(true);
    expect(spacing.leavesAHole(named('50 54 58 72'))).toBe(true);
  });

  it('leave a flat ninth over its root in the lowest voice', () => {
    const shells = candidates(chord('C7b9'), { style: 'shell' }).map(degreesOf);
    expect(shells).toContain('1 3 b7 b9');
    expect(shells.some((degrees) => /1 b9|b9 .*1/.test(degrees))).toBe(false);
  });
});

describe('voice-leading sizes', () => {
  it.each(leading.chords)('$from → $to moves $semitones semitones', ({ from, to, semitones }) => {
    const [a, b] = [chord(from), chord(to)].map(chordPitchClasses);
    expect(smallestMotion(a!, b!)).toBe(semitones);
  });

  it.each(leading.rootless)('$name moves $semitones', ({ from, to, semitones }) => {
    expect(smallestMotion(from, to)).toBe(semitones);
  });

  it.each(['7', 'm7', 'maj7'] as const)('from a %s to the same on every root', (kind) => {
    const home = chordPitchClasses(chord(`C${kind}`));
    const sizes = ROOTS.map((root) => smallestMotion(home, chordPitchClasses(chord(root + kind))));
    expect(sizes).toEqual(leading.transposed[kind]);
  });

  it('are never larger than the motion in register, voice by voice', () => {
    const all = candidates(chord('Dm9'), { style: 'rootless' });
    const next = candidates(chord('G13'), { style: 'rootless' });
    const pcs = (names: readonly string[]) => names.map(pitchClass);
    for (const a of all) {
      for (const b of next) {
        expect(smallestMotion(pcs(a.names), pcs(b.names))).toBeLessThanOrEqual(
          totalMotion(a.pitches, b.pitches),
        );
      }
    }
  });

  it('refuse chords of different sizes and quote them', () => {
    expect(() => totalMotion([1, 2], [1, 2, 3])).toThrow(/2 voices into 3/);
  });
});
