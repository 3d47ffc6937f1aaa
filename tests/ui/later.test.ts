import { expect, it } from 'vitest';
import { render } from 'vitest-browser-svelte';
import Fetched from './harness/Fetched.svelte';

it('says what could not be fetched, and fetches it when it is asked to once more', async () => {
  let tries = 0;
  const load = () => (++tries === 1 ? Promise.reject(new Error('no network')) : Promise.resolve('the sheet'));
  const screen = await render(Fetched, { load });
  await expect.element(screen.getByRole('alert')).toHaveTextContent(/This sheet could not be fetched/);
  await screen.getByRole('button', { name: 'Try again' }).click();
  await expect.element(screen.getByText('Here is the sheet.')).toBeInTheDocument();
  await expect.element(screen.getByRole('alert')).not.toBeInTheDocument();
  expect(tries).toBe(2);
});
