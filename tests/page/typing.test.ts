import { expect, it } from 'vitest';
import { visit } from '../helpers/page.ts';

it('what is typed stands in the ribbon, and is what the band plays', async () => {
  const { page, complaints, close } = await visit();
  await page.getByLabel('Chart as text').fill('| Fm7 | Bb7 |');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText(/^Bar 2, round 1/).waitFor();
  expect(await page.getByRole('grid').innerText()).toMatch(/F\s*m7[^]*B♭\s*7/);
  expect(await page.getByRole('main').innerText()).not.toContain('altered');
  expect(complaints).toEqual([]);
  await close();
});

it('a mistake is named with its remedy while the rest is there to play', async () => {
  const { page, close } = await visit();
  await page.getByLabel('Chart as text').fill('| Dm7 | H7 | Cmaj7 |');
  expect(await page.getByRole('button', { name: /^Line 1, column 9/ }).innerText()).toMatch(/H/);
  expect(await page.getByRole('grid').innerText()).toMatch(/D\s*m7[^]*C\s*maj7/);
  await close();
});
