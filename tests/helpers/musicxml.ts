import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { validateXML } from 'xmllint-wasm';
import type { Bar, Chart, Slot } from '../../src/engine/index.ts';
import { REPO } from './files.ts';

const FILES = ['musicxml-local.xsd', 'xlink.xsd', 'xml.xsd'] as const;

/** The folder of the MusicXML 4.0 schema: beside the repository, or where `MUSICXML_XSD` says; null where it is absent. */
export function schemaFolder(): string | null {
  const folder = process.env['MUSICXML_XSD'] ?? join(REPO, '../shared/check/musicxml-4.0');
  return FILES.every((file) => existsSync(join(folder, file))) ? folder : null;
}

/** Why documents are not valid MusicXML 4.0, a line each; none when all are. */
export async function schemaErrors(
  folder: string,
  documents: readonly { readonly name: string; readonly document: string }[],
): Promise<readonly string[]> {
  const [schema, ...imports] = FILES.map((file) => ({
    fileName: file,
    contents: readFileSync(join(folder, file), 'utf8'),
  }));
  const { errors } = await validateXML({
    xml: documents.map(({ name, document }) => ({ fileName: `${name}.musicxml`, contents: document })),
    schema: [schema!],
    preload: imports,
    initialMemoryPages: 512,
  });
  return errors.map(({ rawMessage }) => rawMessage);
}

/** A chart by what it means, for two of them to be compared: nothing of how it was typed. */
export function meaning({ bars }: Chart) {
  return bars.map((bar) => ({
    metre: bar.metre,
    slots: bar.slots.map((slot) => heard(bar, slot)),
    simile: bar.simile,
    mark: bar.mark,
    repeatStart: bar.repeatStart,
    repeatEnd: bar.repeatEnd,
    ending: bar.ending,
    endingStart: bar.endingStart,
    signs: [...new Set(bar.signs)].toSorted(),
    note: bar.note,
    // A repeat ends a section as well: on paper its line is the same with and without.
    doubleEnd: bar.doubleEnd && bar.repeatEnd === 0,
  }));
}

function heard(bar: Bar, { at, length, chord, silence, optional }: Slot) {
  return {
    at,
    length,
    chord: chord && { root: chord.root, bass: chord.bass, degrees: chord.degrees, altered: chord.altered },
    silence,
    // What is held over from the bar before is optional only in name.
    optional: at === 0 && bar.simile === 0 ? null : optional,
  };
}
