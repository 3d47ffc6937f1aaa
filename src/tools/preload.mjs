/** The fonts that the first view is set in; the others come when a letter asks for one. */
const FIRST = /^(text|chords|signs-\d+)-.*\.woff2$/;

/**
 * Lets the built page ask for its fonts together with its scripts, not after them: what is read first is
 * then set in its own face from the start, and nothing moves when the face comes.
 * @returns {import('vite').Plugin}
 */
export function preloadFonts() {
  return {
    name: 'preload-fonts',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler: (_, { bundle }) =>
        Object.keys(bundle ?? {})
          .filter((file) => FIRST.test(file.slice(file.lastIndexOf('/') + 1)))
          .sort()
          .map((file) => ({
            tag: 'link',
            attrs: { rel: 'preload', as: 'font', type: 'font/woff2', crossorigin: true, href: `./${file}` },
            injectTo: 'head',
          })),
    },
  };
}
