import { existsSync, readFileSync, statSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { extname, join, sep } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress, constants } from 'node:zlib';

/** What gets smaller; sounds, fonts and pictures are compressed as they are. */
const TYPES = new Map([
  ['.html', 'text/html;charset=utf-8'],
  ['.js', 'text/javascript'],
  ['.css', 'text/css'],
  ['.json', 'application/json'],
  ['.svg', 'image/svg+xml'],
  ['.txt', 'text/plain;charset=utf-8'],
  ['.webmanifest', 'application/manifest+json'],
]);
/** How hard it is tried, of 11: for what a page begins with there is time beforehand. */
const QUALITY = { ready: 11, asked: 9 };
const squeeze = promisify(brotliCompress);

/**
 * Sends text, scripts and styles in Brotli to a browser that reads it; each is compressed once.
 * @param {string} folder
 * @returns {{ plugin: import('vite').Plugin, ready: () => Promise<void> }} `ready` compresses beforehand what
 *   the page in the folder names
 */
export function compressed(folder) {
  /** @type {Map<string, Promise<Buffer>>} by the file and its age */
  const kept = new Map();

  /**
   * @param {string} file
   * @param {number} quality
   */
  function small(file, quality) {
    const key = `${file} ${statSync(file).mtimeMs}`;
    const there = kept.get(key);
    if (there !== undefined) return there;
    const coming = readFile(file).then((bytes) =>
      squeeze(bytes, {
        params: {
          [constants.BROTLI_PARAM_QUALITY]: quality,
          [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
        },
      }),
    );
    kept.set(key, coming);
    return coming;
  }

  /** @param {import('node:http').IncomingMessage} request */
  function fileFor(request) {
    const accepts = request.headers['accept-encoding'] ?? '';
    if (request.method !== 'GET' || !/\bbr\b/.test(accepts)) return null;
    const { pathname } = new URL(request.url ?? '/', 'http://localhost');
    const file = join(folder, pathname.endsWith('/') ? `${pathname}index.html` : pathname);
    const isOurs = file.startsWith(join(folder, sep)) && TYPES.has(extname(file)) && existsSync(file);
    return isOurs ? file : null;
  }

  return {
    plugin: {
      name: 'compressed',
      configurePreviewServer({ middlewares }) {
        middlewares.use((request, response, next) => {
          const file = fileFor(request);
          if (file === null) {
            next();
            return;
          }
          const { mtimeMs, size } = statSync(file);
          const tag = `W/"${size}-${mtimeMs}"`;
          response.setHeader('Vary', 'Accept-Encoding');
          response.setHeader('ETag', tag);
          if (!response.hasHeader('Cache-Control')) response.setHeader('Cache-Control', 'no-cache');
          if (request.headers['if-none-match'] === tag) {
            response.statusCode = 304;
            response.end();
            return;
          }
          void small(file, QUALITY.asked).then((body) => {
            response.setHeader('Content-Type', TYPES.get(extname(file)) ?? '');
            response.setHeader('Content-Encoding', 'br');
            response.setHeader('Content-Length', body.length);
            response.end(body);
          }, next);
        });
      },
    },
    async ready() {
      const page = join(folder, 'index.html');
      if (!existsSync(page)) return;
      const named = [...readFileSync(page, 'utf8').matchAll(/(?:src|href)="\.\/([^"]+\.(?:js|css))"/g)];
      const files = [page, ...named.map(([, name]) => join(folder, name ?? ''))].filter(existsSync);
      await Promise.all(files.map((file) => small(file, QUALITY.ready)));
    },
  };
}
