import { readFileSync } from 'node:fs';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { createServer, transformWithOxc } from 'vite';
import { ROOT } from './run.mjs';

/** Said where the app cannot come. */
const MISSING = 'The page could not be loaded whole. Look to the connection and load it again.';
const NO_SCRIPTS = 'Vampwright is a band made of scripts. Allow them for this page, and it plays.';

/** The fonts that the first view is set in; the others come when a letter asks for one. */
const FACES = /\/(text|chords|signs-\d+)-[^/]*\.woff2$/;

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
    const { readFirstPreset } = await server.ssrLoadModule('/storage/first-preset.ts');
    const { default: Shell } = await server.ssrLoadModule('/ui/Shell.svelte');
    const { body } = await render(Shell, { props: { project: readFirstPreset().project } });
    return body
      .replace(/<!--.*?-->/gs, '')
      .replace(/(?<=<select[^>]*>).*?(?=<\/select>)/g, shorter)
      .replace(LATER, '')
      .replace(/<(input|textarea)/g, '$& readonly inert');
  } finally {
    await server.close();
  }
}

/**
 * What is chosen, and the two longest, which make the list as wide as all of them do.
 * @param {string} options of one list
 */
function shorter(options) {
  const all = options.match(/<option.*?<\/option>/g) ?? [];
  const words = (/** @type {string} */ option) => option.replace(/<.*?>/g, '').length;
  const [first, second] = all.toSorted((a, b) => words(b) - words(a));
  return all.filter((one) => one === first || one === second || one.includes(' selected')).join('');
}

/** What the page may do comes before anything that it rules. */
const POLICY = /<meta http-equiv="Content-Security-Policy"[^>]*>/;

/** What brings in the code, as the builder writes it. */
const ENTRY = /^ *<(script type="module"|link rel="modulepreload") .*\n/gm;

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
        const faces = files.map(({ fileName }) => fileName).filter((fileName) => FACES.test(fileName));
        // A browser that has come upon a policy looks ahead no further: what the first picture is made of is
        // named before the first script that it waits for, and the styles, which a script would wait for,
        // after that. The code is asked for last: it comes while that picture is laid out.
        const first = [
          `<link rel="preload" as="script" href="./${script.fileName}">`,
          ...styles.map((file) => `<link rel="preload" as="style" crossorigin href="./${file}">`),
          ...faces
            .sort()
            .map((file) => `<link rel="preload" as="font" type="font/woff2" crossorigin href="./${file}">`),
          // Nothing is painted before all of it is read: half a dock is lower than a whole one.
          '<link rel="expect" blocking="render" href="#app">',
        ];
        const begins = html.match(ENTRY) ?? [];
        const last = [
          ...parts
            .filter(({ fileName }) => !html.includes(fileName))
            .map(({ fileName }) => preload(fileName)),
          `<script src="./${script.fileName}"></script>`,
          ...styles.map((file) => `<link rel="stylesheet" crossorigin href="./${file}">`),
          ...begins.map((tag) => tag.trim()),
        ];
        return html
          .replace(ENTRY, '')
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
