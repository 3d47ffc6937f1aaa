import js from '@eslint/js';
import { defineConfig, globalIgnores } from 'eslint/config';
import svelte from 'eslint-plugin-svelte';
import ts from 'typescript-eslint';

/** Built-ins whose answer depends on the machine or the moment; the engine's may not. */
const CHANGEABLE = ['Date', 'Intl', 'globalThis'];
/** The device's storage, which only `src/storage`, what runs ahead of it and the composition root touch. */
const DEVICE = ['localStorage', 'sessionStorage', 'indexedDB', 'caches'];

/** @param {...string} names */
const off = (...names) =>
  Object.fromEntries(names.map((name) => [`@typescript-eslint/no-unsafe-${name}`, 'off']));

export default defineConfig(
  globalIgnores(['dist', 'coverage']),
  js.configs.recommended,
  ...ts.configs.strictTypeChecked,
  ...svelte.configs.recommended,
  {
    linterOptions: { reportUnusedDisableDirectives: 'error' },
    languageOptions: {
      parserOptions: {
        projectService: { allowDefaultProject: ['.*.js', '.*.cjs'] },
        extraFileExtensions: ['.svelte'],
      },
    },
    rules: {
      // `== null` means neither null nor undefined, and nothing else.
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'no-console': 'error',
      // The compiler knows every name there is.
      'no-undef': 'off',
      'no-var': 'error',
      'object-shorthand': 'error',
      'prefer-const': 'error',
      'max-lines': ['error', { max: 300, skipBlankLines: true, skipComments: true }],
      '@typescript-eslint/consistent-type-imports': [
        'error',
        { fixStyle: 'inline-type-imports', disallowTypeAnnotations: false },
      ],
      '@typescript-eslint/no-extraneous-class': 'off',
      // A function that promises may be `async` without waiting, so that what it throws is a rejection.
      '@typescript-eslint/require-await': 'off',
      '@typescript-eslint/no-meaningless-void-operator': 'off',
      '@typescript-eslint/no-confusing-void-expression': 'off',
      // Spreading a text gives its characters, which is what is wanted.
      '@typescript-eslint/no-misused-spread': 'off',
      '@typescript-eslint/restrict-plus-operands': ['error', { allowNumberAndString: true }],
      // With `noUncheckedIndexedAccess` on, `!` is how a known index is said to be known.
      '@typescript-eslint/no-non-null-assertion': 'off',
      // Units are branded numbers, which this rule does not know to be numbers.
      '@typescript-eslint/no-unsafe-unary-minus': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      '@typescript-eslint/restrict-template-expressions': [
        'error',
        { allowNumber: true, allowBoolean: true, allowArray: true },
      ],
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser } },
    rules: {
      'prefer-const': 'off',
      'svelte/prefer-const': 'error',
      'svelte/no-at-html-tags': 'error',
      'svelte/require-each-key': 'error',
    },
  },
  {
    files: ['src/engine/**/*.ts'],
    rules: {
      'no-restricted-globals': ['error', ...CHANGEABLE],
      'no-restricted-properties': ['error', { object: 'Math', property: 'random' }],
    },
  },
  {
    files: ['src/**/*.{ts,svelte}'],
    ignores: ['src/engine/**', 'src/storage/**', 'src/arrival/**', 'src/main.ts'],
    rules: { 'no-restricted-globals': ['error', ...DEVICE] },
  },
  { files: ['src/**/data.ts', 'src/**/data/*.ts', 'tests/**'], rules: { 'max-lines': 'off' } },
  { files: ['tests/**'], rules: { 'no-console': 'off' } },
  { files: ['**/*.d.ts'], rules: { '@typescript-eslint/no-unused-vars': 'off' } },
  {
    // Scripts of the workshop talk to the terminal and to packages without types.
    files: ['src/tools/**'],
    rules: { 'no-console': 'off', ...off('argument', 'assignment', 'call', 'member-access', 'return') },
  },
  {
    files: ['**/*.{js,cjs}'],
    extends: [ts.configs.disableTypeChecked],
    rules: { '@typescript-eslint/no-require-imports': 'off' },
  },
);
