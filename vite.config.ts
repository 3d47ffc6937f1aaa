import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { playwright } from '@vitest/browser-playwright';
import { defineConfig, type TestProjectInlineConfiguration } from 'vitest/config';
import { launchOptions } from './src/tools/browser.mjs';
import { listFeels } from './src/tools/feels.mjs';
import { guide } from './src/tools/guide.mjs';
import { offline } from './src/tools/offline.mjs';
import { safety } from './src/tools/safety.mjs';
import { shell } from './src/tools/shell.mjs';

const testing = process.env['VITEST'] !== undefined;
const here = import.meta.dirname;
/** How many files are tested side by side. */
const maxWorkers = availableParallelism();
/** Tests that run in real time, and whose answer depends on it. */
const LIVE = '**/*.live.test.ts';
listFeels();

/** A group of tests that share where they run. `npm test` runs all groups but the soaks. */
const project = (test: TestProjectInlineConfiguration['test']): TestProjectInlineConfiguration => ({
  extends: true,
  test: {
    // A slow machine is no fault: what waits, waits long.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    expect: { poll: { timeout: 15_000 } },
    ...test,
    benchmark: { include: [], ...test?.benchmark },
  },
});

/** Chromium, with real Web Audio. */
const inChromium = () => ({
  enabled: true,
  headless: true,
  screenshotFailures: false,
  provider: playwright({ launchOptions: launchOptions() }),
  instances: [{ browser: 'chromium' as const }],
});

export default defineConfig({
  root: testing ? here : join(here, 'src'),
  base: './',
  cacheDir: join(here, 'node_modules/.vite'),
  plugins: [svelte({ configFile: false }), safety(), shell(), guide(), offline()],
  server: { fs: { allow: [here] } },
  build: {
    outDir: join(here, 'dist'),
    emptyOutDir: true,
    target: 'es2022',
    manifest: true,
    // No data addresses: the page's policy lets in files of its own only.
    assetsInlineLimit: 0,
    // How much is fetched, compressed, is a test of its own.
    chunkSizeWarningLimit: 1000,
    license: { fileName: 'licences.txt' },
    rolldownOptions: {
      checks: { bundlerTimings: false },
      // The engine is pure: to load a module of it does nothing.
      output: {
        codeSplitting: {
          groups: [
            // What runs before the first picture, apart from all that runs after it; and the one module that
            // makes an error as it is loaded, for which a browser may read its whole file once more.
            {
              name: 'begin',
              test: /\/(arrival\/index|trust)\.ts$|vite\/(preload-helper|modulepreload-)|svelte\/src\/internal\/client\/constants\.js$/,
              priority: 1,
            },
            { name: 'app', tags: ['$initial'], test: (id) => !/\/src\/(main|start)\.ts$|\.html$/.test(id) },
          ],
        },
      },
      treeshake: { moduleSideEffects: [{ test: /\/src\/engine\//, sideEffects: false }] },
    },
  },
  optimizeDeps: {
    // One that is found only when a test is under way has the page loaded anew beneath all tests.
    include: [
      'axe-core',
      'fflate',
      'idb',
      'mediabunny',
      'pure-rand/generator/xoroshiro128plus',
      'qr',
      'qr/decode.js',
      'saxes',
      'tonal',
      'valibot',
      'vexflow/core',
      'vitest-browser-svelte',
      'tone/build/esm/component/channel/PanVol.js',
      'tone/build/esm/component/filter/BiquadFilter.js',
      'tone/build/esm/core/context/Context.js',
      'tone/build/esm/core/context/GlobalContext.js',
      'tone/build/esm/core/context/Offline.js',
      'tone/build/esm/core/context/ToneAudioNode.js',
      'tone/build/esm/instrument/Sampler.js',
    ],
  },
  ...(testing && {
    test: {
      projects: [
        // The engine keeps nothing between two calls, so that its tests may share a process.
        project({
          name: 'engine',
          environment: 'node',
          include: ['tests/{engine,laws,export,midi}/**/*.test.ts'],
          isolate: false,
          maxWorkers,
          benchmark: { include: ['tests/engine/**/*.bench.ts'] },
        }),
        project({
          name: 'workshop',
          environment: 'node',
          include: ['tests/{architecture,storage,tools}/**/*.test.ts'],
          maxWorkers,
        }),
        project({
          name: 'browser',
          include: ['tests/{audio,ui}/**/*.test.ts'],
          exclude: [LIVE],
          maxWorkers,
          sequence: { groupOrder: 1 },
          benchmark: { include: ['tests/audio/**/*.bench.ts'] },
          browser: inChromium(),
        }),
        project({
          name: 'page',
          environment: 'node',
          include: ['tests/page/**/*.test.ts'],
          exclude: [LIVE],
          globalSetup: ['tests/helpers/site.ts'],
          maxWorkers,
          sequence: { groupOrder: 2 },
        }),
        // What keeps time is held to the clock, one file after the other, with nothing beside it.
        project({
          name: 'live',
          include: ['tests/{audio,ui}/**/*.live.test.ts'],
          fileParallelism: false,
          sequence: { groupOrder: 3 },
          browser: inChromium(),
        }),
        project({
          name: 'live-page',
          environment: 'node',
          include: ['tests/page/**/*.live.test.ts'],
          globalSetup: ['tests/helpers/site.ts'],
          fileParallelism: false,
          sequence: { groupOrder: 4 },
        }),
        project({
          name: 'soak',
          environment: 'node',
          include: ['tests/soak/**/*.test.ts'],
          testTimeout: 600_000,
        }),
        project({
          name: 'soak-sound',
          include: ['tests/audio/**/*.soak.ts'],
          testTimeout: 1_200_000,
          browser: inChromium(),
        }),
      ],
    },
  }),
});
