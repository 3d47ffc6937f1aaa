// `npm run check:duplicates`: fails on a passage that stands twice in the sources, or twice in the tests.
import { readdirSync, readFileSync } from 'node:fs';
import { Detector, MemoryStore } from '@jscpd/core';
import { Tokenizer } from '@jscpd/tokenizer';
import { ROOT } from './run.mjs';

/** About ten lines: shorter likenesses are mostly imports and the shape of the language. */
const MIN_TOKENS = 80;

/** What counts: code, without comments and blanks. */
const mode = (/** @type {{ type: string }} */ { type }) =>
  !['ignore', 'comment', 'block-comment', 'empty', 'new_line'].includes(type);

let found = 0;
for (const folder of ['src', 'tests']) {
  const files = readdirSync(ROOT + folder, { recursive: true })
    .map((file) => `${folder}/${String(file)}`)
    .filter((file) => /\.(ts|svelte|mjs)$/.test(file) && !/\/data(\.ts$|\/)/.test(file));
  const detector = new Detector(new Tokenizer(), new MemoryStore(), [], {
    minTokens: MIN_TOKENS,
    minLines: 5,
    mode,
  });
  for (const file of files) {
    const format = file.endsWith('.mjs') ? 'javascript' : 'typescript';
    const clones = await detector.detect(file, readFileSync(ROOT + file, 'utf8'), format);
    found += clones.length;
    for (const { duplicationA, duplicationB } of clones) {
      const places = [duplicationA, duplicationB].map(
        ({ sourceId, start, end }) => `${sourceId}:${start.line}-${end.line}`,
      );
      console.log(places.join(' stands again in '));
    }
  }
}
process.exitCode = found === 0 ? 0 : 1;
