import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { npm, ROOT } from './run.mjs';

const PREFIX = 'check:';

/**
 * The names of package.json's scripts that begin with `check:`, without that beginning: in their order there,
 * which has the longest first.
 */
export function checkNames() {
  const { scripts } = JSON.parse(readFileSync(`${ROOT}package.json`, 'utf8'));
  return Object.keys(scripts)
    .filter((name) => name.startsWith(PREFIX))
    .map((name) => name.slice(PREFIX.length));
}

/**
 * Runs checks, a few at a time, and prints one line for each; below a failed one all that it says.
 * @param {readonly string[]} names
 * @returns {Promise<{ passed: number, failed: number }>}
 */
export async function runChecks(names) {
  const waiting = [...names];
  const tally = { passed: 0, failed: 0 };
  const worker = async () => {
    for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) {
      const began = Date.now();
      const { code, output } = await npm(['run', '--silent', PREFIX + name], { quiet: true });
      const seconds = ((Date.now() - began) / 1000).toFixed(1);
      tally[code === 0 ? 'passed' : 'failed'] += 1;
      console.log(`${code === 0 ? 'passed' : 'FAILED'}  ${name}  (${seconds} s)`);
      if (code !== 0) console.log(output.trimEnd());
    }
  };
  await Promise.all(Array.from({ length: Math.min(4, availableParallelism()) }, worker));
  return tally;
}
