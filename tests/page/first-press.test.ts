import { expect, it } from 'vitest';
import { SIZES } from '../../src/tools/browser.mjs';
import { visit } from '../helpers/page.ts';

it.each(Object.entries(SIZES))(
  'one press plays the altered vamp, one stops it, on a %s',
  async (_, viewport) => {
    const { page, complaints, foreign, close } = await visit({ viewport });
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByText(/^Bar 2, round 1/).waitFor();
    expect(await page.getByRole('main').innerText()).toContain('C altered');
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
    expect(complaints).toEqual([]);
    expect(foreign).toEqual([]);
    await close();
  },
);
