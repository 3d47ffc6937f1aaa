import { expect, it } from 'vitest';
import { run } from '../../src/tools/run.mjs';

/** How many of each; `SOAK_HURT` sets it. */
const COUNT = Number(process.env['SOAK_HURT'] ?? 100_000);
/** The whole process with its code has no more than this, in megabytes. */
const MEMORY = 50;

it(`charts hurt on the way, ${COUNT} files and ${COUNT} links, read within ${MEMORY} MB`, async () => {
  const node = [`--max-old-space-size=${MEMORY}`, '--import', 'tsx'];
  const reader = ['tests/soak/hostile-reader.ts', String(COUNT)];
  const { code, output } = await run(process.execPath, [...node, ...reader], { quiet: true });
  expect(code, output).toBe(0);
  const { files, links } = JSON.parse(output) as Record<'files' | 'links', Record<string, number>>;
  console.info('files', files, 'links', links);
  for (const tally of [files, links]) expect(tally['opened']! + tally['refused']!).toBe(COUNT);
});
