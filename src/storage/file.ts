import { ok, type Opened, type Project, type Result, type Trouble } from '../engine/index.ts';
import { MOST_CHARACTERS, parseObject, printObject } from './json.ts';
import { mend } from './mend.ts';
import { fromFile } from './read.ts';
import { toFile } from './write.ts';

/** What a chart file's name ends in. */
export const FILE_ENDING = '.vampwright.json';

/**
 * A project from the text of a chart file, of this version or an older one; of a newer one as much as
 * is understood; of one that breaks off or has a slip in it, what stands before. Each field is taken
 * for itself: what cannot be taken is named in the notices.
 * @returns the reason when it is no chart file at all; never throws
 */
export function readProject(text: string): Result<Opened, Trouble> {
  const parsed = parseObject(text);
  if (parsed.ok) return fromFile(parsed.value);
  if (text.length > MOST_CHARACTERS) return parsed;
  const mended = mend(text);
  const part = parseObject(mended);
  const opened = part.ok ? fromFile(part.value) : parsed;
  if (!opened.ok) return parsed;
  const { project, notices } = opened.value;
  const slip = {
    place: `line ${lineOfDifference(text, mended)}`,
    message: 'is where the file breaks off or has a slip; what comes after it was left out',
  };
  return ok({ project, notices: [slip, ...notices] });
}

function lineOfDifference(text: string, other: string): number {
  let at = 0;
  while (at < other.length && text[at] === other[at]) at++;
  return text.slice(0, at).split('\n').length;
}

/** The text of a chart file, readable by people; `readProject` gives the same project again. */
export function writeProject(project: Project): string {
  return printObject(toFile(project));
}
