import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesBelow, REPO } from '../helpers/files.ts';
import { impurities } from '../helpers/impure.ts';

const sources = filesBelow('src/engine').filter((file) => file.endsWith('.ts'));

describe('the engine depends on nothing but its input', () => {
  it('has sources to look at', () => {
    expect(sources.length).toBeGreaterThan(20);
  });

  it.each(sources)('%s', (file) => {
    expect(impurities(readFileSync(join(REPO, file), 'utf8'))).toEqual([]);
  });
});

describe('what would tie the engine to a moment or a machine is found', () => {
  it.each([
    'const luck = Math.random();',
    'const now = Date.now();',
    'const now = new Date();',
    'const now = performance.now();',
    'setTimeout(() => 1, 10);',
    'const wide = window.innerWidth;',
    'document.title = "Dm7";',
    'const text = (1234).toLocaleString();',
    'names.sort((a, b) => a.localeCompare(b));',
    'const charts = import.meta.glob("./*.json");',
    'export const table = { now: Date };',
  ])('%s', (source) => {
    expect(impurities(`const names: string[] = [];\n${source}`)).toHaveLength(1);
  });

  it('leaves words in comments, strings and own names alone', () => {
    const source = `
      // Date, Math.random, window
      import { performance } from './performance/index.ts';
      interface Form { readonly window: number }
      const text = 'document';
      const wide = (form: Form) => form.window + Math.floor(performance.length);
    `;
    expect(impurities(source)).toEqual([]);
  });
});
