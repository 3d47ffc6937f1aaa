import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { transformWithOxc } from 'vite';
import { ROOT } from './run.mjs';

/** Not part of the app as it runs. */
const LEFT_OUT = /^(sw\.js$|\.vite\/|.*\.map$)/;

/**
 * Writes the service worker of a built app, which keeps every file that stands in the folder.
 * @param {string} folder
 * @returns {Promise<{ files: number, bytes: number }>} what it keeps
 */
export async function writeWorker(folder) {
  const names = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).replaceAll(sep, '/'))
    .filter((name) => !LEFT_OUT.test(name))
    .sort();
  const source = readFileSync(`${ROOT}src/offline/worker.ts`, 'utf8');
  const version = createHash('sha256').update(source);
  let bytes = 0;
  for (const name of names) {
    const content = readFileSync(join(folder, name));
    bytes += content.length;
    version.update(name).update(content);
  }
  // Asked for by its folder: some hosts send the page's own name on to that.
  const files = names.map((name) => (name === 'index.html' ? './' : name));
  const { code } = await transformWithOxc(source, 'worker.ts');
  const filled = `const FILES = ${JSON.stringify(files)};\nconst VERSION = "${version.digest('hex').slice(0, 16)}";\n`;
  writeFileSync(join(folder, 'sw.js'), filled + code.replace(/^export \{\s*\};?$/m, ''));
  return { files: names.length, bytes };
}

/**
 * Writes the service worker after each build.
 * @returns {import('vite').Plugin}
 */
export function offline() {
  return {
    name: 'offline',
    apply: 'build',
    enforce: 'post',
    writeBundle: {
      order: 'post',
      sequential: true,
      async handler({ dir }) {
        if (dir !== undefined) await writeWorker(dir);
      },
    },
  };
}
