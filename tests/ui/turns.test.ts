import { expect, it } from 'vitest';
import { render } from 'vitest-browser-svelte';
import { Turns } from '../../src/ui/turns.svelte.ts';
import Parts from './harness/Parts.svelte';

/**
 * Puts a small page together.
 * @param ms how long each part takes
 */
async function put(turns: Turns | null, ms: number) {
  const log: string[] = [];
  const comes = (name: string) => {
    log.push(name);
    for (const until = performance.now() + ms; performance.now() < until;);
    return name;
  };
  const screen = await render(Parts, { turns, comes, more: { wished: false } });
  const run = () =>
    turns?.run({
      pause: () => {
        log.push('|');
        return Promise.resolve();
      },
      ready: () => log.push('ready'),
      whole: () => log.push('whole'),
    });
  return { screen, log, run };
}

it('gives each part that takes long a task of its own, the first view before all else', async () => {
  const { log, run } = await put(new Turns(), 6);
  expect(log).toEqual([]);
  await run();
  expect(log.join(' ')).toBe('| first | in the first | second ready | late | in the late | last whole');
});

it('takes several parts together where they are quick', async () => {
  const { log, run } = await put(new Turns(), 0);
  await run();
  expect(log.filter((one) => one === '|').length).toBeLessThan(6);
  expect(log.filter((one) => one !== '|').join(', ')).toBe(
    'first, in the first, second, ready, late, in the late, last, whole',
  );
});

it('lets what is asked for once all is there come at once', async () => {
  const turns = new Turns();
  const { screen, log, run } = await put(turns, 0);
  await run();
  await screen.rerender({ more: { wished: true } });
  expect(log.at(-1)).toBe('afterwards');
});

it('lets all come at once where there is no order', async () => {
  const { log } = await put(null, 0);
  expect(new Set(log)).toEqual(new Set(['first', 'in the first', 'second', 'late', 'in the late', 'last']));
});
