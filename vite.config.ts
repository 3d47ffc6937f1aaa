import { svelte } from '@sveltejs/vite-plugin-svelte';
import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { launchOptions } from './tests/helpers/chromium.ts';

const testing = process.env['VITEST'] !== undefined;
const here = import.meta.dirname;

export default defineConfig({
  root: testing ? here : 'src',
  base: './',
  plugins: [svelte()],
  server: { fs: { allow: ['..'] } },
  build: { outDir: '../dist', emptyOutDir: true, target: 'es2022' },
  optimizeDeps: { include: ['tone', 'tonal', 'vitest-browser-svelte'] },
  ...(testing && {
    test: {
      projects: [
        {
          extends: true,
          test: {
            name: 'engine',
            environment: 'node',
            include: ['tests/{engine,laws,architecture,storage,tools}/**/*.test.ts'],
          },
        },
        {
          extends: true,
          test: {
            name: 'browser',
            include: ['tests/{audio,ui}/**/*.test.ts'],
            browser: {
              enabled: true,
              headless: true,
              screenshotFailures: false,
              provider: playwright({ launchOptions: launchOptions() }),
              instances: [{ browser: 'chromium' }],
            },
          },
        },
        {
          extends: true,
          test: {
            name: 'page',
            environment: 'node',
            include: ['tests/page/**/*.test.ts'],
            testTimeout: 60_000,
            fileParallelism: false,
          },
        },
      ],
    },
  }),
});
