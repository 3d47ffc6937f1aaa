import { expect, it } from 'vitest';
import { fetchBand } from '../../src/ui/band.ts';
import { sessionOf } from './open.ts';

/** Each test file has a page of its own: its first press comes before the code that plays. */
it('a press before the code that plays is here is taken back by a second one, and follows what is typed', async () => {
  const { session, player } = sessionOf('C7alt');
  let woken = 0;
  Object.assign(player, { wake: () => woken++ });
  const begun: string[] = [];
  const start = player.start.bind(player);
  player.start = (...asked: Parameters<typeof start>) => {
    begun.push(session.playing.performance?.beginning.plan.text ?? '');
    return start(...asked);
  };

  const first = session.play();
  expect(woken, 'the sound is made within the press').toBe(1);
  expect(session.playing.state.type).toBe('loading');
  session.playing.stop();
  expect(session.playing.on).toBe(false);

  const second = session.play();
  session.edit('F7alt', 'Typing');
  await Promise.all([first, second]);
  expect(begun).toEqual(['F7alt']);
  expect(session.playing.on).toBe(true);
  session.playing.stop();

  await fetchBand();
  void session.play();
  expect(woken, 'once it is here nothing is waited for').toBe(2);
  expect(begun).toEqual(['F7alt', 'F7alt']);
});
