/**
 * What the built page may do, as a Content-Security-Policy: nothing but run and show its own files, and
 * turn text into code nowhere.
 */
export const POLICY = Object.freeze({
  'default-src': "'none'",
  'script-src': "'self'",
  'style-src': "'self'",
  'font-src': "'self'",
  'img-src': "'self' data: blob:",
  'media-src': "'self' blob:",
  'connect-src': "'self'",
  'worker-src': "'self'",
  'manifest-src': "'self'",
  'base-uri': "'none'",
  'form-action': "'none'",
  'require-trusted-types-for': "'script'",
  'trusted-types': 'default svelte-trusted-html',
});

const policy = Object.entries(POLICY)
  .map(([name, value]) => `${name} ${value}`)
  .join('; ');

/**
 * Puts the policy into the built page, before anything that it rules.
 * @returns {import('vite').Plugin}
 */
export function safety() {
  return {
    name: 'safety',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler: (html) =>
        html.replace(
          '<meta charset="utf-8" />',
          `$&\n    <meta http-equiv="Content-Security-Policy" content="${policy}" />`,
        ),
    },
  };
}
