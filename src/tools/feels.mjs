// Lists the feels in presets/feels for the engine, which reads no folder. Run by vite.config.ts whenever
// the app is served, built or tested, so that a feel is added by putting its file there.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const ROOT = new URL('../../', import.meta.url);
const FOLDER = fileURLToPath(new URL('presets/feels/', ROOT));
const LIST = fileURLToPath(new URL('src/engine/band/feel-files.ts', ROOT));

/** The files of feels in a folder, by name. @param {string} folder */
export const feelFiles = (folder = FOLDER) =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.json'))
    .sort();

/** The module that imports these files. @param {readonly string[]} names */
export function listOf(names) {
  const imports = names.map(
    (name, index) => `import feel${index} from '../../../presets/feels/${name}' with { type: 'json' };\n`,
  );
  return `// Written by src/tools/feels.mjs from what lies in presets/feels; not by hand.
${imports.join('')}
/** Every feel in \`presets/feels\`, as it stands in its file. */
export const FEEL_FILES: readonly unknown[] = [
${names.map((_, index) => `  feel${index},\n`).join('')}];
`;
}

/** Writes the list anew where it is not that of the folder. */
export function listFeels() {
  const list = listOf(feelFiles());
  if (!existsSync(LIST) || readFileSync(LIST, 'utf8') !== list) writeFileSync(LIST, list);
}
