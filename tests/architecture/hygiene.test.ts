import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesBelow, REPO } from '../helpers/files.ts';

const TEXT = /\.(ts|mjs|cjs|js|svelte|html|css|json|md|txt|yml|yaml)$|(^|\/)\.[a-z]+rc$|^\.ci\//;

/** Each with a line that breaks it, so that a rule that has gone blind is noticed. */
const RULES = [
  {
    name: 'no path of somebody’s machine',
    files: /./,
    pattern: /(^|["'`(\s=])(\/(home|Users|root|work|mnt|srv|tmp)\/\w|[A-Z]:\\Users\\)/,
    broken: ['const file = "/ho', 'me/kim/chart.json"'].join(''),
  },
  {
    name: 'no test that is left out or runs alone',
    files: /^tests\/.*\.ts$/,
    pattern:
      /\b(it|test|describe|suite|bench)\.(\w+\.)*(only|skip|todo|skipIf|runIf|fails)\b|\b(xit|xdescribe|fit|fdescribe)\(/,
    broken: ['it.sk', 'ip("plays")'].join(''),
  },
  {
    name: 'no type check switched off',
    files: /\.(ts|svelte|mjs)$/,
    pattern: /@ts-(ignore|nocheck)|eslint[-]disable(?!-next-line [\w@/-]+ -- \w)/,
    broken: ['// @ts-ig', 'nore'].join(''),
  },
  {
    name: 'no file is asked of a network host',
    files: /^src\/(?!tools\/).*\.(ts|svelte|html|css)$/,
    pattern: /(\b(src|href)=|url\(|fetch\(|import\(?|from)\s*["'`]?https?:/,
    broken: '@import url(https://example.org/font.css);',
  },
  {
    name: 'no package is fetched from an address of its own',
    files: /^package-lock\.json$/,
    pattern: /"resolved": "(?!https:\/\/registry\.npmjs\.org\/)/,
    broken: '"resolved": "http://127.0.0.1/tone.tgz"',
  },
];

const files = filesBelow().filter((file) => TEXT.test(file) || file === 'package-lock.json');

describe.each(RULES)('$name', ({ files: where, pattern, broken }) => {
  it('holds in every file', () => {
    const offences = files
      .filter((file) => where.test(file))
      .flatMap((file) =>
        readFileSync(join(REPO, file), 'utf8')
          .split('\n')
          .map((line, at) => (pattern.test(line) ? `${file}:${at + 1} ${line.trim().slice(0, 100)}` : null)),
      )
      .filter((offence) => offence !== null);
    expect(offences).toEqual([]);
  });

  it('is seen to be broken where it is', () => {
    expect(broken).toMatch(pattern);
  });
});

it('keeps the top level to what tools demand there', () => {
  const own = ['README.md', 'DEVELOPERS.md', 'LICENSE', 'package.json', 'package-lock.json', 'tsconfig.json'];
  const folders = ['src', 'tests', 'presets', 'shared'];
  const top = new Set(filesBelow().map((file) => file.split('/')[0] ?? ''));
  const extra = [...top].filter((name) => !name.startsWith('.'));
  expect(extra.sort()).toEqual([...own, ...folders, 'vite.config.ts'].sort());
});
