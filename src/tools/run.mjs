import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** The folder of the project, with a trailing slash; commands run there wherever they were typed. */
export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/**
 * Runs a program to its end.
 * @param {string} program
 * @param {readonly string[]} args
 * @param {{ quiet?: boolean, env?: NodeJS.ProcessEnv }} [options] `quiet` collects what is printed
 *   instead of passing it on
 * @returns {Promise<{ code: number, output: string }>} code 127 when the program cannot be started
 */
export function run(program, args, { quiet = false, env = process.env } = {}) {
  return new Promise((done) => {
    const child = spawn(program, args, { cwd: ROOT, env, stdio: quiet ? 'pipe' : 'inherit' });
    let output = '';
    child.stdout?.on('data', (chunk) => (output += String(chunk)));
    child.stderr?.on('data', (chunk) => (output += String(chunk)));
    child.on('error', (error) => done({ code: 127, output: error.message }));
    child.on('close', (code) => done({ code: code ?? 1, output }));
  });
}

/**
 * Runs npm, the very one that runs this script where there is one.
 * @param {readonly string[]} args
 * @param {Parameters<typeof run>[2]} [options]
 */
export function npm(args, options) {
  const script = process.env['npm_execpath'];
  if (script?.endsWith('js')) return run(process.execPath, [script, ...args], options);
  return run(process.platform === 'win32' ? 'npm.cmd' : 'npm', args, options);
}
