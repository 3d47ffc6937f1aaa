import { expect, inject, it } from 'vitest';
import { killWhileTyping } from '../helpers/killing.ts';

it('killed while typing: at most the last second is lost, and the library opens', async () => {
  const { address } = inject('site');
  const { worst, ...harm } = await killWhileTyping(address, 3, 20250301);
  console.log(`most typing lost: ${Math.round(worst)} ms`);
  expect(harm).toEqual({ lost: 0, broken: 0 });
});
