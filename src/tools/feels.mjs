// Lists the feels in presets/feels for the engine, which reads no folder. Run by vite.config.ts whenever
// the app is served, built or tested, so that a feel is added by putting its file there.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const ROOT = new URL('../../', import.meta.url);
const FOLDER = fileURLToPath(new URL('presets/feels/', ROOT));
const LIST = fileURLToPath(new URL('src/engine/band/feel-files.ts', ROOT));
const HEADS = fileURLToPath(new URL('src/engine/band/feel-heads.ts', ROOT));

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

/** @param {unknown} value */
const literal = (value) => (typeof value === 'string' ? `'${value.replaceAll("'", "\\'")}'` : String(value));

/** The module that says what of each feel is known without the rest of it. @param {readonly string[]} names */
export function headsOf(names) {
  const heads = names
    .map((name) => JSON.parse(readFileSync(FOLDER + name, 'utf8')))
    .map(({ id, name, order, swing }) => Object.entries({ id, name, order, swing }))
    .map((head) => `{ ${head.map(([key, value]) => `${key}: ${literal(value)}`).join(', ')} }`);
  return `// Written by src/tools/feels.mjs from what lies in presets/feels; not by hand.

/** The heads of all feels in \`presets/feels\`, as they stand in their files. */
export const FEEL_HEADS: readonly unknown[] = [
${heads.map((head) => `  ${head},\n`).join('')}];
`;
}

/** Writes the lists anew where they are not those of the folder. */
export function listFeels() {
  write(LIST, listOf(feelFiles()));
  write(HEADS, headsOf(feelFiles()));
}

/** @param {string} file @param {string} text */
function write(file, text) {
  if (!existsSync(file) || readFileSync(file, 'utf8') !== text) writeFileSync(file, text);
}
