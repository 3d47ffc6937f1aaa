import type { Chord } from '../harmony/index.ts';
import { scaleById } from '../scales/index.ts';
import { randomFor } from '../units/index.ts';
import { PHRASE_RULES, type PhraseRule } from './data.ts';
import { cheapestFirst, COST, goalsOf, heightCost, stepsInto, type Line, type Priced } from './resolve.ts';
import { rungsOf, type Reach, type Rung } from './rungs.ts';

/** The altered scale over a dominant on `root`. */
export const alteredRungs = (root: string, reach: Reach): readonly Rung[] =>
  rungsOf(scaleById('altered', root)!.notes, reach);

/**
 * The phrases a rule gives in `count` notes, best first: its shape, then steps of the altered scale until the
 * last note lies within a whole tone of a resting note of the next chord. Empty where there is no room for it.
 */
export function phrasesOf(
  rule: PhraseRule,
  root: string,
  next: Chord,
  count: number,
  reach: Reach,
): readonly Line[] {
  const ladder = alteredRungs(root, reach);
  const goals = goalsOf(next, reach);
  const found: Priced[] = [];
  for (const [start, first] of ladder.entries()) {
    const shape = shapeFrom(ladder, start, rule);
    if (shape === null || shape.length > count) continue;
    for (const way of waysOn(ladder, shape, count - shape.length)) {
      const notes = way.map((index, i) => ({
        rung: ladder[index]!,
        head: i === 0,
        why: i < shape.length ? `${rule.name}: the ${ladder[index]!.degree}` : 'by step to the next chord',
      }));
      const turns = COST.turn * turnsOf(way.slice(shape.length - 1));
      for (const { goal, why, cost } of stepsInto(goals, notes.at(-1)!.rung)) {
        found.push({ line: { notes, goal, goalWhy: why }, cost: cost + turns + heightCost(first, reach) });
      }
    }
  }
  return cheapestFirst(found);
}

/**
 * The rule's notes on the ladder, as indices, each the nearest of its degree the way the contour goes; null
 * where the ladder has not the first one there, or ends before the last.
 */
function shapeFrom(
  ladder: readonly Rung[],
  start: number,
  { degrees, contour }: PhraseRule,
): readonly number[] | null {
  if (ladder[start]!.degree !== degrees[0]) return null;
  const shape = [start];
  for (const [i, degree] of degrees.slice(1).entries()) {
    const at = shape.at(-1)!;
    const next =
      contour[i] === 'up'
        ? ladder.findIndex((rung, index) => index > at && rung.degree === degree)
        : ladder.findLastIndex((rung, index) => index < at && rung.degree === degree);
    if (next < 0) return null;
    shape.push(next);
  }
  return shape;
}

/** The ways on from a shape by steps: straight up or down, or with one turn. */
function waysOn(ladder: readonly Rung[], shape: readonly number[], count: number): readonly number[][] {
  if (count === 0) return [[...shape]];
  const ways: number[][] = [];
  for (const first of [-1, 1]) {
    for (let turn = 1; turn <= count; turn++) {
      const way = [...shape];
      for (let i = 0; i < count; i++) way.push(way.at(-1)! + (i < turn ? first : -first));
      if (way.every((index) => index >= 0 && index < ladder.length)) ways.push(way);
    }
  }
  return ways;
}

function turnsOf(way: readonly number[]): number {
  const moves = way.slice(1).map((index, i) => Math.sign(index - way[i]!));
  return moves.slice(1).filter((move, i) => move !== moves[i]).length;
}

/** One phrase for a place, the rule drawn by chance among those that have room; null where none has. */
export function phraseFor(
  root: string,
  next: Chord,
  count: number,
  reach: Reach,
  seed: number,
  place: number,
): Line | null {
  const random = randomFor(seed, 'phrase', place);
  const drawn = PHRASE_RULES.map((rule) => ({ rule, draw: random.next() })).sort((a, b) => a.draw - b.draw);
  for (const { rule } of drawn) {
    const best = phrasesOf(rule, root, next, count, reach)[0];
    if (best !== undefined) return best;
  }
  return null;
}
