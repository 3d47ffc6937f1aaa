import { describe, expect, it } from 'vitest';
import { beats, suggestThrough } from '../../src/engine/index.ts';
import { fittingAt } from '../../src/ui/harmony/fitting.ts';
import { sounding } from '../../src/ui/stage/sounding.ts';
import { sessionOf } from './open.ts';

const MINOR = 'Dm7b5 G7 | Cm6 | A7 | Dm7b5 G7 | Cm6 | Bbm7 Eb7 | Abmaj7 | N.C. |';

/** The first scale of every span, as the ribbon shows it. */
const shown = ({ sources }: ReturnType<typeof sessionOf>['session']) =>
  sources.changes.spans.map((_, index) => fittingAt(sources, index)?.scale.name ?? null);

describe('the scales in the ribbon', () => {
  it('are not told anew from the whole chart at each key that is typed', () => {
    const { session } = sessionOf(MINOR);
    const { key } = session;
    const { readings } = session.sources.heard;
    session.type(`${MINOR} F#maj7 |`);
    expect(session.key).toBe(key);
    expect(session.sources.heard.readings.slice(0, readings.length)).toEqual(readings);
    expect(session.sources.heard.readings.at(-1)).toBeNull();
    session.rest();
    expect(session.sources.heard.readings.at(-1)).not.toBeNull();
  });

  it('are those the engine suggests through the whole chart, treatments and all', () => {
    const { session } = sessionOf(MINOR);
    session.place({ from: beats(26), to: beats(28) }, 'altered');
    expect(session.key).toEqual({ tonic: 'C', mode: 'minor' });
    expect(session.sources.changes.spans.map((_, i) => fittingAt(session.sources, i)?.offered ?? [])).toEqual(
      suggestThrough(session.changes, session.key),
    );
  });

  it('stay what they are beside a chord that is being typed', () => {
    const { session } = sessionOf(MINOR);
    const before = shown(session);
    session.type(MINOR.replace('A7', 'A7b'));
    expect(shown(session).slice(0, 3)).toEqual(before.slice(0, 3));
    expect(shown(session).slice(4)).toEqual(before.slice(4));
    session.rest();
    expect(session.sources.heard.readings).toHaveLength(session.reading.written.spans.length);
  });

  it('follow the key that was chosen', () => {
    const { session } = sessionOf('C7 | % |', { key: { tonic: 'F', mode: 'minor' } });
    expect(session.sources.heard.readings[0]?.key).toEqual({ tonic: 'F', mode: 'minor' });
  });

  it('are the same on the stage while a loop plays', async () => {
    const { session, player } = sessionOf(MINOR);
    session.setLoop({ from: beats(12), to: beats(20) });
    await session.play(beats(12));
    player.at = beats(2);
    session.playing.look();
    const index = session.changes.spans.findIndex(({ start }) => start === beats(14));
    expect(sounding(session, beats(0))?.now.scale).toBe(fittingAt(session.sources, index)?.scale);
    session.playing.stop();
  });
});

it('what comes next at the end is the chord that will be held, and after it nothing', async () => {
  const { session, player } = sessionOf('Dm7 | G7 | Cmaj7 | A7');
  await session.play();
  const seen = (at: number) => {
    player.at = at;
    session.playing.look();
    const { now, next, until } = sounding(session, 0)!;
    return [now.chord?.text, next?.chord?.text ?? null, until];
  };
  expect(seen(beats(14.5))).toEqual(['A7', 'Dm7', 2]);
  player.at = beats(1.5);
  session.playing.finish();
  const { slows, rests } = session.playing.foresee('round')!;
  expect(seen(slows + 1)).toEqual(['Cmaj7', 'A7', 4]);
  expect(seen(rests - 1)).toEqual(['A7', 'Cmaj7', 1]);
  expect(seen(rests + 1)).toEqual(['Cmaj7', null, expect.any(Number)]);
});
