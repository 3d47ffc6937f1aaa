import { readFileSync } from 'node:fs';
import { npm, ROOT } from './run.mjs';

/**
 * True when `node_modules` holds every package of the lock file in the version asked for. Packages
 * that are optional, such as builds for other systems, may be missing.
 * @param {string} folder of a project, with a trailing slash
 */
export function isInstalled(folder) {
  const wanted = packages(`${folder}package-lock.json`);
  const found = packages(`${folder}node_modules/.package-lock.json`);
  const isThere = Object.entries(wanted).map(
    ([path, { version, optional }]) => path === '' || optional || found[path]?.version === version,
  );
  return isThere.length > 0 && !isThere.includes(false);
}

/**
 * @param {string} lockFile
 * @returns {Record<string, { version?: string, optional?: boolean }>}
 */
function packages(lockFile) {
  try {
    return JSON.parse(readFileSync(lockFile, 'utf8')).packages ?? {};
  } catch {
    return {};
  }
}

/** Installs the packages of the lock file where they are missing or differ; ends the process when that fails. */
export async function installMissing() {
  if (isInstalled(ROOT)) return;
  console.log('Installing the packages of package-lock.json …');
  const { code } = await npm(['ci', '--include=dev', '--no-audit', '--no-fund']);
  if (code === 0) return;
  console.error('The packages could not be installed; what npm says about it stands above.');
  process.exit(1);
}
