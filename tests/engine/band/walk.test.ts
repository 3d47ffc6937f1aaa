import { describe, expect, it, vi } from 'vitest';
import {
  beats,
  bpm,
  pitchClass,
  PPQ,
  touch,
  walk,
  type Changes,
  type NoteEvent,
  type Span,
} from '../../../src/engine/index.ts';
import { byBar, carryOf, changesOf, planOf, SILENCE } from './plans.ts';

// Many seeds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const SEEDS = Array.from({ length: 40 }, (_, seed) => seed);
const line = (notes: readonly NoteEvent[]) => notes.filter((note) => !/^(skip|drop)/.test(note.why));
const spanAt = (changes: Changes, at: number): Span => changes.spans.findLast((span) => span.start <= at)!;
const above = (note: NoteEvent, root: string): number => (note.pitch - pitchClass(root) + 120) % 12;

describe('a walking bass', () => {
  it('plays four in a bar', () => {
    const plan = planOf('Dm7 | G7 | Cmaj7 | A7');
    for (const bar of byBar(line(walk(plan)), plan.changes)) expect(bar).toHaveLength(4);
  });

  it('begins the music on the root', () => {
    for (const seed of SEEDS) expect(walk(planOf('Bb7 | Eb7', { seed }))[0]!.name).toBe('Bb');
  });

  it('plays the written bass of a slash chord where it comes in', () => {
    for (const seed of SEEDS) {
      const plan = planOf('C/E | Fmaj7/A | C/G | C7/Bb | Dm7/G | Db/C', { seed });
      for (const span of plan.changes.spans) {
        const first = walk(plan).find((note) => note.at >= span.start)!;
        expect(first.name).toBe(span.chord!.bass);
        expect(first.why).toContain('written bass');
      }
    }
  });

  it('holds a bass that is written under changing chords', () => {
    const plan = planOf('C/G | G7/G F/G | C/G | G7');
    const held = walk(plan).filter((note) => note.at < beats(8));
    for (const note of held) expect(note.name).toBe('G');
    expect(held.length).toBeGreaterThanOrEqual(8);
  });

  it('uses nothing but its colour under an altered dominant', () => {
    const symbols = ['G7alt', 'G7b9', 'G7#9', 'G7#5', 'G7b5', 'G7b9b13', 'G13b9', 'G7(b9,#5)', 'Galt'];
    for (const symbol of symbols) {
      for (const seed of SEEDS.slice(0, 8)) {
        for (const next of ['Cmaj7', 'Cm7', 'Gb7', 'Am7', 'E7']) {
          const { changes, ...plan } = planOf(`Dm7 | ${symbol} | ${symbol} | ${next}`, { seed });
          const under = walk({ ...plan, changes }).filter(
            (note) => spanAt(changes, note.at).chord!.text === symbol,
          );
          const strange = under.filter((note) => {
            return above(note, 'G') === 7 || above(note, 'G') === 2 || note.degree === null;
          });
          expect(under.length).toBeGreaterThan(4);
          expect(strange, `over ${symbol}`).toEqual([]);
        }
      }
    }
  });

  it('stands on chord tones on the third beat of a long chord', () => {
    for (const seed of SEEDS) {
      const plan = planOf('Dm7 | G7 | Cmaj7 | Am7b5', { seed });
      for (const bar of byBar(line(walk(plan)), plan.changes)) {
        const third = bar[2]!;
        expect(spanAt(plan.changes, third.at).chord!.degrees).toContain(third.degree);
      }
    }
  });

  it('plays root and approach where a chord lasts two beats, and roots where it lasts one', () => {
    for (const seed of SEEDS) {
      const plan = planOf('Dm7 G7 | Cmaj7 C#dim7 Dm7 D#dim7 | Em7 A7', { seed });
      const notes = line(walk(plan));
      for (const span of plan.changes.spans) {
        const inSpan = notes.filter((note) => note.at >= span.start && note.at < span.start + span.length);
        expect(inSpan).toHaveLength(span.length / PPQ);
        if (inSpan.length === 1) expect(inSpan[0]!.name).toBe(span.chord!.root);
        else expect(inSpan[1]!.why).toMatch(/^approach to /);
      }
    }
  });

  it('catches chords that change between the beats', () => {
    const plan = planOf('Cmaj7 Dm7 Em7 | Cmaj7 | Cmaj7 Dm7 Em7 Fmaj7 Em7 Dm7 Cmaj7 G7');
    for (const span of plan.changes.spans) {
      const first = walk(plan).find((note) => note.at >= span.start)!;
      expect(first.at - span.start).toBeLessThan(0.3 * PPQ);
      expect(above(first, span.chord!.root) === 0 || first.why.includes('3rd')).toBe(true);
    }
  });

  it('is silent where the chart has no chord', () => {
    for (const seed of SEEDS) {
      const plan = planOf('Dm7 | NC | G7 ?? | Cmaj7', { seed });
      for (const note of walk(plan)) {
        expect(spanAt(plan.changes, note.at).chord).not.toBeNull();
        const end = spanAt(plan.changes, note.at + note.length - 1);
        expect(end.chord).not.toBeNull();
      }
    }
  });

  it('tells the harmony first where it begins within a chord', () => {
    for (const seed of SEEDS) {
      expect(walk(planOf('Dm7 | Dm7 | G7', { seed }, { from: beats(5) }))[0]!.name).toBe('D');
    }
  });

  it('goes on from the note that sounded', () => {
    const mean = (bass: number) =>
      SEEDS.reduce((sum, seed) => {
        const carry = { ...SILENCE, bass: bass as NoteEvent['pitch'] };
        return sum + Math.abs(walk(planOf('Dm7 | G7', { seed }, { carry }))[0]!.pitch - bass);
      }, 0) / SEEDS.length;
    expect(mean(37)).toBeLessThan(4);
    expect(mean(49)).toBeLessThan(4);
  });

  it('is in two where the feel is, and in four as it plays harder', () => {
    const perBar = (intensity: number) =>
      line(walk(planOf('C7 | F7 | C7 | G7', { feel: 'two-feel', intensity }))).length / 4;
    expect(perBar(0.3)).toBeLessThan(3.2);
    expect(perBar(0.9)).toBe(4);
  });

  it('strikes the root anew where a live touch alters the chord', () => {
    const written = changesOf('Dm7 | G7 | Cmaj7');
    const at = beats(6);
    for (const seed of SEEDS) {
      const carry = carryOf(walk(planOf(written, { seed })), at);
      const changes = touch(written, { at, length: beats(2), kind: 'altered' });
      const first = walk(planOf(changes, { seed }, { from: at, carry }))[0]!;
      expect(first.at).toBe(at);
      expect(first.name).toBe('G');
    }
  });

  it('does not skip when there is no time to', () => {
    for (const seed of SEEDS) {
      const notes = walk(planOf('Dm7 | G7 | Cmaj7 | A7', { seed, tempo: bpm(300) }));
      expect(notes).toEqual(line(notes));
    }
  });
});
