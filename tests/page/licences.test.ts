import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, inject, it } from 'vitest';
import { visit } from '../helpers/page.ts';

it('the app says whose its sounds and letters are, and brings the full texts with it', async () => {
  const { page, complaints, close } = await visit();
  await page.getByRole('button', { name: 'Help', exact: true }).click();
  const links = page.getByRole('link', { name: /licence/i });
  await links.nth(3).waitFor();
  const found = await links.evaluateAll((all) =>
    all.map((link) => [link.textContent, link.getAttribute('href')]),
  );
  const texts = await Promise.all(
    found.map(async ([said, href]) => {
      const answer = await page.request.get(new URL(href!, page.url()).href);
      expect(answer.status(), said!).toBe(200);
      return [said, await answer.text()] as const;
    }),
  );
  for (const [source, words] of [
    ['FluidR3', /Frank Wen[^]*Permission is hereby granted, free of charge/],
    ['Bricolage', /SIL OPEN FONT LICENSE Version 1\.1/],
    ['Encode', /SIL OPEN FONT LICENSE Version 1\.1/],
    ['building blocks', /## tone/],
  ] as const) {
    expect(texts.find(([said]) => said!.includes(source))?.[1], source).toMatch(words);
  }
  expect(complaints).toEqual([]);
  await close();
});

it('the build names the licence of every package that went into it', () => {
  const text = readFileSync(join(inject('site').folder, 'licences.txt'), 'utf8');
  for (const name of ['tone', 'svelte', 'idb', 'valibot', 'pure-rand']) {
    expect(text, name).toMatch(new RegExp(`^## ${name}\\b.*\\((?:MIT|ISC)\\)`, 'm'));
  }
});
