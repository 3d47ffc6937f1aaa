import { strFromU8, strToU8, unzipSync, zipSync, type UnzipFileInfo } from 'fflate';
import { fail, ok, type Result, type Trouble } from '../../engine/index.ts';
import { child, readTree } from './tree.ts';
import { element } from './xml.ts';

const CONTAINER = 'META-INF/container.xml';
const TYPE = 'application/vnd.recordare.musicxml';
/** More bytes than this no document has, packed or unpacked. */
const LARGEST = 24_000_000;

/** Where all files of a container begin to count time: a file is the same to the byte whenever it is made. */
const MADE = new Date(1980, 0, 1);

/** A document in the standard's compressed form, an `.mxl` file. */
export function pack(document: string): Uint8Array<ArrayBuffer> {
  const root = element('rootfile', { 'full-path': 'score.musicxml', 'media-type': `${TYPE}+xml` });
  const container =
    '<?xml version="1.0" encoding="UTF-8"?>\n' + element('container', {}, element('rootfiles', {}, root));
  const options = { mtime: MADE, level: 9 } as const;
  return zipSync({
    // The standard wants its type first and unpacked, so that a file tells what it is.
    mimetype: [strToU8(TYPE), { mtime: MADE, level: 0 }],
    [CONTAINER]: [strToU8(container), options],
    'score.musicxml': [strToU8(document), options],
  });
}

/** The document in a file's bytes, compressed or not. Nothing unpacks to more than any score is long. */
export function unpack(file: Uint8Array): Result<string, Trouble> {
  if (file.length > LARGEST) return fail(TOO_LARGE);
  const [p, k] = file;
  if (p !== 0x50 || k !== 0x4b) return ok(lettersOf(file));
  try {
    const names: string[] = [];
    unzipSync(file, { filter: (entry) => isSmall(entry) && names.push(entry.name) < 0 });
    const container = names.includes(CONTAINER) ? take(file, CONTAINER) : null;
    const { root } = readTree(container === null ? '' : lettersOf(container));
    const listed = child(child(root ?? undefined, 'rootfiles'), 'rootfile')?.attributes['full-path'];
    const score = [listed, ...names.filter(isScore)].find(
      (name) => name !== undefined && names.includes(name),
    );
    const document = score === undefined ? null : take(file, score);
    if (document !== null) return ok(lettersOf(document));
    return fail({ message: 'There is no music in this file.', remedy: 'Save it as MusicXML once more.' });
  } catch {
    return fail({ message: 'This file is damaged.', remedy: 'Save it as MusicXML once more.' });
  }
}

const TOO_LARGE: Trouble = {
  message: 'This file is larger than any score.',
  remedy: 'Save the part with the chord symbols alone.',
};

const isSmall = ({ originalSize }: UnzipFileInfo): boolean => originalSize <= LARGEST;
const isScore = (name: string): boolean => /\.(musicxml|xml)$/i.test(name) && !name.startsWith('META-INF/');

function take(file: Uint8Array, name: string): Uint8Array | null {
  let taken = false;
  const entries = unzipSync(file, {
    filter: (entry) => {
      const wanted = entry.name === name && isSmall(entry) && !taken;
      taken ||= wanted;
      return wanted;
    },
  });
  return entries[name] ?? null;
}

/** Bytes as letters, in the encoding they say they are in. */
function lettersOf(bytes: Uint8Array): string {
  const [first, second] = bytes;
  const marked =
    first === 0xff && second === 0xfe ? 'utf-16le' : first === 0xfe && second === 0xff ? 'utf-16be' : null;
  const head = strFromU8(bytes.subarray(0, 200), true);
  const declared = /^[^<]*<\?xml[^>]*encoding=["']([\w.-]+)["']/.exec(head)?.[1] ?? 'utf-8';
  try {
    return new TextDecoder(marked ?? declared).decode(bytes);
  } catch {
    return new TextDecoder().decode(bytes);
  }
}
