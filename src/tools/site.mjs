import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { compressed } from './compress.mjs';
import { run, ROOT } from './run.mjs';

/**
 * Builds the app into a folder, which is emptied first.
 * @param {string} folder
 * @throws {Error} with what the builder says, when the sources do not build
 */
export async function build(folder) {
  // A process of its own: inside a test run the builder would take itself for a part of the tests.
  const { VITEST: _, ...env } = process.env;
  const vite = `${ROOT}node_modules/vite/bin/vite.js`;
  const args = [vite, 'build', '--logLevel', 'warn', '--outDir', folder, '--emptyOutDir'];
  const { code, output } = await run(process.execPath, args, {
    quiet: true,
    env: { ...env, NODE_ENV: 'production' },
  });
  if (code !== 0) throw new Error(`the app does not build:\n${output}`);
  if (output.trim()) console.log(output.trim());
}

/**
 * What stands under a name with a hash in it never changes: browsers need not ask for it again.
 * @param {string} folder
 * @returns {import('vite').Plugin}
 */
function lasting(folder) {
  return {
    name: 'lasting',
    configurePreviewServer({ middlewares }) {
      middlewares.use((request, response, next) => {
        const { pathname } = new URL(request.url ?? '/', 'http://localhost');
        if (pathname.includes('/assets/') && existsSync(join(folder, pathname)))
          response.setHeader('Cache-Control', 'public, max-age=31536000, immutable');
        next();
      });
    },
  };
}

/**
 * Serves a folder of files to this computer only, compressed and with the headers that DEVELOPERS.md asks of
 * a host. A file that is not there is a 404.
 * @param {string} folder
 * @param {number} [port] the port to begin with; the next free one is taken
 * @returns {Promise<{ address: string, close: () => Promise<void> }>} `address` ends in a slash
 */
export async function serve(folder, port = 5230) {
  const { preview } = await import('vite');
  const { plugin, ready } = compressed(folder);
  await ready();
  const server = await preview({
    configFile: false,
    root: folder,
    appType: 'mpa',
    logLevel: 'error',
    build: { outDir: '.' },
    plugins: [lasting(folder), plugin],
    preview: { host: '127.0.0.1', port },
  });
  const address = server.resolvedUrls?.local[0];
  if (!address) throw new Error('the server has no address');
  return { address, close: () => server.close() };
}
