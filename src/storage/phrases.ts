/**
 * Phrases that many links have in common, each written as one control character: JSON has none of its
 * own, so that nothing is mistaken for one. The place of a phrase is part of the format and never
 * changes. Earlier phrases go first. Chosen by what they saved on `presets/charts` and sixteen
 * made-up charts: about a fifth of the link.
 */
const PHRASES: readonly string[] = Object.freeze([
  '{"c":"[A] ',
  '{"c":"',
  '","t":"',
  '","k":"',
  ' major"',
  ' minor"',
  '"b":{"T":1',
  '"b":{"T":',
  '"p":[{"K":"altered","B":',
  '},{"K":"altered","B":',
  '"r":[{"K":"altered","O":"falling-fifth"',
  '{"K":"',
  '"O":"falling-',
  ',"X":{"9":',
  ',"A":1,"L":',
  ',"A":3,"L":2',
  ',"W":{"E":2}',
  '}],"g":["',
  '],"w":"',
  ',"g":["',
  ',"w":"',
  'altered',
  ' | % | ',
  'maj7 | ',
  'm7 | ',
  '7alt | ',
  'm7b5 ',
  '7 | ',
  '\\n[',
  'the ',
  ' and ',
  'major',
]);

/** JSON with its phrases as single characters. */
export function pressPhrases(json: string): string {
  return PHRASES.reduce((text, phrase, code) => text.replaceAll(phrase, String.fromCharCode(code)), json);
}

/** The JSON again. */
export function openPhrases(text: string): string {
  // eslint-disable-next-line no-control-regex -- the control characters are the phrases' codes
  return text.replace(/[\0-\x1f]/g, (char) => PHRASES[char.charCodeAt(0)]!);
}
