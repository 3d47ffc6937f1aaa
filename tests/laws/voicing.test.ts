import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import {
  degreeSemitones,
  guideTones,
  pitchClass,
  roleOf,
  type Degree,
} from '../../src/engine/harmony/index.ts';
import { beats } from '../../src/engine/units/index.ts';
import {
  candidates,
  leadVoicings,
  pathCost,
  pathJudge,
  PURE_MOTION,
  STYLES,
  tonesToHear,
  WEIGHTS,
  type Attack,
  type LeadOptions,
  type Voicing,
} from '../../src/engine/voicing/index.ts';
import {
  anyRoot,
  anySeventh,
  anyStyle,
  anySymbol,
  chord,
  keysOf,
  ROOTS,
  SEVENTHS,
  TRIADS,
} from '../helpers/voicing.ts';

// Hundreds of chords a law: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000 });

describe('every voicing', () => {
  it('is four notes from the lowest up, in range and span, spelled and numbered alike', () => {
    fc.assert(
      fc.property(anySymbol, anyStyle, (symbol, style) => {
        const read = chord(symbol);
        const found = candidates(read, { style });
        expect(found.length).toBeGreaterThan(0);
        for (const { pitches, names, degrees } of found) {
          const { low, high } = STYLES[style];
          const right = {
            keys: [...new Set(pitches)].filter((key) => key >= low && key <= high).sort((a, b) => a - b),
            classes: names.map(pitchClass),
          };
          expect({ keys: pitches, classes: degrees.map((degree) => pcOf(read.root, degree)) }).toEqual(right);
          expect(pitches.map((key) => key % 12)).toEqual(right.classes);
          expect(pitches).toHaveLength(4);
        }
      }),
      { numRuns: 250 },
    );
  });

  it('of a seventh or sixth chord holds both guide tones, no tone twice, no avoid note, nothing altered unasked', () => {
    fc.assert(
      fc.property(anySeventh, anyStyle, (symbol, style) => {
        const read = chord(symbol);
        for (const { degrees } of candidates(read, { style })) {
          expect(degrees).toEqual(expect.arrayContaining([...guideTones(read)]));
          expect(new Set(degrees.map((degree) => degreeSemitones(degree) % 12)).size).toBe(4);
          for (const degree of degrees.filter((tone) => !read.degrees.includes(tone))) {
            expect(roleOf(read, degree), `${degree} over ${symbol}`).not.toBe('avoid');
            expect(degree, symbol).toMatch(/^\d/);
          }
        }
      }),
      { numRuns: 250 },
    );
  });

  it('sounds every alteration the symbol names, or two of them where it names more', () => {
    fc.assert(
      fc.property(anySeventh, anyStyle, (symbol, style) => {
        const read = chord(symbol);
        const named = read.degrees.filter(
          (degree) => /^[b#]/.test(degree) && !guideTones(read).includes(degree),
        );
        for (const { degrees } of candidates(read, { style })) {
          expect(degrees.filter((degree) => named.includes(degree))).toHaveLength(Math.min(2, named.length));
        }
      }),
      { numRuns: 250 },
    );
  });

  it('moves with its chord to every other root, where range and low limits leave room', () => {
    const kinds = fc.constantFrom(...SEVENTHS, ...TRIADS);
    fc.assert(
      fc.property(anyRoot, anyRoot, kinds, anyStyle, (from, to, kind, style) => {
        const up = (pitchClass(to) - pitchClass(from) + 12) % 12;
        const [low, high] = [53, 100];
        const all = (root: string) => candidates(chord(root + kind), { style, range: { low, high } });
        const here = all(from).filter(({ pitches }) => pitches[3]! + up <= high);
        const there = all(to).filter(({ pitches }) => pitches[0]! - up >= low);
        const moved = here.map(({ pitches, degrees }) => `${pitches.map((key) => key + up)} ${degrees}`);
        expect(moved.sort()).toEqual(there.map(({ pitches, degrees }) => `${pitches} ${degrees}`).sort());
      }),
      { numRuns: 300 },
    );
  });
});

const pcOf = (root: string, degree: Degree) => (pitchClass(root) + degreeSemitones(degree)) % 12;

/** Few enough candidates for every path to be tried. */
const NARROW = { low: 50, high: 74 };

const FEW = ['Dm7', 'G7', 'G7alt', 'C6', 'C7b9#9b13'] as const;

const anyWeight = fc.constantFrom(1, 1, 0.5, 0);
const anyAttack = fc.record({
  chord: fc.constantFrom(...FEW).map(chord),
  weight: anyWeight,
});

/** A few attacks, chords often held for several of them, some bars skipped. */
const anyLine = fc
  .array(fc.tuple(anyAttack, fc.integer({ min: 1, max: 3 }), fc.integer({ min: 0, max: 2 })), {
    minLength: 1,
    maxLength: 3,
  })
  .map((runs) => {
    let bar = 0;
    return runs.flatMap(([attack, times, rests]) =>
      Array.from({ length: times }, (): Attack => ({ ...attack, bar: (bar += rests) })),
    );
  })
  .filter((line) => line.length <= 4);

const anyFrom = fc.option(
  fc.tuple(fc.constantFrom(...FEW), fc.nat()).map(([symbol, pick]) => {
    const all = candidates(chord(symbol), { style: 'rootless', range: NARROW });
    return all[pick % all.length]!;
  }),
);

const anyOptions = fc
  .record({
    style: fc.constantFrom('rootless' as const, 'fourths' as const, 'shell' as const),
    from: anyFrom,
    loop: fc.boolean(),
    seed: fc.option(fc.nat(), { nil: null }),
    weights: fc.constantFrom(WEIGHTS, WEIGHTS, PURE_MOTION),
  })
  .map(({ seed, ...options }): LeadOptions => ({
    ...options,
    range: NARROW,
    ...(seed !== null && { seed }),
  }));

/** The least cost over every path there is. */
function leastOfAll(line: readonly Attack[], options: LeadOptions): number | null {
  // Context may widen or narrow a chord's choices, so the candidates are those the judge accepts.
  const judge = pathJudge(line, options);
  const choices = judge.candidates;
  if (choices.reduce((product, { length }) => product * length, 1) > 30_000) return null;
  let least = Infinity;
  const walk = (path: Voicing[]): void => {
    if (path.length === line.length) {
      least = Math.min(least, judge.cost(path));
      return;
    }
    for (const voicing of choices[path.length]!) walk([...path, voicing]);
  };
  walk([]);
  return least;
}

describe('leading', () => {
  it('finds the least cost of all paths, open or round the loop, from silence or from a sounding chord', () => {
    let tried = 0;
    fc.assert(
      fc.property(anyLine, anyOptions, (line, options) => {
        const least = leastOfAll(line, options);
        if (least === null) return fc.pre(false);
        tried++;
        expect(pathCost(line, leadVoicings(line, options), options)).toBeCloseTo(least, 6);
      }),
      { numRuns: 300 },
    );
    expect(tried).toBeGreaterThanOrEqual(300);
  });

  it('gives the same voicings for the same attacks, settings and seed', () => {
    fc.assert(
      fc.property(anyLine, anyOptions, (line, options) => {
        const copy = line.map((attack) => ({ ...attack, chord: { ...attack.chord } }));
        expect(leadVoicings(copy, { ...options }).map(keysOf)).toEqual(
          leadVoicings(line, options).map(keysOf),
        );
      }),
    );
  });

  it('never costs more than leading from one chord to the next by the nearest voicing', () => {
    fc.assert(
      fc.property(fc.array(anySeventh, { minLength: 2, maxLength: 24 }), anyStyle, (symbols, style) => {
        const line = symbols.map((symbol) => ({ chord: chord(symbol) }));
        const options: LeadOptions = { style, loop: false };
        const judge = pathJudge(line, options);
        const greedy: Voicing[] = [];
        for (const all of judge.candidates) {
          const last = greedy.at(-1);
          const motion = ({ pitches }: Voicing) =>
            last ? pitches.reduce((sum, key, i) => sum + Math.abs(key - last.pitches[i]!), 0) : 0;
          greedy.push(all.reduce((best, voicing) => (motion(voicing) < motion(best) ? voicing : best)));
        }
        expect(judge.cost(leadVoicings(line, options))).toBeLessThanOrEqual(judge.cost(greedy) + 1e-6);
      }),
      { numRuns: 60 },
    );
  });
});

/** A long altered chord among others: how many attacks each of its bars has, and what stands around it. */
const anyVamp = fc.record({
  symbol: fc.tuple(anyRoot, fc.constantFrom('7alt', '7alt', '7b9#9b13')).map(([root, kind]) => root + kind),
  bars: fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 2, maxLength: 10 }),
  before: fc.option(fc.constantFrom('Dm7', 'Gm7b5'), { nil: null }),
  after: fc.option(fc.constantFrom('Cmaj7', 'Fm69'), { nil: null }),
  style: anyStyle,
  seed: fc.nat(),
  loop: fc.boolean(),
});

describe('on a long altered chord', () => {
  it('any two bars with two attacks or more sound every altered tone', () => {
    fc.assert(
      fc.property(anyVamp, ({ symbol, bars, before, after, style, seed, loop }) => {
        const read = chord(symbol);
        const vamp = bars.flatMap((times, bar) =>
          Array.from({ length: times }, () => ({ chord: read, bar: bar + 1 })),
        );
        const line: Attack[] = [
          ...(before ? [{ chord: chord(before), bar: 0 }] : []),
          ...vamp,
          ...(after ? [{ chord: chord(after), bar: bars.length + 1 }] : []),
        ];
        // Round a loop of an odd number of bars with one attack each, not every attack can answer the last.
        const seamless = !before && !after && loop;
        fc.pre(line.length > 0 && !(seamless && vamp.length % 2 === 1 && bars.every((times) => times <= 1)));
        const led = leadVoicings(line, { style, loop, seed });
        const heard = (from: number, to: number) =>
          new Set(
            line.flatMap(({ bar, chord: { text } }, i) =>
              text === read.text && bar! >= from && bar! <= to ? led[i]!.degrees : [],
            ),
          );
        const wanted = tonesToHear(read);
        expect(wanted.length).toBeGreaterThan(2);
        if (seamless && bars[0]! > 0 && bars.at(-1)! > 0) {
          expect([...heard(1, 1), ...heard(bars.length, bars.length)], `round the loop of ${bars}`).toEqual(
            expect.arrayContaining([...wanted]),
          );
        }
        for (let bar = 1; bar < bars.length; bar++) {
          if (bars[bar - 1]! + bars[bar]! < 2) continue;
          expect([...heard(bar, bar + 1)], `bars ${bar} and ${bar + 1} of ${bars}`).toEqual(
            expect.arrayContaining([...wanted]),
          );
        }
      }),
      { numRuns: 300 },
    );
  });

  it('goes on doing so from one round to the next', () => {
    fc.assert(
      fc.property(anyStyle, fc.nat(), fc.constantFrom(1, 2, 3, 5), (style, seed, times) => {
        const read = chord('C7alt');
        const round = [0, 1].flatMap((bar) =>
          Array.from({ length: times }, (_, i) => ({ chord: read, bar, at: beats(4 * bar + i) })),
        );
        let from: Voicing | null = null;
        let last: readonly Voicing[] = [];
        for (let turn = 0; turn < 5; turn++) {
          const led = leadVoicings(round, { style, loop: false, seed, round: turn, from });
          const seam = [...last.slice(-times), ...led.slice(0, times)];
          if (turn > 0) {
            expect(seam.flatMap(({ degrees }) => degrees)).toEqual(
              expect.arrayContaining([...tonesToHear(read)]),
            );
          }
          from = led.at(-1)!;
          last = led;
        }
      }),
      { numRuns: 60 },
    );
  });

  it('never strikes the same four degrees twice running', () => {
    const line = Array.from({ length: 32 }, (_, i) => ({ chord: chord('F#7alt'), bar: Math.floor(i / 2) }));
    for (const style of ['rootless', 'drop-2', 'drop-3', 'shell', 'fourths'] as const) {
      const led = leadVoicings(line, { style, loop: true });
      const sets = led.map(({ degrees }) => [...degrees].sort().join(' '));
      sets.forEach((set, i) => expect(set).not.toBe(sets[(i + 1) % sets.length]));
    }
  });

  it('plays another chorus every round and the same one for the same round', () => {
    const line = ROOTS.flatMap((root, bar) =>
      [`${root}m7`, `${root}7alt`].map((symbol) => ({ chord: chord(symbol), bar })),
    );
    const round = (number: number) =>
      leadVoicings(line, { style: 'rootless', loop: false, seed: 7, round: number }).map(keysOf);
    const rounds = Array.from({ length: 8 }, (_, number) => round(number).join(' | '));
    expect(new Set(rounds).size).toBe(8);
    expect(round(3).join(' | ')).toBe(rounds[3]);
  });
});
