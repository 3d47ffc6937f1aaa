import { readFileSync } from 'node:fs';
import { npm, ROOT } from './run.mjs';

/**
 * True when `node_modules` holds every package of the lock file in the version asked for. Packages
 * that are optional, such as builds for other systems, may be missing.
 */
function isInstalled() {
  const wanted = packages(`${ROOT}package-lock.json`);
  const found = packages(`${ROOT}node_modules/.package-lock.json`);
  return Object.entries(wanted).every(
    ([path, { version, optional }]) => path === '' || optional || found[path]?.version === version,
  );
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
  if (isInstalled()) return;
  console.log('Installing the packages of package-lock.json …');
  const { code } = await npm(['ci', '--include=dev', '--no-audit', '--no-fund']);
  if (code === 0) return;
  console.error('The packages could not be installed; what npm says about it stands above.');
  process.exit(1);
}
