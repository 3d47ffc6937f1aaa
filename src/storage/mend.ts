/** Places to break off at that are looked at: more than any chart file has. */
const MOST_PLACES = 50_000;
/** Deeper than any chart. */
const MOST_LEVELS = 20;

/**
 * A JSON object whose text breaks off or turns to nonsense, as far as it can be read: the string it
 * breaks off in is ended there, a field without a whole value is left out. Empty when nothing is left.
 */
export function mend(text: string): string {
  let closers = '';
  let inString = false;
  /** Places before a comma, each with what closes the text there. */
  const places: { readonly end: number; readonly closers: string }[] = [];
  let at = 0;
  for (; at < text.length; at++) {
    const char = text[at]!;
    if (inString && char === '\\') at += text[at + 1] === 'u' ? 5 : 1;
    else if (char === '"') inString = !inString;
    else if (inString) continue;
    else if (char === '{' || char === '[') closers = (char === '{' ? '}' : ']') + closers;
    else if (char === '}' || char === ']') closers = closers.slice(1);
    else if (char === ',' && places.length < MOST_PLACES) places.push({ end: at, closers });
    if (closers.length > MOST_LEVELS) return '';
  }
  const escapeBreaksOff = at > text.length;
  const string = `${escapeBreaksOff ? text.slice(0, text.lastIndexOf('\\')) : text}"`;
  // A number that stands last may lack digits.
  const ended = inString ? string : /[\]}"el]/.test(text.at(-1) ?? '') ? text : '';
  if (isJson(ended + closers)) return ended + closers;
  const upTo = (place: number) => text.slice(0, places[place]!.end) + places[place]!.closers;
  // What is whole up to one comma is whole up to each before it, so the last one can be found by halves.
  let whole = -1;
  let broken = places.length;
  while (broken - whole > 1) {
    const middle = (whole + broken) >> 1;
    if (isJson(upTo(middle))) whole = middle;
    else broken = middle;
  }
  return whole < 0 ? '' : upTo(whole);
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
