import { execFile } from 'node:child_process';
import { join } from 'node:path';

const repo = join(import.meta.dirname, '../..');

/**
 * The imports that break the table of layers, each as `rule: importer → imported`.
 * @param root a folder laid out like this project
 * @param places files and folders within it
 */
export function forbiddenImports(root: string, ...places: readonly string[]): Promise<string[]> {
  const program = join(repo, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
  const args = ['--config', join(repo, '.dependency-cruiser.cjs'), '--output-type', 'json', ...places];
  return new Promise((done, fail) => {
    execFile(process.execPath, [program, ...args], { cwd: root, maxBuffer: 2 ** 26 }, (error, stdout) => {
      try {
        const { summary } = JSON.parse(stdout) as {
          summary: { violations: { rule: { name: string }; from: string; to: string }[] };
        };
        done(summary.violations.map(({ rule, from, to }) => `${rule.name}: ${from} → ${to}`).sort());
      } catch {
        fail(error ?? new Error(`dependency-cruiser printed no result: ${stdout}`));
      }
    });
  });
}
