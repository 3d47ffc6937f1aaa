import { readFileSync } from 'node:fs';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { createServer, transformWithOxc } from 'vite';
import { ROOT } from './run.mjs';

/** Said where the app cannot come. */
const MISSING = 'The page could not be loaded whole. Look to the connection and load it again.';
const NO_SCRIPTS = 'Vampwright is a band made of scripts. Allow them for this page, and it plays.';

/** What is of no use before the app is there: places for it to refer to, and sizes it has measured. */
const LATER = / (id|style|for|popover|popovertarget|aria-controls|aria-describedby)(="[^"]*")?(?=[ />])/g;

/**
 * Draws the first view as the app's own components draw it.
 * @returns {Promise<string>} HTML
 */
async function draw() {
  const server = await createServer({
    configFile: false,
    root: `${ROOT}src`,
    appType: 'custom',
    logLevel: 'error',
    optimizeDeps: { noDiscovery: true },
    server: { middlewareMode: true, hmr: false, ws: false, watch: null },
    plugins: [svelte({ configFile: false })],
  });
  try {
    const { render } = await server.ssrLoadModule('svelte/server');
    const { readFirstPreset } = await server.ssrLoadModule('/storage/presets.ts');
    const { default: Shell } = await server.ssrLoadModule('/ui/Shell.svelte');
    const { body } = await render(Shell, { props: { project: readFirstPreset().project } });
    return body
      .replace(/<!--.*?-->/gs, '')
      .replace(LATER, '')
      .replace(/<(input|textarea)/g, '$& readonly');
  } finally {
    await server.close();
  }
}

/** What the page may do comes before anything that it rules. */
const POLICY = /<meta http-equiv="Content-Security-Policy"[^>]*>/;

/** @param {string} file of a script without imports */
async function classic(file) {
  const { code } = await transformWithOxc(readFileSync(file, 'utf8'), file, { target: 'es2022' });
  return code.replace(/^export \{\s*\};?$/m, '');
}

/**
 * Lets the built page show its first view before its code is there, and asks for that code and its styles
 * together with the page.
 * @returns {import('vite').Plugin}
 */
export function shell() {
  let drawn = '';
  return {
    name: 'shell',
    apply: 'build',
    async buildStart() {
      drawn = await draw();
      const source = await classic(`${ROOT}src/arrival/early.ts`);
      this.emitFile({ type: 'asset', name: 'early.js', source });
      this.emitFile({ type: 'chunk', id: `${ROOT}src/main.ts`, name: 'main' });
    },
    transformIndexHtml: {
      order: 'post',
      handler(html, { bundle }) {
        const files = Object.values(bundle ?? {});
        const script = files.find(({ fileName }) => /\/early-[^/]+\.js$/.test(fileName));
        const main = files.find((file) => file.type === 'chunk' && file.facadeModuleId?.endsWith('/main.ts'));
        if (script === undefined || main?.type !== 'chunk') throw new Error('the app has no beginning');
        const parts = [main, ...files.filter(({ fileName }) => main.imports.includes(fileName))];
        const styles = parts.flatMap((part) =>
          part.type === 'chunk' ? [...(part.viteMetadata?.importedCss ?? [])] : [],
        );
        // A browser that has come upon a policy looks ahead no further: what is needed is named before the
        // first script that it waits for, and the styles, which a script would wait for, after that.
        const first = [
          `<link rel="preload" as="script" href="./${script.fileName}">`,
          ...styles.map((file) => `<link rel="preload" as="style" crossorigin href="./${file}">`),
          // Nothing is painted before all of it is read: half a dock is lower than a whole one.
          '<link rel="expect" blocking="render" href="#app">',
        ];
        const last = [
          ...parts
            .filter(({ fileName }) => !html.includes(fileName))
            .map(({ fileName }) => preload(fileName)),
          `<script src="./${script.fileName}"></script>`,
          ...styles.map((file) => `<link rel="stylesheet" crossorigin href="./${file}">`),
        ];
        return html
          .replace(POLICY, (policy) => [policy, ...first].join('\n    '))
          .replace('</head>', (end) => `  ${last.join('\n    ')}\n  ${end}`)
          .replace('<div id="app">', () => `${shellOf(drawn)}\n    <div id="app">`);
      },
    },
  };
}

/** @param {string} drawn */
const shellOf = (drawn) =>
  `<div id="shell" aria-busy="true">${drawn}<p class="missing" role="alert" hidden>${MISSING}</p>` +
  `<noscript><p class="missing">${NO_SCRIPTS}</p></noscript></div>`;

/** @param {string} file */
const preload = (file) => `<link rel="modulepreload" fetchpriority="low" crossorigin href="./${file}">`;
