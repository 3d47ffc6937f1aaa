/** How many places to break off at are tried, from the last one back; fewer where the text is long. */
const TRIES = 40;
const MOST_TRIED = 10_000_000;
/** Deeper than any chart. */
const MOST_LEVELS = 20;

/**
 * A JSON object whose text breaks off or turns to nonsense, as far as it can be read: the string it
 * breaks off in is ended there, a field without a whole value is left out. Empty when nothing is left.
 */
export function mend(text: string): string {
  const tries = Math.min(TRIES, Math.floor(MOST_TRIED / text.length));
  let closers = '';
  let inString = false;
  /** Places before a comma, each with what closes the text there. */
  let places: { readonly end: number; readonly closers: string }[] = [];
  let at = 0;
  for (; at < text.length; at++) {
    const char = text[at]!;
    if (inString && char === '\\') at += text[at + 1] === 'u' ? 5 : 1;
    else if (char === '"') inString = !inString;
    else if (inString) continue;
    else if (char === '{' || char === '[') closers = (char === '{' ? '}' : ']') + closers;
    else if (char === '}' || char === ']') closers = closers.slice(1);
    else if (char === ',') places.push({ end: at, closers });
    if (closers.length > MOST_LEVELS) return '';
    if (places.length >= 2 * TRIES) places = places.slice(-TRIES);
  }
  const escapeBreaksOff = at > text.length;
  const string = `${escapeBreaksOff ? text.slice(0, text.lastIndexOf('\\')) : text}"`;
  // A number that stands last may lack digits.
  const ended = inString ? string : /[\]}"el]/.test(text.at(-1) ?? '') ? text : '';
  const mended = places.map((place) => text.slice(0, place.end) + place.closers);
  return [...mended, ended + closers].reverse().slice(0, tries).find(isJson) ?? '';
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
