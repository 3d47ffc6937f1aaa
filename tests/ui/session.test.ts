import { describe, expect, it } from 'vitest';
import { beats, bpm, newProject, PPQ, ticks, type NoteEvent } from '../../src/engine/index.ts';
import { sessionOf } from './open.ts';

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

describe('what is done can be taken back', () => {
  it('typing as one step, until the typing rests', () => {
    const { session } = sessionOf('C7');
    for (const text of ['C7 ', 'C7 |', 'C7 | F7']) session.type(text);
    session.rest();
    session.type('C7 | F7 | G7');
    session.undo();
    expect(session.text).toBe('C7 | F7');
    session.undo();
    expect(session.text).toBe('C7');
    session.redo();
    session.redo();
    expect(session.text).toBe('C7 | F7 | G7');
  });

  it('a chord, a treatment, a rule, the loop, the tempo, the key and another chart', () => {
    const { session } = sessionOf('Dm7 | G7 | Cmaj7', { key: { tonic: 'C', mode: 'major' } });
    const before = session.project;
    session.editing.replaceChord(0, 0, 'Am7');
    session.place({ from: beats(4), to: beats(6) }, 'altered');
    session.addRule();
    session.setLoop({ from: beats(4), to: beats(8) });
    session.setTempo(200);
    session.transpose({ tonic: 'Eb', mode: 'major' });
    session.open(newProject({ title: 'Another', text: 'C7alt' }));
    const after = session.project;
    for (let i = 0; i < 7; i++) session.undo();
    expect(session.project).toEqual(before);
    expect(session.undoWhat).toBeNull();
    for (let i = 0; i < 7; i++) session.redo();
    expect(session.project).toEqual(after);
    expect(session.redoWhat).toBeNull();
  });

  it('and each new state is kept', () => {
    const { session, kept } = sessionOf('C7');
    session.type('F7');
    session.undo();
    expect(kept.map(({ text }) => text)).toEqual(['F7', 'C7']);
  });
});

describe('the key', () => {
  it('is where the changes come home, when nothing is said', () => {
    expect(sessionOf('Dm7 | G7 | Cmaj7 | %').session.key).toEqual({ tonic: 'C', mode: 'major' });
    expect(sessionOf('Dm7b5 | G7 | Cm6 | %').session.key).toEqual({ tonic: 'C', mode: 'minor' });
    expect(sessionOf('F7 | Bb7 | F7 | %').session.key.tonic).toBe('F');
    expect(sessionOf('').session.key.tonic).toBe('C');
  });

  it('moves the whole chart, spelled in the new key', () => {
    const { session } = sessionOf('Dm7 | G7 | Cmaj7 |', { key: { tonic: 'C', mode: 'major' } });
    session.transpose({ tonic: 'Db', mode: 'major' });
    expect(session.text).toBe('Ebm7 | Ab7 | Dbmaj7 |');
    expect(session.key.tonic).toBe('Db');
  });
});

describe('what is tied to a bar', () => {
  it('stays with it when bars come before it', () => {
    const { session } = sessionOf('Dm7 | G7 | Cmaj7');
    session.place({ from: beats(6), to: beats(8) }, 'altered');
    session.setLoop({ from: beats(4), to: beats(8) });
    session.type('Am7 | Dm7 | G7 | Cmaj7');
    expect(session.layers.placed).toMatchObject([{ bar: 2, at: beats(2) }]);
    expect(session.loop).toEqual({ from: beats(8), to: beats(12) });
  });

  it('comes back when a bar is taken out and put back', () => {
    const { session } = sessionOf('Dm7 | G7 | Cmaj7');
    session.place({ from: beats(4), to: beats(8) }, 'altered');
    const before = session.layers;
    session.editing.removeBar(1);
    expect(session.changes.spans.some(({ treatment }) => treatment !== null)).toBe(false);
    session.undo();
    expect(session.layers).toEqual(before);
  });
});

describe('while the band plays', () => {
  const sounding = (notes: readonly NoteEvent[]) =>
    new Set(notes.filter(({ part }) => part === 'comp').map(({ pitch }) => pitch % 12));

  it('an edit in the ribbon is heard from the next beat', async () => {
    const { session, player } = sessionOf('C7 | F7');
    await session.play();
    player.at = beats(1.5);
    session.editing.replaceChord(1, 0, 'F#7');
    expect(player.replaced).toEqual([beats(2)]);
    expect(sounding(player.source!.notes(beats(4), beats(8)))).toContain(10);
  });

  it('typing is heard from the next bar, once it rests', async () => {
    const { session, player } = sessionOf('C7 | F7 | C7 | F7');
    await session.play();
    player.at = beats(5);
    session.type('C7 | F7 | Ab');
    session.type('C7 | F7 | Ab7 | F7');
    expect(player.replaced).toEqual([]);
    await pause(150);
    expect(player.replaced).toEqual([beats(8)]);
  });

  it('an emptied chart plays on until there is something else to play', async () => {
    const { session, player } = sessionOf('C7');
    await session.play();
    player.at = beats(1);
    session.type('');
    session.settle();
    expect(session.playing.on).toBe(true);
    session.type('F7');
    session.settle();
    expect(player.replaced.length).toBe(1);
  });

  it('a new tempo is passed on at once', async () => {
    const { session, player } = sessionOf('C7');
    await session.play();
    session.setTempo(181.4);
    expect(player.tempo).toBe(bpm(181));
    session.undo();
    expect(player.tempo).toBe(bpm(120));
  });

  it('an empty chart is no reason to fail', async () => {
    const { session } = sessionOf('');
    await session.play();
    expect(session.playing.on).toBe(false);
    expect(session.notice?.text).toMatch(/nothing to play yet/);
  });

  it('the beat that sounds is known, through a loop in the middle of the form', async () => {
    const { session, player } = sessionOf('C7 | F7 | C7 | G7');
    session.setLoop({ from: beats(6), to: beats(9) });
    await session.play();
    const where = (beat: number) => {
      player.at = beats(beat);
      session.playing.look();
      const { now } = session.playing;
      return [now?.tick, now?.beat, session.round];
    };
    expect(where(0)).toEqual([beats(6), 2, 0]);
    expect(where(2.5)).toEqual([beats(8), 0, 0]);
    expect(where(4)).toEqual([beats(7), 3, 1]);
    expect(session.playing.formTick()).toBe(beats(7));
  });

  it('while the music slows down the round goes by more slowly, and stands when the last chord is held', async () => {
    const { session, player } = sessionOf('C7 | F7 | C7 | G7');
    player.speed = () => 2 * PPQ;
    await session.play();
    const { playing } = session;
    player.at = beats(1);
    playing.look();
    expect(playing.speed()).toBe(2 * PPQ);
    playing.finish();
    const { slows } = playing.foresee('round')!;
    const at = (tick: number) => {
      player.at = tick;
      playing.look();
      return {
        speed: playing.speed() / PPQ,
        tick: playing.roundTick()! / PPQ,
        form: playing.formTick()! / PPQ,
      };
    };
    const steps = [0, 1, 2, 3, 4].map((beat) => at(slows + beats(beat)));
    expect(steps[0]!.speed).toBeCloseTo(2, 1);
    for (const [i, step] of steps.entries()) {
      expect(step.tick).toBeCloseTo(step.form, 3);
      const next = steps[i + 1];
      if (next === undefined) continue;
      expect(next.speed).toBeLessThan(step.speed);
      expect(next.tick - step.tick).toBeLessThan(1);
      // The way from one beat to the next is gone at a pace between theirs.
      expect((next.tick - step.tick) * 2).toBeLessThan(step.speed + 0.02);
      expect((next.tick - step.tick) * 2).toBeGreaterThan(next.speed - 0.02);
    }
    expect(at(playing.performance!.end! - beats(1)).speed).toBe(0);
  });

  it('a failing player leaves the page ready to try again', async () => {
    const { session, player } = sessionOf('C7');
    await session.play();
    player.tell({ type: 'failed', message: 'No sound device. Plug one in and press Play.' });
    expect(session.playing.on).toBe(false);
    await session.play();
    expect(session.playing.on).toBe(true);
  });
});

describe('altering live', () => {
  it('a tap alters from the next beat for its length, and then goes back', async () => {
    const { session, player } = sessionOf('G7 | % | Cmaj7 | %');
    await session.play();
    player.at = beats(1.2);
    const report = session.playing.press('altered');
    expect(report).toEqual({ at: beats(2), chords: ['G7alt'] });
    session.playing.release(beats(2));
    expect(session.playing.touches).toEqual([{ at: beats(2), length: beats(2), kind: 'altered' }]);
    const treated = session.changes.spans.filter(({ treatment }) => treatment !== null);
    expect(treated).toMatchObject([{ start: beats(2), length: beats(2), treatment: { origin: 'live' } }]);
  });

  it('held, it lasts to the beat after the finger is lifted', async () => {
    const { session, player } = sessionOf('G7 | % | % | %');
    await session.play();
    player.at = beats(0.5);
    session.playing.press('altered');
    player.at = beats(6.5);
    session.playing.release(beats(1));
    expect(session.playing.touches).toEqual([{ at: beats(1), length: beats(6), kind: 'altered' }]);
  });

  it('over no dominant it says so', async () => {
    const { session, player } = sessionOf('Cmaj7 | %');
    await session.play();
    player.at = beats(0.5);
    expect(session.playing.press('altered')).toMatchObject({ chords: [] });
  });

  it('is forgotten when the band stops, unless it is kept', async () => {
    const { session, player } = sessionOf('G7 | %');
    await session.play();
    player.at = beats(1.5);
    session.playing.press('altered');
    session.playing.release(beats(1));
    session.keepTouches();
    session.playing.stop();
    expect(session.playing.touches).toEqual([]);
    expect(session.layers.placed).toMatchObject([
      { bar: 0, at: beats(2), length: beats(1), kind: 'altered', when: { type: 'always' } },
    ]);
  });
});

describe('numbers from outside', () => {
  it('that are no tempo change nothing; what lies beyond is brought in', () => {
    const { session } = sessionOf('C7');
    session.setTempo(NaN);
    expect(session.settings.tempo).toBe(120);
    session.setTempo(9999);
    expect(session.settings.tempo).toBe(400);
    session.setTempo(-3);
    expect(session.settings.tempo).toBe(30);
  });

  it('a start beyond the form is a start at the beginning', async () => {
    const { session, player } = sessionOf('C7');
    await session.play(ticks(99999999));
    player.at = beats(0);
    session.playing.look();
    expect(session.playing.now?.tick).toBe(0);
  });
});
