/**
 * A JSON object whose text breaks off, closed so that it can be read: the string it breaks off in is
 * ended there, a field without a whole value is left out. The answer is JSON where the text before the
 * break was.
 */
export function mend(text: string): string {
  const closers: string[] = [];
  let inString = false;
  /** The text up to here, with its closers, is whole. */
  let safe = { end: 0, closers: '' };
  let at = 0;
  for (; at < text.length; at++) {
    const char = text[at]!;
    if (inString && char === '\\') at += text[at + 1] === 'u' ? 5 : 1;
    else if (char === '"') inString = !inString;
    else if (inString) continue;
    else if (char === '{' || char === '[') closers.unshift(char === '{' ? '}' : ']');
    else if (char === '}' || char === ']') closers.shift();
    else if (char === ',') safe = { end: at, closers: closers.join('') };
  }
  const escapeBreaksOff = at > text.length;
  const string = `${escapeBreaksOff ? text.slice(0, text.lastIndexOf('\\')) : text}"`;
  // A number that stands last may lack digits.
  const ended = inString ? string : /[\]}"el]/.test(text.at(-1) ?? '') ? text : '';
  const closed = ended + closers.join('');
  return isJson(closed) ? closed : text.slice(0, safe.end) + safe.closers;
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
