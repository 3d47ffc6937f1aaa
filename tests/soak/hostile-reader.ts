/**
 * A process of its own that reads hurt files and links by the thousand, within the memory it was started
 * with: `hostile-reader.ts <how many of each>`. Prints what became of them as JSON.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { readProject, writeProject } from '../../src/storage/file.ts';
import { readHurtFiles, readHurtLinks } from '../helpers/hostile.ts';

const count = Number(process.argv[2]);
const folder = new URL('../../presets/charts/', import.meta.url);
const projects = readdirSync(folder).flatMap((name) => {
  const read = readProject(readFileSync(new URL(name, folder), 'utf8'));
  return read.ok ? [read.value.project] : [];
});
const files = readHurtFiles(projects.map(writeProject), count, 1);
const links = await readHurtLinks(projects, count, 2);
console.log(JSON.stringify({ files, links }));
